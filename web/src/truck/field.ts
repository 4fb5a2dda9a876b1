// Fields of the truck's forms, drawn as the office's are, and read back with a sentence
// where something is no figure.
import { Refused } from "./engine";
import { h } from "./draw";

export interface Field {
  name: string;
  label: string;
  unit?: string;
  value?: string;
  hint?: string;
  kind?: "number" | "date" | "text" | "textarea" | "select";
  options?: [value: string, label: string][];
  optional?: boolean;
}

export function field(f: Field): HTMLElement {
  return h(
    "div",
    { class: "field", "data-field": f.name },
    h("label", { for: f.name }, f.label, f.optional && " ", f.optional && h("small", {}, "may be left empty")),
    h("div", { class: "entry" }, input(f), f.unit && h("span", { class: "unit" }, " ", f.unit)),
    f.hint && h("p", { class: "hint", id: `${f.name}-says` }, f.hint),
  );
}

function input(f: Field): HTMLElement {
  const carried = { id: f.name, name: f.name, "aria-describedby": f.hint && `${f.name}-says`, "aria-required": f.optional ? undefined : "true" };
  if (f.kind === "select") return h("select", carried, ...(f.options ?? []).map(([value, label]) => h("option", { value, selected: value === f.value }, label)));
  if (f.kind === "textarea") return h("textarea", { ...carried, rows: 3 }, f.value ?? "");
  if (f.kind === "date" || f.kind === "text") return h("input", { ...carried, type: f.kind, value: f.value ?? "" });
  return h("input", { ...carried, type: "text", class: "number", inputmode: "decimal", autocomplete: "off", value: f.value ?? "" });
}

/** Typed reads a form. */
export class Typed {
  constructor(private readonly form: HTMLFormElement) {}

  text(name: string): string {
    const field = this.form.elements.namedItem(name);
    return field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement || field instanceof HTMLSelectElement ? field.value.trim() : "";
  }

  /** number refuses what is no figure; an empty field is what unset says, else refused. */
  number(name: string, unset?: number): number {
    const text = this.text(name).replace(",", ".").replace(/[\s\u2009\u202f\u2060]/g, "");
    if (text === "" && unset !== undefined) return unset;
    if (!/^\d*\.?\d+$/.test(text)) throw new Refused(text === "" ? "Enter a figure." : `“${text}” is no figure: enter digits, with a point for parts.`, name);
    return Number(text);
  }
}

/** complain puts a refusal beside its field, or above the form where it names none of it. */
export function complain(form: HTMLFormElement, why: Refused): void {
  form.querySelectorAll(".error, .told.wrong").forEach((old) => old.remove());
  form.querySelectorAll(".wrong").forEach((old) => old.classList.remove("wrong"));
  const says = h("p", { class: "error", role: "alert" }, sentence(why.message));
  const at = why.field && form.querySelector(`[data-field="${CSS.escape(why.field)}"]`);
  if (at) {
    at.classList.add("wrong");
    at.append(says);
    at.querySelector<HTMLElement>("input, select, textarea")?.focus();
    return;
  }
  form.prepend(h("p", { class: "told wrong", role: "alert" }, sentence(why.message)));
  form.scrollIntoView();
}

const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1) + (/[.!?]$/.test(text) ? "" : ".");

/** form keeps what was typed when it is refused, and sends once. */
export function form(fields: Node[], button: string, keep: (typed: Typed) => Promise<void>, changed?: (typed: Typed) => void): HTMLFormElement {
  let busy = false;
  const whole: HTMLFormElement = h("form", { class: "entering", novalidate: true }, ...fields, h("button", { class: "big" }, button));
  whole.addEventListener("submit", (event) => {
    event.preventDefault();
    if (busy) return;
    busy = true;
    Promise.resolve(new Typed(whole))
      .then(keep) // what keep throws at once is a refusal too
      .catch((why: unknown) => complain(whole, why instanceof Refused ? why : new Refused(String(why), "")))
      .finally(() => (busy = false));
  });
  if (changed) whole.addEventListener("input", () => changed(new Typed(whole)));
  return whole;
}

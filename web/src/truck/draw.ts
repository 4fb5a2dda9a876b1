// Drawing without a framework: an element, what it carries, what stands in it.

type Child = Node | string | number | false | null | undefined;
type Carried = Record<string, string | number | boolean | ((event: Event) => void) | undefined>;

export function h<K extends keyof HTMLElementTagNameMap>(tag: K, carried: Carried = {}, ...children: (Child | Child[])[]): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(carried)) {
    if (typeof value === "function") element.addEventListener(name, value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== undefined && value !== false) element.setAttribute(name, String(value));
  }
  for (const child of children.flat()) {
    if (child !== null && child !== undefined && child !== false) element.append(child instanceof Node ? child : String(child));
  }
  return element;
}

/** grouped writes a figure with thin spaces between thousands, as the office does. */
export function grouped(value: number, decimals = 0): string {
  const [whole = "", rest] = Math.abs(value).toFixed(decimals).split(".");
  const parted = whole.replace(/\B(?=(\d{3})+$)/g, "\u2009");
  return (value < 0 && Number(value.toFixed(decimals)) !== 0 ? "−" : "") + parted + (rest ? "." + rest : "");
}

export const rowKm = (m: number): string => grouped(m / 1000, 2);

export const told = (text: string, wrong = false): HTMLElement =>
  h("p", { class: wrong ? "told wrong" : "told", role: wrong ? "alert" : "status" }, text);

export const big = (text: string, press: () => void, quiet = false): HTMLElement =>
  h("button", { type: "button", class: quiet ? "big quiet" : "big", click: press }, text);

/** count writes a count with its noun. */
export const count = (n: number, one: string, many = one + "s"): string => `${n} ${n === 1 ? one : many}`;

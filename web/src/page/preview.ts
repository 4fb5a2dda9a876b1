import { Follower } from "./follow";

/** Lets a picture follow a form: form[data-preview] names the address that answers with what
 *  its values would give, [data-follows] is what that answer is put into, and data-slide
 *  names the number fields that get a slider ("bearing_deg 0 360 1, alley_m 1 40 0.5"). */
export function previewForms(page: Document): void {
  for (const form of page.querySelectorAll<HTMLFormElement>("form[data-preview]")) {
    const shown = form.parentElement?.querySelector<HTMLElement>("[data-follows]");
    if (shown) follow(form, shown);
  }
}

function follow(form: HTMLFormElement, shown: HTMLElement): void {
  const follower = new Follower((asked: string) => show(`${form.dataset.preview}?${asked}`, shown));
  for (const slide of (form.dataset.slide ?? "").split(",")) {
    const [name, least, most, step] = slide.trim().split(" ");
    const field = form.querySelector<HTMLInputElement>(`input[name="${name}"]`);
    if (field && least && most && step) addSlider(field, least, most, step);
  }
  form.addEventListener("input", () => follower.ask(typed(form)));
}

function addSlider(field: HTMLInputElement, least: string, most: string, step: string): void {
  const slider = document.createElement("input");
  Object.assign(slider, { type: "range", min: least, max: most, step, className: "slider" });
  slider.value = field.value;
  slider.setAttribute("aria-label", `Slide: ${field.labels?.[0]?.firstChild?.textContent?.trim() ?? field.name}`);
  slider.addEventListener("input", () => (field.value = slider.value));
  field.addEventListener("input", () => (slider.value = field.value));
  field.closest(".entry")?.after(slider);
}

/** The form's values, without what guards a post. */
function typed(form: HTMLFormElement): string {
  const asked = new URLSearchParams();
  for (const [name, value] of new FormData(form)) {
    if (typeof value === "string" && name !== "csrf" && name !== "key") asked.set(name, value);
  }
  return asked.toString();
}

/** What was there stays when the office does not answer: the page says so once it is sent. */
async function show(address: string, shown: HTMLElement): Promise<void> {
  try {
    const answer = await fetch(address);
    if (!answer.ok) return;
    const unfolded = shown.querySelector("details")?.open ?? false;
    shown.innerHTML = await answer.text();
    const working = shown.querySelector("details");
    if (working) working.open = unfolded;
  } catch {
    return;
  }
}

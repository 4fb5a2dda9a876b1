// Draws a paddock's boundary on a map: outside, holes and no-go areas. Hectares come from the
// office while somebody draws, and what is drawn is kept there like a file.
import { Drawing } from "./draw/drawing";
import type { Start } from "./draw/ground";

const form = document.querySelector<HTMLFormElement>("form.drawing");
if (form) {
  form.hidden = false;
  new Drawing(form, JSON.parse(form.dataset.start ?? "") as Start);
}

// A note, with a photo where a picture says it sooner.
import type { App } from "./app";
import { atOffice, timeShown } from "./clock";
import { h, told } from "./draw";
import { Refused } from "./engine";
import { complain, field, form, type Typed } from "./field";
import type { Entry, TruckJob } from "./nouns";
import { keepPhoto, packed, scaled } from "./photos";
import { bar, warnings } from "./state";
import { undoneKeys } from "./undo";

export function notePage(app: App, job: TruckJob): (Node | false)[] {
  const id = job.Facts.Job.ID;
  const photo = new Photo();
  const keep = async (typed: Typed) => {
    const Text = typed.text("text");
    const content = photo.picture && (await packed(photo.picture));
    const note = app.make("note", id, { Text, ...(content ? { PhotoBytes: content.byteLength } : {}) });
    if (content) await keepPhoto(note.Key, content);
    await app.enter(note, content ? "The note and its photo are kept." : "The note is kept.", String(id));
  };
  return [
    bar(app, job.Facts.Job.Name, `#${id}`),
    ...warnings(app),
    h("h1", {}, "Note"),
    form([field({ name: "text", label: "What is to be remembered", kind: "textarea", optional: true }), photo.field()], "Keep the note", keep),
    ...soFar(app, job),
  ];
}

/** Photo is the one that goes with the note. */
class Photo {
  picture: HTMLCanvasElement | undefined;
  private readonly shown = h("div", { class: "shown", "aria-live": "polite" });

  field(): HTMLElement {
    return h(
      "div",
      { class: "field", "data-field": "photo" },
      h("p", { class: "ways" }, this.way("Take a photo", true), this.way("Choose a photo", false)),
      this.shown,
      h("p", { class: "hint" }, "It is made smaller; where and when it was taken stays out of it."),
    );
  }

  private way(words: string, camera: boolean): HTMLElement {
    const input = h("input", { type: "file", accept: "image/*", capture: camera && "environment", class: "under", "aria-label": words, change: () => void this.take(input) });
    return h("label", { class: "file" }, input, words);
  }

  private async take(input: HTMLInputElement): Promise<void> {
    const file = input.files?.[0];
    if (!file) return;
    try {
      this.picture = await scaled(file);
      input.closest(".field")?.querySelector(".error")?.remove();
      this.picture.setAttribute("role", "img");
      this.picture.setAttribute("aria-label", "The photo that goes with the note");
      const off = h("button", { type: "button", click: () => this.drop() }, "Leave the photo out");
      this.shown.replaceChildren(this.picture, off);
    } catch (why) {
      this.drop();
      const whole = input.closest("form");
      if (whole) complain(whole, why instanceof Refused ? why : new Refused(String(why), "photo"));
    }
    input.value = "";
  }

  private drop(): void {
    this.picture = undefined;
    this.shown.replaceChildren();
  }
}

/** soFar is what was noted on the job, newest first. */
function soFar(app: App, job: TruckJob): Node[] {
  const { day } = app.known;
  const undone = undoneKeys(app.known.queue);
  const here = app.applied().filter((e) => e.entry.JobID === job.Facts.Job.ID);
  const notes = [...(job.Kept ?? []), ...here.map((e) => atOffice(e.entry, app.known.ahead))].filter((e) => e.Kind === "note" && !undone.has(e.Key)).reverse();
  if (notes.length === 0 || !day) return [];
  return [h("h2", {}, "Noted so far"), ...notes.slice(0, 10).map((e) => told(`${timeShown(day, e.At)} ${noteSays(e)}`))];
}

const noteSays = (e: Entry): string => [e.Text, (e.PhotoBytes ?? 0) > 0 && "(with a photo)"].filter(Boolean).join(" ");

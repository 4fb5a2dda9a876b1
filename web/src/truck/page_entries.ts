// What was entered on this phone: what the office refused and why, what waits, what it has.
import type { App } from "./app";
import { change, replace } from "./book";
import { atOffice, timeShown } from "./clock";
import { big, h, told } from "./draw";
import type { Queued } from "./nouns";
import { bar, refused, stateSays, warnings } from "./state";
import { says, undoEntry, undoneKeys } from "./undo";

const shownAtMost = 50;

export function entriesPage(app: App): (Node | false)[] {
  const { queue } = app.known;
  const of = (state: Queued["state"]) => queue.filter((e) => e.state === state);
  return [
    bar(app, "Entries", "#"),
    ...warnings(app).slice(refused(queue).length > 0 ? 1 : 0),
    h("h1", {}, stateSays(queue) + "."),
    ...of("refused").map((one) => refusal(app, one)),
    ...list(app, "Waiting here", of("waiting")),
    ...list(app, "At the office", of("kept")),
    ...list(app, "Refused, and let go", of("let go")),
    big("Hand in now", () => void app.reachOffice().then(() => app.show()), true),
  ];
}

function refusal(app: App, one: Queued): HTMLElement {
  const again = (number?: number) => {
    const tub = one.entry.Tub && number ? { ...one.entry.Tub, Number: number } : one.entry.Tub;
    return replace(app.book, one, { ...one.entry, Key: crypto.randomUUID(), ...(tub ? { Tub: tub } : {}) }).then(() => app.reachOffice().then(() => app.show()));
  };
  const letGo = () => change(app.book, one.seq, { state: "let go" }).then(() => app.show());
  return h(
    "section",
    { class: "told wrong" },
    h("p", {}, `${named(app, one)}. ${one.told ?? ""}`),
    one.nextTub ? big(`Keep it as tub ${one.nextTub}`, () => void again(one.nextTub)) : big("Try it again", () => void again()),
    big(one.entry.Kind === "tub" ? "Undo mine" : "Let it go", () => void letGo(), true),
  );
}

function list(app: App, title: string, entries: Queued[]): Node[] {
  if (entries.length === 0) return [];
  const undone = undoneKeys(app.known.queue);
  const shown = entries.slice(-shownAtMost).reverse();
  return [
    h("h2", {}, title),
    ...(entries.length > shown.length ? [told(`The last ${shown.length} of ${entries.length}.`)] : []),
    h("ul", { class: "entries" }, ...shown.map((one) => row(app, one, undone.has(one.key)))),
  ];
}

function row(app: App, one: Queued, undone: boolean): HTMLElement {
  const may = !undone && one.state !== "let go" && one.entry.Kind !== "undo";
  return h("li", {}, h("span", {}, named(app, one) + (undone ? ", undone" : "")), may && h("button", { type: "button", click: () => void undoEntry(app, one) }, "Undo"));
}

function named(app: App, one: Queued): string {
  const { day, ahead } = app.known;
  const name = day?.Jobs.find((j) => j.Facts.Job.ID === one.entry.JobID)?.Facts.Job.Name;
  const what = says(one.entry);
  return `${day ? timeShown(day, atOffice(one.entry, ahead).At) : ""} ${what.charAt(0).toUpperCase()}${what.slice(1)}${name ? ", " + name : ""}`;
}

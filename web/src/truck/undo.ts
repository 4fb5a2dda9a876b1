// What can be taken back: the last tub, the catch test that counts, and whatever was
// entered last.
import type { App } from "./app";
import { grouped, rowKm } from "./draw";
import type { DrillLoad, Entry, Kind, Queued, Tub } from "./nouns";

/** undoneKeys are the entries that a later one takes back. */
export function undoneKeys(queue: Queued[]): Set<string> {
  return new Set(queue.filter((e) => e.state === "waiting" || e.state === "kept").flatMap((e) => e.entry.Undoes?.Key ?? []));
}

/** whose finds the entry behind a noun that the engine numbered below zero. */
function undoOf(app: App, jobID: number, kind: Kind, id: number): Entry {
  const key = id < 0 ? app.applied()[-id - 1]?.key : undefined;
  return app.make("undo", jobID, { Undoes: key ? { Key: key } : { Kind: kind, ID: id } });
}

export const undoTub = (app: App, jobID: number, tub: Tub) => app.enter(undoOf(app, jobID, "tub", tub.ID), `Tub ${tub.Number} is undone.`);

export const undoCatch = (app: App, jobID: number, id: number) => app.enter(undoOf(app, jobID, "catch test", id), "The catch test is undone.");

export const undoCleanOut = (app: App, jobID: number, id: number) => app.enter(undoOf(app, jobID, "clean-out", id), "The clean-out is undone.");

export const undoDrill = (app: App, jobID: number, id: number) => app.enter(undoOf(app, jobID, "drill load", id), "The drill load is undone.");

/** loadKg is the seed of a load, all lots together. */
export const loadKg = (load: DrillLoad | undefined): string => grouped((load?.Lots ?? []).reduce((sum, one) => sum + one.Grams, 0) / 1000, 1);

export function undoEntry(app: App, one: Queued) {
  return app.enter(app.make("undo", one.entry.JobID, { Undoes: { Key: one.key } }), `Undone: ${says(one.entry)}.`);
}

/** lastUndoable is the last entry of a job that is not undone, other than what has an undo of its own. */
export function lastUndoable(app: App, jobID: number): Queued | undefined {
  const undone = undoneKeys(app.known.queue);
  const own: Kind[] = ["tub", "catch test", "clean-out", "drill load", "undo"];
  return app.known.queue
    .filter((e) => e.entry.JobID === jobID && !own.includes(e.entry.Kind) && !undone.has(e.key) && (e.state === "waiting" || e.state === "kept"))
    .at(-1);
}

/** says tells an entry in a few words. */
export function says(e: Entry): string {
  switch (e.Kind) {
    case "tub":
      return `tub ${e.Tub?.Number ?? ""}`;
    case "day sheet":
      return `day sheet, ${rowKm(e.Day?.RowM ?? 0)} row-km`;
    case "meter":
      return `meter at ${grouped((e.Meter?.Minutes ?? 0) / 60, 1)} h`;
    case "hopper":
      return `${grouped(e.Hopper?.LeftL ?? 0)} L left at ${rowKm(e.Hopper?.RowM ?? 0)} row-km`;
    case "clean-out":
      return `clean-out, ${grouped((e.Remains?.MixML ?? 0) / 1000, 1)} L ${e.Remains?.Kept ? "kept" : "thrown away"}`;
    case "drill load":
      return `drill load, ${loadKg(e.Drill)} kg`;
    case "count":
      return `${e.Count?.Kind ?? ""} count, ${e.Count?.Stretches.length ?? 0} places`;
    case "fuel":
      return `${grouped((e.FuelML ?? 0) / 1000, 1)} L of fuel`;
    case "note":
      return e.PhotoBytes ? (e.Text ? `note with a photo: ${e.Text}` : "a photo") : `note: ${e.Text ?? ""}`;
    case "undo":
      return "an undo";
    default:
      return e.Kind;
  }
}

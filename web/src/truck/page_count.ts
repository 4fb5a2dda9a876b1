// A count: the places of the plan one by one, with the way to each by the phone's own
// satellite fix, then the whole count kept at once. What is filled in so far outlasts a
// reload.
import type { App } from "./app";
import { mark, setMark } from "./book";
import { big, h, told } from "./draw";
import { ask, Refused } from "./engine";
import { field, form, type Typed } from "./field";
import type { CountAhead, Counted, TruckJob } from "./nouns";
import { bar, warnings } from "./state";

/** Filled is what was counted so far, by the place's number. */
type Filled = Record<number, { Placements: number; Occupied: number }>;

const markOf = (job: TruckJob, ahead: CountAhead) => `count ${job.Facts.Job.ID} ${ahead.PlanID} ${ahead.Kind}`;

export async function countPage(app: App, job: TruckJob, number: number): Promise<(Node | false)[]> {
  const id = job.Facts.Job.ID;
  const ahead = app.view(job).Count;
  if (!ahead) return [bar(app, job.Facts.Job.Name, `#${id}`), ...warnings(app), h("h1", {}, "Count"), told("No count is to come here: no places are drawn, or both counts are taken.")];
  const filled = await mark<Filled>(app.book, markOf(job, ahead), {});
  return number > 0 && number <= (ahead.Places?.length ?? 0) ? placePage(app, job, ahead, filled, number) : wholePage(app, job, ahead, filled);
}

function placePage(app: App, job: TruckJob, ahead: CountAhead, filled: Filled, number: number): (Node | false)[] {
  const id = job.Facts.Job.ID;
  const last = number >= (ahead.Places?.length ?? 0);
  const before = filled[number];
  const keep = async (typed: Typed) => {
    const Occupied = whole(typed, "occupied");
    const Placements = whole(typed, "placements");
    if (Placements < 1 || Occupied > Placements) throw new Refused(`${Occupied} of ${Placements} placements are occupied: enter no more than were looked at.`, "occupied");
    await setMark(app.book, markOf(job, ahead), { ...filled, [number]: { Placements, Occupied } });
    (document.activeElement as HTMLElement | null)?.blur();
    app.go(last ? `${id}/count` : `${id}/count/${number + 1}`);
  };
  return [
    bar(app, job.Facts.Job.Name, `#${id}/count`),
    ...warnings(app),
    h("h1", {}, `Place ${number} of ${ahead.Places?.length ?? 0}`),
    told(sentence(ahead.Places?.[number - 1] ?? "")),
    guide(job, number),
    form(
      [
        field({ name: "occupied", label: "Occupied", value: before ? String(before.Occupied) : "" }),
        field({ name: "placements", label: "Looked at", value: String(before?.Placements ?? ahead.PerStretch) }),
      ],
      last ? "Keep, and to the end" : "Keep, and to the next",
      keep,
    ),
    h("p", { class: "ways" }, number > 1 && h("a", { href: `#${id}/count/${number - 1}` }, "Place before"), !last && h("a", { href: `#${id}/count/${number + 1}` }, "Next place")),
  ];
}

let watching: number | undefined;

/** guide leads to a place while its page is shown: distance and direction, by the engine. */
function guide(job: TruckJob, number: number): HTMLElement {
  const says = h("p", { class: "told", role: "status" }, "Waiting for the phone's satellite fix.");
  const box = h("div", {}, says);
  if (watching !== undefined) navigator.geolocation.clearWatch(watching);
  watching = undefined;
  if (!("geolocation" in navigator)) {
    says.textContent = "This phone tells no place. Go by the row and the metres.";
    return box;
  }
  const mine = navigator.geolocation.watchPosition(
    ({ coords }) => {
      if (says.isConnected === false && says.dataset.shown) return navigator.geolocation.clearWatch(mine);
      if (says.isConnected) says.dataset.shown = "yes";
      try {
        says.textContent = ask<{ Says: string }>("toward", job, { Place: number, Here: { Lat: coords.latitude, Lon: coords.longitude, WithinM: coords.accuracy } }).Says;
      } catch (why: unknown) {
        says.textContent = why instanceof Error ? why.message : String(why);
      }
    },
    () => (says.textContent = "The phone gives no place: allow it, or go by the row and the metres."),
    { enableHighAccuracy: true, maximumAge: 2000 },
  );
  watching = mine;
  return box;
}

function wholePage(app: App, job: TruckJob, ahead: CountAhead, filled: Filled): (Node | false)[] {
  const id = job.Facts.Job.ID;
  const places = ahead.Places ?? [];
  const species = ahead.Species ?? [];
  const first = places.findIndex((_, i) => !filled[i + 1]) + 1;
  const keep = async (typed: Typed) => {
    const apart = species.some((_, i) => typed.text(`seen_${i}`) !== "");
    const Count: Counted = {
      PlanID: ahead.PlanID,
      Kind: ahead.Kind,
      CountedOn: typed.text("counted_on"),
      CountedBy: typed.text("counted_by"),
      Stretches: Object.entries(filled).map(([place, one]) => ({ Place: Number(place), ...one })),
      Seen: apart ? species.map((s, i) => ({ Species: s.Species, Placements: whole(typed, `seen_${i}`) })) : null,
      Volunteers: typed.text("volunteers"),
      Note: typed.text("note"),
    };
    const name = markOf(job, ahead); // of what is ahead now: the next count begins empty
    await app.enter(app.make("count", id, { Count }), "The count is kept.", String(id));
    await setMark(app.book, name, {});
  };
  return [
    bar(app, job.Facts.Job.Name, `#${id}`),
    ...warnings(app),
    h("h1", {}, ahead.Kind === "first" ? "First count" : "Autumn count"),
    told(`${Object.keys(filled).length} of ${places.length} places are counted.`),
    first > 0 && big(`To place ${first}`, () => app.go(`${id}/count/${first}`)),
    h(
      "ul",
      { class: "entries" },
      ...places.map((says, i) => h("li", {}, h("a", { href: `#${id}/count/${i + 1}` }, `${i + 1} · ${says}`), h("b", {}, shown(filled[i + 1])))),
    ),
    form(
      [
        field({ name: "counted_on", label: "Counted on", kind: "date", value: app.today() }),
        field({ name: "counted_by", label: "Counted by", kind: "text", value: app.known.day?.Person ?? "" }),
        ...species.map((s, i) => field({ name: `seen_${i}`, label: `Placements with ${s.CommonName}`, optional: true, hint: "Over all places, where species were told apart. Then fill in every species." })),
        field({ name: "volunteers", label: "What came by itself, left out", kind: "text", optional: true }),
        field({ name: "note", label: "Note", kind: "textarea", optional: true }),
      ],
      "Keep the count",
      keep,
    ),
    ...(ahead.How ?? []).map((text) => told(text)),
    ...(ahead.Cautions ?? []).map((text) => h("p", { class: "caution" }, text)),
  ];
}

const shown = (one: { Placements: number; Occupied: number } | undefined): string => (one ? `${one.Occupied} of ${one.Placements}` : "–");

/** whole reads a whole number; anything else is refused beside its field. */
function whole(typed: Typed, name: string): number {
  const n = typed.number(name);
  if (!Number.isInteger(n)) throw new Refused("Placements are counted: enter a whole number.", name);
  return n;
}

const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1) + ".";

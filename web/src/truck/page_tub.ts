// One job: the next tub, part by part, and what else is done beside it.
import type { App, Ticks } from "./app";
import { mark, setMark } from "./book";
import { big, grouped, h, rowKm, told } from "./draw";
import type { TruckJob, View } from "./nouns";
import { lotLabel } from "./label";
import { bar, warnings } from "./state";
import { lastUndoable, loadKg, says, undoCatch, undoCleanOut, undoDrill, undoEntry, undoTub } from "./undo";

interface Part {
  code: string;
  name: string;
  amount: string;
  unit: string;
  digits: number;
}

/** partsOf is the next tub in the order of adding: the seed, then medium up to the line. */
function partsOf(view: View): Part[] {
  const tub = view.Sheet.Tubs?.[0];
  if (!tub) return [];
  const seed = (view.Sheet.Lots ?? []).map((lot, i) => weighed(lot.Code, lot.Name, tub.Grams[i] ?? 0));
  return [...seed, { code: "", name: `in all: add ${view.Sheet.Medium} up to the line`, amount: grouped(tub.MixL, 1), unit: "L", digits: String(Math.trunc(tub.MixL * 10)).length }];
}

const weighed = (code: string, name: string, g: number): Part => ({ code, name, amount: grouped(g), unit: "g", digits: String(Math.trunc(g)).length });

export async function tubPage(app: App, job: TruckJob): Promise<(Node | false | null)[]> {
  const view = app.view(job);
  const id = job.Facts.Job.ID;
  return [
    bar(app, job.Facts.Job.Name, "#"),
    ...warnings(app),
    ...(await tub(app, job, view)),
    view.Tub === null && h("h1", {}, "No tub to mix"),
    view.Cannot !== "" && told(sentence(view.Cannot), job.Facts.Recipe !== null),
    view.Drill !== null && told(`The drill is loaded for ${grouped(view.Drill.LoadedHa, 1)} of ${grouped(view.Drill.Ha, 1)} ha.`),
    ...found(job, view),
    ...runsOut(view),
    view.Standby.Since !== null && told(`Standing by since ${new Date(view.Standby.Since).toLocaleTimeString("en-AU", { hour: "numeric", minute: "2-digit", timeZone: app.known.day?.Zone || "UTC", hour12: false })}.`),
    ways(id, view, job.Facts.Recipe !== null),
    ...undos(app, id, view),
    ...(view.Sheet.Cautions ?? []).map((text) => h("p", { class: "caution" }, text)),
  ];
}

async function tub(app: App, job: TruckJob, view: View): Promise<Node[]> {
  const next = view.Sheet.Tubs?.[0];
  if (!view.Tub || !next) return [];
  const parts = partsOf(view);
  const name = `ticks ${job.Facts.Job.ID} ${next.Number}`;
  const amounts = parts.map((p) => p.code + p.amount).join();
  const ticks = await ticksOf(app, name, amounts);
  const tick = async (at: number, on: boolean) => {
    ticks[at] = on;
    app.wrong = app.notice = "";
    await setMark(app.book, name, { amounts, ticks });
    await app.show();
  };
  const lacking = () => parts.findIndex((_, i) => !ticks[i]);
  const now = lacking();
  const mixed = async () => {
    if (lacking() >= 0) {
      app.wrong = `${parts[lacking()]?.code || "The medium"} is not ticked yet. Add it and tick it first.`;
      return app.show();
    }
    await app.enter(app.make("tub", job.Facts.Job.ID, { Tub: { ...view.Tub!, MixedAt: new Date().toISOString() } }), `Tub ${next.Number} is mixed.`);
  };
  const wants = parts[now];
  return [
    h("h1", {}, `Tub ${next.Number}${view.LastTub > next.Number ? ` of ${view.LastTub}` : ""}`),
    h("p", {}, `${grouped(next.MixL, 1)} L to the line, lasts ${rowKm(next.RowM)} row-km`),
    ...(view.Sheet.Short ? [told(view.Sheet.Short, true)] : []),
    h(
      "form",
      { submit: (e) => (e.preventDefault(), void mixed()) },
      h("ol", { class: "load" }, ...parts.map((part, i) => line(part, ticks[i] === true, (on) => void tick(i, on)))),
      h("button", { class: "big" }, `Tub ${next.Number} is mixed`),
    ),
    ...(wants?.code ? [lotLabel(app, { Lot: wants.code, Job: job.Facts.Job.Code, Tub: next.Number }, () => void tick(now, true))] : []),
  ];
}

/** ticksOf is what is in already. When the recipe changed, everything is weighed again. */
async function ticksOf(app: App, name: string, amounts: string): Promise<boolean[]> {
  const none: Ticks = { amounts, ticks: [] };
  if (!app.ticks.has(name)) app.ticks.set(name, await mark(app.book, name, none));
  if (app.ticks.get(name)?.amounts !== amounts) app.ticks.set(name, none);
  return app.ticks.get(name)?.ticks ?? none.ticks;
}

function line(part: Part, ticked: boolean, tick: (on: boolean) => void): HTMLElement {
  const box = h("input", { type: "checkbox", checked: ticked, change: (e) => tick((e.target as HTMLInputElement).checked) });
  return h(
    "li",
    { class: "now" },
    h("b", { class: "weight" + (part.digits > 3 ? ` d${Math.min(part.digits, 5)}` : "") }, part.amount),
    " ",
    h("label", { class: "tick" }, box, h("span", {}, h("u", {}, part.unit), " ", part.code && h("b", {}, part.code), " ", part.name)),
  );
}

function found(job: TruckJob, view: View): Node[] {
  const m = view.Metering;
  if (!m) return [];
  const meant = grouped(job.Facts.Recipe?.PlacementML ?? 0, 1);
  const off = m.within_tolerance ? "Within the tolerance." : `${m.deviation_percent > 0 ? "Heavy" : "Light"} by ${grouped(m.deviation_percent)} %: the tubs follow it.`;
  return [told(`Catch test: ${grouped(m.placement_volume_ml, 1)} mL a placement for ${meant} intended. ${off}`)];
}

function runsOut(view: View): Node[] {
  const out = view.RunOut;
  if (!out) return [];
  return [...(out.Warning ? [told(out.Warning, true)] : []), told(out.Says)];
}

function ways(id: number, view: View, mixes: boolean): Node {
  const standing = view.Standby.Since !== null;
  const way = (hash: string, text: string) => h("a", { href: `#${id}/${hash}` }, text);
  return h(
    "p",
    { class: "ways" },
    mixes && way("hopper", "How far"),
    mixes && way("catch", "Catch test"),
    way("standby", standing ? "Go on working" : "Standing by"),
    way("fuel", "Fuel"),
    way("meter", "Read a meter"),
    view.Mixed !== null && way("clean-out", "Clean-out"),
    view.Drill !== null && way("drill", "Load the drill"),
    view.Count !== null && way("count", view.Count.Kind === "first" ? "First count" : "Autumn count"),
    way("day", "Day sheet"),
    way("note", "Note"),
    h("a", { href: "#" }, "Other jobs"),
  );
}

function undos(app: App, id: number, view: View): (Node | false)[] {
  const last = lastUndoable(app, id);
  const mixed = view.Mixed;
  const cleaned = view.CleanOut;
  const loaded = view.Loaded;
  const caught = view.Catch;
  return [
    mixed !== null && big(`Undo tub ${mixed.Number}`, () => void undoTub(app, id, mixed), true),
    cleaned !== null && big(`Undo the clean-out of ${grouped(cleaned.MixML / 1000, 1)} L`, () => void undoCleanOut(app, id, cleaned.ID), true),
    loaded !== null && big(`Undo the drill load of ${loadKg(loaded)} kg`, () => void undoDrill(app, id, loaded.ID), true),
    caught !== null && big("Undo the catch test", () => void undoCatch(app, id, caught.ID), true),
    last !== undefined && big(`Undo ${says(last.entry)}`, () => void undoEntry(app, last), true),
  ];
}

const sentence = (text: string): string => (text.endsWith(".") ? text : text + ".");

// The drill: what of the understorey's lots goes into it at once.
import type { App } from "./app";
import { grouped, h, told } from "./draw";
import { Refused } from "./engine";
import { field, form, type Typed } from "./field";
import type { DrillLine, TruckJob } from "./nouns";
import { bar, warnings } from "./state";

const left = (line: DrillLine): number => Math.max(0, line.Need - line.Loaded);
const kg = (g: number): string => (g / 1000).toFixed(3);

export function drillPage(app: App, job: TruckJob): (Node | false)[] {
  const id = job.Facts.Job.ID;
  const drill = app.view(job).Drill;
  const head = [bar(app, job.Facts.Job.Name, `#${id}`), ...warnings(app), h("h1", {}, "Load the drill")];
  if (!drill) return [...head, told("No understorey is chosen for this job, so nothing goes into the drill.")];
  const lines = drill.Lines ?? [];
  const leftHa = Math.max(0, drill.Ha - drill.LoadedHa);
  const keep = async (typed: Typed) => {
    const Lots = lines.map((line) => ({ LotID: line.LotID, Grams: Math.round(1000 * typed.number(`kg_${line.LotID}`, 0)) })).filter((one) => one.Grams > 0);
    const held = lines.find((line) => line.OnHold && Lots.some((one) => one.LotID === line.LotID));
    if (held) throw new Refused(`${held.Code} is on hold: ${held.OnHold}. Leave it out of the drill.`, `kg_${held.LotID}`);
    const load = { Ha: typed.number("ha"), Note: typed.text("note"), Lots };
    await app.enter(app.make("drill load", id, { Drill: load }), "The drill is loaded.", String(id));
  };
  return [
    ...head,
    told(`Loaded for ${grouped(drill.LoadedHa, 1)} of ${grouped(drill.Ha, 1)} ha.`),
    form(
      [
        ...lines.map((line) => lotField(line)),
        field({ name: "ha", label: "Meant for", unit: "ha", value: leftHa >= 0.05 ? leftHa.toFixed(1) : "" }),
        field({ name: "note", label: "Note", kind: "text", optional: true }),
      ],
      "The drill is loaded",
      keep,
    ),
  ];
}

function lotField(line: DrillLine): HTMLElement {
  const hint = line.OnHold ? `On hold: ${line.OnHold}. Nothing may be sown from it.` : `${grouped(line.Loaded / 1000, 1)} of ${grouped(line.Need / 1000, 1)} kg are loaded.`;
  const value = left(line) > 0 && !line.OnHold ? kg(left(line)) : "";
  return field({ name: `kg_${line.LotID}`, label: `${line.Code} ${line.Name}`, unit: "kg", value, hint, optional: true });
}

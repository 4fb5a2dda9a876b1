// The catch test: every outlet caught on its own, three runs, the run told in wheel turns.
import type { App } from "./app";
import { ask, Refused } from "./engine";
import { grouped, h, told } from "./draw";
import { field, form, Typed } from "./field";
import type { CatchTrial, Tried, TruckJob } from "./nouns";
import { bar, warnings } from "./state";

const runs = 3;

export function catchPage(app: App, job: TruckJob, outlets: number): (Node | false)[] {
  const id = job.Facts.Job.ID;
  const machine = (app.known.day?.Machines ?? []).find((m) => m.WheelM > 0 && m.Rows > 0);
  const count = outlets || machine?.Rows || 1;
  const found = h("div", { "aria-live": "polite" });
  const show = (typed: Typed) => {
    try {
      found.replaceChildren(...says(ask<Tried>("catch", job, { Entries: app.entries(), Trial: trialOf(typed, count) }), job));
    } catch {
      found.replaceChildren(); // not all is typed yet
    }
  };
  const keep = async (typed: Typed) => {
    const trial = trialOf(typed, count);
    ask<Tried>("catch", job, { Entries: app.entries(), Trial: trial });
    await app.enter(app.make("catch test", id, { Catch: trial }), "Catch test kept. The tubs follow it.", String(id));
  };
  const number = (n: number) => h("a", { href: `#${id}/catch/${n}` }, n > count ? "One outlet more" : "One outlet less");
  return [
    bar(app, job.Facts.Job.Name, `#${id}`),
    ...warnings(app),
    h("h1", {}, "Catch test"),
    told(`Catch what each outlet drops over the same run at working speed, ${runs} times, with the real mix. Intended: ${grouped(job.Facts.Recipe?.PlacementML ?? 0, 1)} mL a placement.`),
    form(
      [
        field({ name: "turns", label: "Wheel turns in one run", unit: "turns", value: "10" }),
        field({ name: "wheel_m", label: "The loaded wheel, one turn", unit: "m", value: machine ? String(machine.WheelM) : "" }),
        field({ name: "placements", label: "Placements of one outlet in one run", optional: true, hint: "As counted. Left empty, the spacing is taken as planned." }),
        ...Array.from({ length: count }, (_, outlet) => outletFields(outlet)),
        found,
      ],
      "Keep the catch",
      keep,
      show,
    ),
    h("p", { class: "ways" }, number(count + 1), count > 1 && number(count - 1)),
  ];
}

function outletFields(outlet: number): HTMLElement {
  const name = (run: number) => `ml_${outlet}_${run}`;
  return h(
    "fieldset",
    { class: "outlet", "data-field": `outlet_${outlet}` },
    h("legend", {}, `Outlet ${outlet + 1}, mL caught`),
    ...Array.from({ length: runs }, (_, run) =>
      h("div", { class: "entry", "data-field": name(run) }, h("input", { id: name(run), name: name(run), class: "number", inputmode: "decimal", autocomplete: "off", "aria-label": `Outlet ${outlet + 1}, run ${run + 1}, mL` })),
    ),
  );
}

function trialOf(typed: Typed, outlets: number): CatchTrial {
  const placements = typed.number("placements", 0);
  if (!Number.isInteger(placements)) throw new Refused("Placements are counted: enter a whole number.", "placements");
  return {
    Turns: typed.number("turns"),
    WheelM: typed.number("wheel_m"),
    Placements: placements,
    CaughtML: Array.from({ length: outlets }, (_, outlet) => Array.from({ length: runs }, (_, run) => typed.number(`ml_${outlet}_${run}`))),
  };
}

function says(tried: Tried, job: TruckJob): Node[] {
  const m = tried.Metering;
  const off = m.within_tolerance ? "Within the tolerance." : `${m.deviation_percent > 0 ? "Heavy" : "Light"} by ${grouped(Math.abs(m.deviation_percent))} %.`;
  return [
    told(`${grouped(m.placement_volume_ml, 1)} mL a placement for ${grouped(job.Facts.Recipe?.PlacementML ?? 0, 1)} intended. ${off} Meter setting × ${grouped(m.new_setting_factor, 2)} would mend it. A tub lasts ${grouped(m.row_km_per_tub, 2)} row-km.`),
    told(`A placement every ${grouped(tried.Catch.SpacingM, 2)} m. ${tried.Spread.OutletML.map((ml, i) => `Outlet ${i + 1}: ${grouped(ml)} mL`).join(", ")}. ${tried.Spread.Says}`),
  ];
}

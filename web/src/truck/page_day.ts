// The day sheet: what one machine did today, begun with what was entered through the day.
import type { App } from "./app";
import { h, told } from "./draw";
import { field, form, type Typed } from "./field";
import type { Machine, TruckJob } from "./nouns";
import { machineOptions } from "./page_forms";
import { bar, warnings } from "./state";

export function dayPage(app: App, job: TruckJob): (Node | false)[] {
  const id = job.Facts.Job.ID;
  const machines = app.known.day?.Machines ?? [];
  const likely = likelyMachine(job, machines);
  const view = app.view(job);
  const keep = async (typed: Typed) => {
    const minutes = (name: string) => Math.round(60 * typed.number(name));
    const Day = {
      MachineID: Number(typed.text("machine")),
      Day: typed.text("day"),
      MeterFromMin: minutes("meter_from"),
      MeterToMin: minutes("meter_to"),
      RowM: 1000 * typed.number("row_km"),
      Placements: Math.round(typed.number("placements", 0)),
      FuelML: Math.round(1000 * typed.number("fuel_l", 0)),
      StandbyMin: Math.round(typed.number("standby_min", 0)),
      Note: typed.text("note"),
    };
    await app.enter(app.make("day sheet", id, { Day }), "Day sheet kept.", String(id));
  };
  return [
    bar(app, job.Facts.Job.Name, `#${id}`),
    ...warnings(app),
    h("h1", {}, "Day sheet"),
    told("One sheet a day for each machine that drives. What it pulls goes with it, without a sheet of its own."),
    form(
      [
        field({ name: "machine", label: "Machine", kind: "select", options: machineOptions(machines), value: String(likely?.ID ?? "") }),
        field({ name: "day", label: "Day", kind: "date", value: app.today() }),
        field({ name: "meter_from", label: "Meter at the start", unit: "h", value: likely ? (likely.MeterMin / 60).toFixed(1) : "" }),
        field({ name: "meter_to", label: "Meter at the end", unit: "h" }),
        field({ name: "row_km", label: "Sown", unit: "row-km", hint: "Each row counted: a twin machine sows 2 row-km in 1 driven km." }),
        field({ name: "placements", label: "Placement counter, today's count", optional: true, hint: "All rows together; leave it empty where it was not read." }),
        field({ name: "fuel_l", label: "Fuel put in", unit: "L", optional: true, value: view.FuelML > 0 ? String(view.FuelML / 1000) : "" }),
        field({ name: "standby_min", label: "Stood waiting", unit: "min", optional: true, value: view.Standby.Minutes > 0 ? String(view.Standby.Minutes) : "" }),
        field({ name: "note", label: "Note", kind: "textarea", optional: true }),
      ],
      "Keep the day",
      keep,
    ),
  ];
}

/** likelyMachine is that of the job's last sheet, else the one that has run most. */
function likelyMachine(job: TruckJob, machines: Machine[]): Machine | undefined {
  const last = job.Facts.DaySheets?.at(-1);
  return machines.find((m) => m.ID === last?.MachineID) ?? [...machines].sort((a, b) => b.MeterMin - a.MeterMin)[0];
}

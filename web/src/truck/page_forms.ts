// The small forms of one job: how far, fuel, a meter, standing by.
import type { App } from "./app";
import { big, h, rowKm, told } from "./draw";
import { Refused } from "./engine";
import { field, form, type Typed } from "./field";
import type { Kind, Machine, TruckJob } from "./nouns";
import { bar, warnings } from "./state";

const head = (app: App, job: TruckJob, title: string): (Node | false)[] => [
  bar(app, job.Facts.Job.Name, `#${job.Facts.Job.ID}`),
  ...warnings(app),
  h("h1", {}, title),
];

/** then enters and goes back to the job. */
async function then(app: App, job: TruckJob, kind: Kind, what: object, notice: string): Promise<void> {
  await app.enter(app.make(kind, job.Facts.Job.ID, what), notice, String(job.Facts.Job.ID));
}

export function hopperPage(app: App, job: TruckJob): (Node | false)[] {
  const out = app.view(job).RunOut;
  const keep = (typed: Typed) =>
    then(app, job, "hopper", { Hopper: { LeftL: typed.number("left_l"), RowM: 1000 * typed.number("row_km") } }, "The level is kept.");
  return [
    ...head(app, job, "How far"),
    ...(out?.Warning ? [told(out.Warning, true)] : []),
    out !== null && told(out.Says),
    form(
      [
        field({ name: "left_l", label: "Mix left, all hoppers together", unit: "L" }),
        field({ name: "row_km", label: "Sown on this job so far", unit: "row-km", value: out && out.SownM > 0 ? rowKm(out.SownM) : "", hint: "Each row counted: a twin machine sows 2 row-km in 1 driven km." }),
      ],
      "Keep the level",
      keep,
    ),
  ];
}

export function fuelPage(app: App, job: TruckJob): (Node | false)[] {
  const keep = (typed: Typed) => {
    const litres = typed.number("fuel_l");
    return then(app, job, "fuel", { FuelML: Math.round(1000 * litres) }, `${litres} L of fuel is kept; today's day sheet begins with it.`);
  };
  return [...head(app, job, "Fuel"), form([field({ name: "fuel_l", label: "Fuel put in", unit: "L" })], "Keep the fuel", keep)];
}

export function standbyPage(app: App, job: TruckJob): (Node | false)[] {
  const { Since, Minutes } = app.view(job).Standby;
  const press = (kind: Kind, notice: string) => void then(app, job, kind, {}, notice);
  return [
    ...head(app, job, "Standing by"),
    told(Since === null ? `No wait is going on. ${Minutes} min waited today.` : "The clock is running."),
    Since === null
      ? big("Start the clock", () => press("standby start", "The standby clock runs."))
      : big("Stop the clock", () => press("standby stop", "The standby clock stands.")),
  ];
}

export const machineOptions = (machines: Machine[]): [string, string][] => machines.map((m) => [String(m.ID), m.Name]);

/** meterPage reads a machine's meter, for a job or for none. */
export function meterPage(app: App, job: TruckJob | undefined): (Node | false)[] {
  const machines = app.known.day?.Machines ?? [];
  const back = job ? String(job.Facts.Job.ID) : "";
  const keep = async (typed: Typed) => {
    const machine = machines.find((m) => String(m.ID) === typed.text("machine"));
    if (!machine) throw new Refused("Choose the machine.", "machine");
    const Minutes = Math.round(60 * typed.number("meter_h"));
    if (Minutes < machine.MeterMin) throw new Refused(`The meter of ${machine.Name} stood at ${(machine.MeterMin / 60).toFixed(1)} h already: read it again.`, "meter_h");
    const Meter = { MachineID: machine.ID, Minutes, WasMin: machine.MeterMin, On: app.today() };
    await app.enter(app.make("meter", job?.Facts.Job.ID ?? 0, { Meter }), `The meter of ${machine.Name} is kept.`, back);
  };
  return [
    bar(app, job?.Facts.Job.Name ?? "At the truck", "#" + back),
    ...warnings(app),
    h("h1", {}, "Read a meter"),
    form(
      [field({ name: "machine", label: "Machine", kind: "select", options: machineOptions(machines) }), field({ name: "meter_h", label: "The meter shows", unit: "h" })],
      "Keep the reading",
      keep,
    ),
  ];
}

// The clean-out: what remained in the hoppers, how it splits over lots and medium, and what
// became of it.
import type { App } from "./app";
import { ask, Refused } from "./engine";
import { grouped, h, told } from "./draw";
import { field, form, type Typed } from "./field";
import type { Remains, TriedRemains, TruckJob } from "./nouns";
import { bar, warnings } from "./state";

const fates: [string, string][] = [
  ["thrown", "thrown away"],
  ["kept", "kept: back on the truck"],
];

export function cleanOutPage(app: App, job: TruckJob): (Node | false)[] {
  const id = job.Facts.Job.ID;
  const found = h("div", { "aria-live": "polite" });
  const tried = (Remains: Remains) => ask<TriedRemains>("remains", job, { Entries: app.entries(), Remains });
  const show = (typed: Typed) => {
    try {
      found.replaceChildren(told(splitSays(tried(remainsOf(typed)))));
    } catch {
      found.replaceChildren(); // no figure yet, or refused when it is kept
    }
  };
  const keep = async (typed: Typed) => {
    const Remains = remainsOf(typed);
    tried(Remains);
    await app.enter(app.make("clean-out", id, { Remains }), "The clean-out is kept.", String(id));
  };
  return [
    bar(app, job.Facts.Job.Name, `#${id}`),
    ...warnings(app),
    h("h1", {}, "Clean-out"),
    told("What remained is split over lots and medium as the last tubs held them."),
    form(
      [
        field({ name: "left_l", label: "Mix that remained", unit: "L", hint: "In all hoppers together, by the bucket's marks." }),
        field({ name: "fate", label: "What became of it", kind: "select", options: fates, hint: "Mixed seed put back in a seed bag ruins the lot: keep it in a bag of its own." }),
        field({ name: "note", label: "Note", kind: "text", optional: true }),
        found,
      ],
      "Keep the clean-out",
      keep,
      show,
    ),
  ];
}

function remainsOf(typed: Typed): Remains {
  const MixML = Math.round(1000 * typed.number("left_l"));
  if (MixML === 0) throw new Refused("Nothing remained: there is no clean-out to keep.", "left_l");
  return { MixML, Kept: typed.text("fate") === "kept", Note: typed.text("note") };
}

function splitSays(tried: TriedRemains): string {
  const parts = tried.Parts.map((part) => (part.Code ? `${part.Code} ${part.Name}: ${grouped(part.Quantity)} g` : `${part.Name}: ${grouped(part.Quantity / 1000, 1)} L`));
  return `Of it ${parts.join(", ")}.`;
}

// The jobs that may be sown, and the ways that hang on no job.
import type { App } from "./app";
import { setMark } from "./book";
import { timeShown } from "./clock";
import { big, h, rowKm, told } from "./draw";
import { bar, waiting, warnings } from "./state";

export function jobsPage(app: App): (Node | false)[] {
  const { day } = app.known;
  if (!day) return [bar(app, "At the truck", null), ...warnings(app), h("h1", {}, "Nothing to work from yet"), told("The day's work is not on this phone. Load it once where there is signal; from then on it works without."), load(app)];
  return [
    bar(app, "At the truck", null),
    ...warnings(app),
    h("h1", {}, day.Jobs.length > 0 ? "The day's work" : "No job to sow"),
    ...day.Jobs.flatMap((job) => [
      h("h2", { class: "job" }, h("a", { href: `#${job.Facts.Job.ID}` }, job.Facts.Job.Name)),
      h("p", {}, `${job.Facts.Farm.Name}. ${job.Rows.RowM > 0 ? `${rowKm(app.view(job).SownM)} of ${rowKm(job.Rows.RowM)} row-km sown.` : ""}`),
    ]),
    ...(day.Services ?? []).map((says) => told(says)),
    day.Jobs.length === 0 && told("A job comes here when the farmer has said yes."),
    told(`${day.Person}'s work, as the office had it at ${timeShown(day, day.At)}${day.Demo ? ", demo" : ""}.`),
    load(app),
    h("p", { class: "ways" }, h("a", { href: "#meter" }, "Read a meter"), h("a", { href: "#entries" }, "What was entered")),
    leave(app),
  ];
}

const load = (app: App) => big("Load the day's work", () => void app.reachOffice().then(() => app.show()), true);

/** leave signs out. What has not reached the office keeps the person signed in. */
function leave(app: App): HTMLElement {
  const go = async (event: Event) => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    if (waiting(app.known.queue) > 0) {
      app.wrong = "Entries wait here that the office does not have. Hand them in where there is signal, then sign out.";
      return app.show();
    }
    await app.book.clear("day");
    await setMark(app.book, "views", undefined);
    await setMark(app.book, "out", false);
    form.submit();
  };
  return h(
    "form",
    { method: "post", action: "/leave", submit: (event) => void go(event) },
    h("input", { type: "hidden", name: "csrf", value: app.known.day?.Token ?? "" }),
    h("button", { class: "big quiet" }, "Sign out"),
  );
}

// What has and has not reached the office, in a plain sentence.
import type { App } from "./app";
import { clockSays } from "./clock";
import { count, h, told } from "./draw";
import type { Queued } from "./nouns";

export const waiting = (queue: Queued[]): number => queue.filter((e) => e.state === "waiting").length;
export const refused = (queue: Queued[]): Queued[] => queue.filter((e) => e.state === "refused");

export function stateSays(queue: Queued[]): string {
  const here = waiting(queue);
  const there = queue.filter((e) => e.state === "kept").length;
  const waits = here === 0 ? "Nothing waits here" : here === 1 ? "1 entry waits here" : `${here} entries wait here`;
  return `${waits}; ${there} ${there === 1 ? "has" : "have"} reached the office`;
}

/** warnings stand on every page: refused entries, a sign-in that has ended, a wrong clock. */
export function warnings(app: App): (Node | false)[] {
  const { queue, signal, day, ahead } = app.known;
  const no = refused(queue).length;
  const others = day ? queue.filter((e) => e.state === "waiting" && e.entry.PersonID !== day.PersonID).length : 0;
  const clock = day ? clockSays(day, ahead) : "";
  return [
    no > 0 && h("p", { class: "told wrong", role: "alert" }, `The office refused ${count(no, "entry", "entries")}. `, h("a", { href: "#entries" }, "See why, and what to do")),
    signal === "sign in" &&
      h("p", { class: "told wrong", role: "alert" }, "Your sign-in has ended. Nothing is lost: ", h("a", { href: "/enter?to=/truck/out" }, "sign in again"), " to hand in what waits."),
    signal === "fault" && told("The office answers, but cannot take entries just now. They wait here."),
    others > 0 && told(`${count(others, "entry", "entries")} of somebody else waits until they sign in on this phone.`),
    clock !== "" && told(clock),
  ];
}

/** bar is the line above every page. */
export function bar(app: App, name: string, back: string | null): Node {
  return h(
    "p",
    { class: "bar" },
    h("b", {}, name),
    h("span", { class: "signal" }, h("a", { href: "#entries" }, stateSays(app.known.queue) + ".", app.known.signal === "no signal" ? " No signal." : "")),
    back !== null && h("a", { class: "back", href: back }, "back"),
  );
}

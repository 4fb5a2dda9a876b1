// The office, when there is signal: the day's work comes from it, entries go to it one by
// one in the order in which they were made.
import { change, keepDay, setMark, type Book } from "./book";
import { officeAhead } from "./clock";
import type { Queued, TruckDay } from "./nouns";

/** How the last try went. */
export type Signal = "reached" | "no signal" | "sign in" | "fault";

const patience = 20_000;

function reach(path: string, more: RequestInit = {}): Promise<Response> {
  return fetch(path, { redirect: "manual", cache: "no-store", signal: AbortSignal.timeout(patience), ...more });
}

/** loadDay fetches the day's work anew and keeps it. */
export async function loadDay(book: Book): Promise<Signal> {
  const keptBefore = (await book.getAll("entries")).filter((e) => e.state === "kept" && !e.inDay).map((e) => e.seq);
  try {
    const answer = await reach("/truck/day.json");
    if (answer.type === "opaqueredirect") return "sign in";
    if (!answer.ok) return "fault";
    const day = (await answer.json()) as TruckDay;
    await setMark(book, "ahead", officeAhead(day.At, Date.now()));
    await keepDay(book, day, keptBefore);
    return "reached";
  } catch {
    return "no signal";
  }
}

interface Answer {
  Outcome: "kept" | "refused" | "not yours";
  Told: string;
  NextTub: number;
}

/** handIn sends what waits. Only one page of this phone does so at a time. The day is
    loaded anew behind it, so that what others did meanwhile is known here too. */
export async function handIn(book: Book, changed: () => void): Promise<Signal> {
  const done = await navigator.locks.request("rowtally-hand-in", { ifAvailable: true }, async (lock) => {
    if (!lock) return "reached" as Signal;
    const signal = await sendAll(book, changed);
    return signal === "reached" ? loadDay(book) : signal;
  });
  changed();
  return done;
}

async function sendAll(book: Book, changed: () => void): Promise<Signal> {
  const day = await book.get("day", "day");
  if (!day) return "reached";
  for (const one of await book.getAll("entries")) {
    if (one.state !== "waiting" || one.entry.PersonID !== day.PersonID) continue;
    const signal = await sendOne(book, one, true);
    if (signal !== "reached") return signal;
    changed();
  }
  return "reached";
}

async function sendOne(book: Book, one: Queued, mayLoad: boolean): Promise<Signal> {
  const day = await book.get("day", "day");
  const sent = { ...one.entry, SentAt: new Date().toISOString() };
  let answer: Response;
  try {
    answer = await reach("/truck/entries", {
      method: "POST",
      body: JSON.stringify(sent),
      headers: { "Content-Type": "application/json", "X-Form-Token": day?.Token ?? "" },
    });
  } catch {
    return "no signal";
  }
  if (answer.type === "opaqueredirect") return "sign in";
  if (answer.status === 403 && mayLoad) {
    const loaded = await loadDay(book); // a new sign-in has a new word
    return loaded === "reached" ? sendOne(book, one, false) : loaded;
  }
  if (!answer.ok) return "fault";
  const told = (await answer.json()) as Answer;
  if (told.Outcome !== "not yours") await change(book, one.seq, { state: told.Outcome, told: told.Told, nextTub: told.NextTub });
  return "reached";
}

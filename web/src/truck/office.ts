// The office, when there is signal: the day's work comes from it, entries go to it one by
// one in the order in which they were made.
import { change, keepDay, setMark, type Book } from "./book";
import { officeAhead } from "./clock";
import type { Entry, Queued, TruckDay } from "./nouns";
import { forgetPhoto, photoOf } from "./photos";

/** How the last try went. */
export type Signal = "reached" | "no signal" | "sign in" | "fault";

const patience = 20_000;
const patienceForPhoto = 120_000; // a photo goes slowly over a weak signal

function reach(path: string, more: RequestInit = {}, token?: string): Promise<Response> {
  const headers = token ? { ...more.headers, "X-Form-Token": token } : more.headers;
  return fetch(path, { redirect: "manual", cache: "no-store", signal: AbortSignal.timeout(patience), ...more, ...(headers ? { headers } : {}) });
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
    answer = await reach("/truck/entries", { method: "POST", ...(await told(sent)), signal: AbortSignal.timeout(sent.PhotoBytes ? patienceForPhoto : patience) }, day?.Token);
  } catch {
    return "no signal";
  }
  if (answer.type === "opaqueredirect") return "sign in";
  if (answer.status === 403 && mayLoad) {
    const loaded = await loadDay(book); // a new sign-in has a new word
    return loaded === "reached" ? sendOne(book, one, false) : loaded;
  }
  if (!answer.ok) return "fault";
  const back = (await answer.json()) as Answer;
  if (back.Outcome !== "not yours") await change(book, one.seq, { state: back.Outcome, told: back.Told, nextTub: back.NextTub });
  if (back.Outcome === "kept" && one.entry.PhotoBytes) await forgetPhoto(one.key);
  return "reached";
}

/** told is an entry as it goes over: with its photo beside it, where it has one. */
async function told(entry: Entry): Promise<RequestInit> {
  const photo = entry.PhotoBytes ? await photoOf(entry.Key) : undefined;
  if (!photo) return { body: JSON.stringify(entry), headers: { "Content-Type": "application/json" } };
  const body = new FormData();
  body.set("entry", JSON.stringify(entry));
  body.set("photo", new Blob([photo], { type: "image/jpeg" }), "photo.jpg");
  return { body };
}

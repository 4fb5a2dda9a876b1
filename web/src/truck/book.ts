// What this phone keeps: the day's work, every entry made, and a few marks. It lives in
// IndexedDB, so it outlasts reloads and restarts.
import { openDB, type DBSchema, type IDBPDatabase } from "idb";
import { rekey, tidyPhotos } from "./photos";
import type { Entry, Queued, State, TruckDay } from "./nouns";

interface Shelf extends DBSchema {
  day: { key: "day"; value: TruckDay };
  entries: { key: number; value: Queued; indexes: { key: string } };
  marks: { key: string; value: unknown };
}

export type Book = IDBPDatabase<Shelf>;

export const openBook = (): Promise<Book> =>
  openDB<Shelf>("rowtally-truck", 1, {
    upgrade(db) {
      db.createObjectStore("day");
      db.createObjectStore("entries", { keyPath: "seq", autoIncrement: true }).createIndex("key", "key", { unique: true });
      db.createObjectStore("marks");
    },
  });

/** mark reads one of the few marks; what was never set is the given value. */
export async function mark<T>(book: Book, name: string, unset: T): Promise<T> {
  return ((await book.get("marks", name)) as T | undefined) ?? unset;
}

export const setMark = (book: Book, name: string, value: unknown) => book.put("marks", value, name);

/** enter queues an entry behind all others; from now on this phone works out of signal. */
export async function enter(book: Book, entry: Entry): Promise<void> {
  const both = book.transaction(["entries", "marks"], "readwrite");
  // the number is given by the store
  both.objectStore("entries").add({ key: entry.Key, entry, state: "waiting" } as Queued);
  both.objectStore("marks").put(true, "out");
  await both.done;
}

export async function change(book: Book, seq: number, what: Partial<Queued>): Promise<void> {
  const one = book.transaction("entries", "readwrite");
  const before = await one.store.get(seq);
  if (before) await one.store.put({ ...before, ...what });
  await one.done;
}

/** replace lets one refused entry go and queues another in its stead, both or neither. */
export async function replace(book: Book, refused: Queued, entry: Entry): Promise<void> {
  await rekey(refused.key, entry.Key);
  const one = book.transaction("entries", "readwrite");
  const before = await one.store.get(refused.seq);
  if (before) await one.store.put({ ...before, state: "let go" });
  await one.store.add({ key: entry.Key, entry, state: "waiting" } as Queued);
  await one.done;
}

/** keepDay puts a newly loaded day in place. The entries named were kept before it was
    asked for, so it holds them. */
export async function keepDay(book: Book, day: TruckDay, keptBefore: number[]): Promise<void> {
  const both = book.transaction(["day", "entries"], "readwrite");
  await both.objectStore("day").put(day, "day");
  const entries = both.objectStore("entries");
  for (const seq of keptBefore) {
    const one = await entries.get(seq);
    if (one) await entries.put({ ...one, inDay: true });
  }
  await both.done;
}

const keptDays = 14;

/** tidy forgets what reached the office long ago. */
export async function tidy(book: Book, now: number): Promise<void> {
  for (const one of await book.getAll("entries")) {
    const done: State[] = ["kept", "let go"];
    if (done.includes(one.state) && now - Date.parse(one.entry.At) > keptDays * 86_400_000) await book.delete("entries", one.seq);
  }
  await tidyPhotos((await book.getAll("entries")).filter((e) => e.state === "waiting" || e.state === "refused").map((e) => e.key));
}

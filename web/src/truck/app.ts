// The page as a whole: what is known, what is shown, what a press does.
import { enter, mark, setMark, type Book } from "./book";
import { atOffice, began, today } from "./clock";
import { ask, engineAnswers, enginePath, NotYet } from "./engine";
import type { Entry, Kind, Queued, TruckDay, TruckJob, View } from "./nouns";
import { handIn, loadDay, type Signal } from "./office";

/** Known is everything a page is drawn from. */
export interface Known {
  day: TruckDay | undefined;
  queue: Queued[];
  ahead: number; // ms that the office's clock is ahead of this phone's
  signal: Signal | "not tried";
}

/** Ticks are the parts of a tub that are in, and the amounts for which they were ticked. */
export interface Ticks {
  amounts: string;
  ticks: boolean[];
}

/** Seen is a job's view and what it was worked out from. */
interface Seen {
  of: string;
  view: View;
}

export class App {
  known: Known = { day: undefined, queue: [], ahead: 0, signal: "not tried" };
  notice = ""; // what was done, until the next step
  wrong = ""; // a refusal, likewise
  private views = new Map<number, Seen>(); // as last worked out, for a page that opens before its engine
  private viewsKept = true;
  readonly ticks = new Map<string, Ticks>(); // of the tub that is being filled; the book has them too
  private moving = false; // the step itself leads to another page

  constructor(
    readonly book: Book,
    private readonly draw: (app: App) => Promise<void>,
  ) {}

  async read(): Promise<void> {
    const [day, queue, ahead] = await Promise.all([this.book.get("day", "day"), this.book.getAll("entries"), mark(this.book, "ahead", 0)]);
    this.known = { ...this.known, day, queue, ahead };
  }

  async show(): Promise<void> {
    await this.read();
    try {
      await this.draw(this);
    } catch (why) {
      if (!(why instanceof NotYet)) throw why;
      await engineAnswers();
      await this.draw(this);
    }
  }

  /** reachOffice hands in what waits and loads the day anew. The page is drawn again where
      something changed, unless somebody is writing in it. */
  async reachOffice(): Promise<void> {
    await this.read();
    const before = this.known.signal;
    const seen = JSON.stringify([this.known.day, this.known.queue.map((e) => e.state)]);
    const signal = this.known.queue.some((e) => e.state === "waiting") ? await handIn(this.book, () => undefined) : await loadDay(this.book);
    this.known.signal = signal;
    await this.read();
    const same = before === signal && seen === JSON.stringify([this.known.day, this.known.queue.map((e) => e.state)]);
    if (!same) await this.drawBetween();
    this.workAhead();
  }

  /** workAhead works every job out while nobody waits for it, so that the page opens with its
      figures the next time. */
  private workAhead(): void {
    const later = globalThis.requestIdleCallback ?? ((act: () => void) => setTimeout(act, 200));
    later(() => {
      for (const job of this.known.day?.Jobs ?? []) this.view(job);
      void this.keepViews();
    });
  }

  /** drawBetween draws anew when nobody writes in the page and no finger is on it: what was
      pressed must still be there when the finger leaves. */
  private async drawBetween(): Promise<void> {
    if (writing()) return;
    if (pressing) return void setTimeout(() => void this.drawBetween(), 300);
    await this.draw(this);
  }

  /** applied is what the office does not hold yet, in order. */
  applied(): Queued[] {
    return this.known.queue.filter((e) => e.state === "waiting" || (e.state === "kept" && !e.inDay));
  }

  job(id: number): TruckJob | undefined {
    return this.known.day?.Jobs.find((j) => j.Facts.Job.ID === id);
  }

  today(): string {
    return this.known.day ? today(this.known.day, this.known.ahead) : "";
  }

  entries(): Entry[] {
    return this.applied().map((e) => atOffice(e.entry, this.known.ahead));
  }

  /** view is all that the page shows of a job. Before the engine answers it is the one worked
      out last, if nothing it rests on has changed since. */
  view(job: TruckJob): View {
    const day = this.known.day as TruckDay;
    const id = job.Facts.Job.ID;
    const of = JSON.stringify([enginePath(), printOf(job), this.today(), this.applied().map((e) => e.key)]);
    const before = this.views.get(id);
    if (before?.of === of) return before.view;
    const view = ask<View>("view", job, { Entries: this.entries(), Today: this.today(), Began: began(day, this.known.ahead) });
    this.views.set(id, { of, view });
    this.viewsKept = false;
    return view;
  }

  /** keepViews keeps what was worked out for the next time that the page opens. */
  async keepViews(): Promise<void> {
    if (this.viewsKept) return;
    this.viewsKept = true;
    await setMark(this.book, "views", this.views);
  }

  /** make is an entry of the person signed in, with its key and this phone's time. */
  make(kind: Kind, jobID: number, what: Partial<Entry>): Entry {
    return { Key: crypto.randomUUID(), Kind: kind, PersonID: this.known.day?.PersonID ?? 0, JobID: jobID, At: new Date().toISOString(), ...what };
  }

  /** enter checks an entry, queues it, goes on to another page where one is named, and tries
      the office at once. */
  async enter(entry: Entry, notice: string, onTo?: string): Promise<void> {
    await engineAnswers();
    ask("check", undefined, { Entry: entry, Today: this.today() });
    await enter(this.book, entry);
    this.notice = notice;
    this.wrong = "";
    this.moving = onTo !== undefined && location.hash !== "#" + onTo;
    (document.activeElement as HTMLElement | null)?.blur();
    if (onTo === undefined) await this.show();
    else this.go(onTo);
    void this.reachOffice();
  }

  async start(): Promise<void> {
    if (location.pathname === "/truck/out") void setMark(this.book, "out", true);
    this.views = await mark(this.book, "views", this.views);
  }

  /** moved draws the page that the address now names. */
  moved(): void {
    if (!this.moving) this.notice = this.wrong = "";
    this.moving = false;
    scrollTo(0, 0);
    void this.show();
  }

  go(hash: string): void {
    if (location.hash === "#" + hash) void this.show();
    else location.hash = hash;
  }
}

const prints = new WeakMap<TruckJob, string>();

/** printOf tells one state of a job from another: the length and a sum of all that it holds
    (FNV-1a). */
function printOf(job: TruckJob): string {
  const known = prints.get(job);
  if (known !== undefined) return known;
  const text = JSON.stringify(job);
  let sum = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) sum = Math.imul(sum ^ text.charCodeAt(i), 0x01000193);
  const print = `${text.length} ${sum >>> 0}`;
  prints.set(job, print);
  return print;
}

let pressing = false;
addEventListener("pointerdown", () => (pressing = true), true);
for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => setTimeout(() => (pressing = false), 100), true);

/** writing tells whether somebody has typed or ticked something that drawing would lose. */
function writing(): boolean {
  const at = document.activeElement;
  if (at instanceof HTMLTextAreaElement || at instanceof HTMLSelectElement) return true;
  if (at instanceof HTMLInputElement && at.type !== "checkbox") return true;
  return [...document.querySelectorAll<HTMLInputElement>("form.entering input")].some((field) => field.value !== field.defaultValue);
}

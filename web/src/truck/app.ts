// The page as a whole: what is known, what is shown, what a press does.
import { enter, mark, setMark, tidy, type Book } from "./book";
import { atOffice, began, today } from "./clock";
import { ask } from "./engine";
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

export class App {
  known: Known = { day: undefined, queue: [], ahead: 0, signal: "not tried" };
  notice = ""; // what was done, until the next step
  wrong = ""; // a refusal, likewise
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
    await this.draw(this);
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

  view(job: TruckJob): View {
    const day = this.known.day as TruckDay;
    return ask<View>("view", job, { Entries: this.entries(), Today: this.today(), Began: began(day, this.known.ahead) });
  }

  /** make is an entry of the person signed in, with its key and this phone's time. */
  make(kind: Kind, jobID: number, what: Partial<Entry>): Entry {
    return { Key: crypto.randomUUID(), Kind: kind, PersonID: this.known.day?.PersonID ?? 0, JobID: jobID, At: new Date().toISOString(), ...what };
  }

  /** enter checks an entry, queues it, goes on to another page where one is named, and tries
      the office at once. */
  async enter(entry: Entry, notice: string, onTo?: string): Promise<void> {
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
    await tidy(this.book, Date.now());
    if (location.pathname === "/truck/out") await setMark(this.book, "out", true);
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

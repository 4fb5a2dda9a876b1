// Two clocks: this phone's, which may be wrong, and the office's, as far as it is known.
import type { Entry, TruckDay } from "./nouns";

/** fast is how far the office's clock is ahead of this phone's, in ms. */
export const officeAhead = (officeAt: string, phoneNow: number): number => Date.parse(officeAt) - phoneNow;

/** today is the calendar day at the office, "2026-07-20". */
export const today = (day: TruckDay, ahead: number): string =>
  new Intl.DateTimeFormat("en-CA", { timeZone: day.Zone || "UTC" }).format(Date.now() + ahead);

/** began is the moment at which the office's day began. */
export function began(day: TruckDay, ahead: number): string {
  const now = Date.now() + ahead;
  const parts = new Intl.DateTimeFormat("en-GB", { timeZone: day.Zone || "UTC", hour: "2-digit", minute: "2-digit", second: "2-digit" }).format(now).split(":").map(Number);
  const [h = 0, m = 0, s = 0] = parts;
  return new Date(now - ((h * 60 + m) * 60 + s) * 1000 - (now % 1000)).toISOString();
}

/** timeShown is a moment by the office's clock, "9:12". */
export const timeShown = (day: TruckDay, at: string): string =>
  new Intl.DateTimeFormat("en-AU", { timeZone: day.Zone || "UTC", hour: "numeric", minute: "2-digit", hour12: false }).format(Date.parse(at));

/** atOffice is an entry with its moments by the office's clock. */
export function atOffice(entry: Entry, ahead: number): Entry {
  const At = new Date(Date.parse(entry.At) + ahead).toISOString();
  return entry.Tub ? { ...entry, At, Tub: { ...entry.Tub, MixedAt: At } } : { ...entry, At };
}

const tolerated = 2 * 60_000;

/** clockSays tells a clock that is off; "" when it is near enough. A demo's day stands still. */
export function clockSays(day: TruckDay, ahead: number): string {
  if (day.Demo || Math.abs(ahead) < tolerated) return "";
  const minutes = Math.round(Math.abs(ahead) / 60_000);
  const off = minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
  return `This phone's clock is ${off} ${ahead > 0 ? "behind" : "ahead of"} the office's. Every entry carries both times.`;
}

// The keeper of the truck's page: it holds the page and its files on the phone, and gives
// them out when there is no signal, or once somebody works out of it.
import { mark, openBook } from "./truck/book";

declare const FILES: string[];
declare const VERSION: string;

interface Waiting extends Event {
  waitUntil(done: Promise<unknown>): void;
}
interface Asked extends Waiting {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
interface Keeper {
  addEventListener(name: "install" | "activate", hear: (event: Waiting) => void): void;
  addEventListener(name: "fetch", hear: (event: Asked) => void): void;
  skipWaiting(): Promise<void>;
  clients: { claim(): Promise<void> };
  location: Location;
}
const keeper = self as unknown as Keeper;

const shelf = `truck ${VERSION}`;
const shell = "/truck/out";
const patience = 4000; // ms for the office to answer before the kept page comes

keeper.addEventListener("install", (event) => event.waitUntil(fill().then(() => keeper.skipWaiting())));

async function fill(): Promise<void> {
  const cache = await caches.open(shelf);
  await cache.addAll([new Request(shell, { cache: "reload" }), ...FILES.map((file) => new Request(file))]);
}

keeper.addEventListener("activate", (event) => event.waitUntil(clear().then(() => keeper.clients.claim())));

async function clear(): Promise<void> {
  const old = (await caches.keys()).filter((name) => name.startsWith("truck ") && name !== shelf);
  await Promise.all(old.map((name) => caches.delete(name)));
}

keeper.addEventListener("fetch", (event) => {
  const { request } = event;
  const path = new URL(request.url).pathname;
  if (request.method !== "GET") return;
  if (request.mode === "navigate") event.respondWith(page(request, path));
  else if (FILES.includes(path)) event.respondWith(kept(path).then((file) => file ?? fetch(request)));
});

const kept = (path: string) => caches.match(path, { ignoreVary: true });

/** page gives the office's page while there is signal and nobody works out of it. */
async function page(request: Request, path: string): Promise<Response> {
  const out = await kept(shell);
  if (!out) return fetch(request);
  if (path === shell || (await workingOut())) return out;
  const late = new Promise<Response>((answer) => setTimeout(() => answer(out), patience));
  return Promise.race([fetch(request).catch(() => out), late]);
}

async function workingOut(): Promise<boolean> {
  const book = await openBook();
  const is = await mark(book, "out", false);
  book.close();
  return is;
}

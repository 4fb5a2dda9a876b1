// On the office's truck pages: makes ready for the moment when there is no signal. The page
// for it and the day's work are kept on the phone; nothing on the page itself changes.
import { openBook } from "./truck/book";
import { loadDay } from "./truck/office";

async function makeReady(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register("/truck/sw.js", { scope: "/truck" });
  await loadDay(await openBook());
  await navigator.serviceWorker.ready;
  document.querySelectorAll<HTMLElement>("[data-away]").forEach((way) => (way.hidden = false));
}

makeReady().catch(() => undefined); // as good as before: the page works while there is signal

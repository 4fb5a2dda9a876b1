// The truck's page without signal: it draws the day's work that the phone has taken along,
// queues what is entered, and hands it in when the office answers.
import { App } from "./truck/app";
import { openBook, tidy } from "./truck/book";
import { engineAnswers } from "./truck/engine";
import { h, told } from "./truck/draw";
import { loadDay } from "./truck/office";
import { catchPage } from "./truck/page_catch";
import { cleanOutPage } from "./truck/page_clean_out";
import { countPage } from "./truck/page_count";
import { dayPage } from "./truck/page_day";
import { drillPage } from "./truck/page_drill";
import { entriesPage } from "./truck/page_entries";
import { fuelPage, hopperPage, meterPage, standbyPage } from "./truck/page_forms";
import { jobsPage } from "./truck/page_jobs";
import { notePage } from "./truck/page_note";
import { tubPage } from "./truck/page_tub";

const everyMS = 30_000;

/** ofAddress turns an address of the office's pages into one of this page. */
function ofAddress(): void {
  const [, job = "", what = ""] = /^\/truck\/(\d+)(?:\/(catch|day))?$/.exec(location.pathname) ?? [];
  if (job) history.replaceState(null, "", `/truck/out#${job}${what && "/" + what}`);
}

async function page(app: App): Promise<(Node | false | null)[]> {
  const [first = "", what = "", more = ""] = location.hash.slice(1).split("/");
  if (first === "entries") return entriesPage(app);
  if (first === "meter") return meterPage(app, undefined);
  const job = app.job(Number(first));
  if (!job) return jobsPage(app);
  if (["catch", "clean-out", "count"].includes(what)) await engineAnswers();
  switch (what) {
    case "catch":
      return catchPage(app, job, Number(more));
    case "hopper":
      return hopperPage(app, job);
    case "fuel":
      return fuelPage(app, job);
    case "note":
      return notePage(app, job);
    case "standby":
      return standbyPage(app, job);
    case "meter":
      return meterPage(app, job);
    case "clean-out":
      return cleanOutPage(app, job);
    case "drill":
      return drillPage(app, job);
    case "count":
      return countPage(app, job, Number(more));
    case "day":
      return dayPage(app, job);
  }
  return tubPage(app, job);
}

let turns = 0;
let lastWrong = ""; // is brought into sight once

async function draw(app: App): Promise<void> {
  const turn = ++turns;
  const drawn = (await page(app)).filter((node): node is Node => node instanceof Node);
  if (turn !== turns) return; // a later drawing has begun
  const main = document.getElementById("main") as HTMLElement;
  const said = [app.wrong && told(app.wrong, true), app.notice && told(app.notice)].filter((node): node is HTMLElement => node instanceof Node);
  const loud = app.wrong !== "" && app.wrong !== lastWrong;
  lastWrong = app.wrong;
  main.replaceChildren(...drawn);
  void app.keepViews();
  main.querySelector(".bar")?.after(...said);
  if (loud) main.querySelector(".told.wrong")?.scrollIntoView({ block: "center" });
}

const since = (): string => String(Math.round(performance.now()));

async function start(): Promise<void> {
  ofAddress();
  const book = await openBook();
  const app = new App(book, draw);
  await app.start();
  addEventListener("hashchange", () => app.moved());
  await app.show();
  document.documentElement.dataset.ready = since();
  await engineAnswers(); // only now, so that the page need not share the processor with it
  document.documentElement.dataset.engine = since();
  void navigator.serviceWorker?.register("/truck/sw.js", { scope: "/truck" });
  void navigator.storage?.persist?.();
  addEventListener("online", () => void app.reachOffice());
  document.addEventListener("visibilitychange", () => !document.hidden && void app.reachOffice());
  setInterval(() => void app.reachOffice(), everyMS);
  void tidy(book, Date.now());
  await loadDay(book); // first, so that a new sign-in's word goes with what is handed in
  await app.reachOffice();
}

start().catch((why: unknown) => {
  document.getElementById("main")?.replaceChildren(
    h("h1", {}, "The page cannot start"),
    told(`${String(why)}. What was entered is kept on this phone. Close the page and open it again; without signal, paper does.`, true),
  );
});

// The engine is the office's own Go, compiled to WebAssembly: nothing is worked out here.
import type { TruckJob } from "./nouns";

declare class Go {
  importObject: WebAssembly.Imports;
  run(instance: WebAssembly.Instance): Promise<void>;
}
declare function rowtallyEngine(call: string): string;

/** Refused is a sentence for a person: what is, and what to enter instead. */
export class Refused extends Error {
  constructor(
    told: string,
    readonly field: string,
  ) {
    super(told);
  }
}

/** NotYet tells that something was asked before the engine was there. */
export class NotYet extends Error {}

let running = false;
let started: Promise<void> | undefined;

/** enginePath is where the engine lies. */
export const enginePath = (): string => document.querySelector<HTMLScriptElement>("script[data-engine]")?.dataset.engine ?? "";

/** engineAnswers loads the engine at the first call, and waits until it may be asked. It is
    compiled while it arrives. */
export function engineAnswers(): Promise<void> {
  started ??= (async () => {
    const go = new Go();
    const made = await WebAssembly.instantiateStreaming(fetch(enginePath()), go.importObject);
    void go.run(made.instance);
    running = true;
  })();
  return started;
}

let remembered: TruckJob | undefined;

/** ask puts one call to the engine. It remembers the job that it was asked about last. */
export function ask<T>(call: string, job: TruckJob | undefined, what: object): T {
  if (!running) throw new NotYet("The engine is still loading.");
  const told: Record<string, unknown> = { Call: call, ...what };
  if (job && job !== remembered) told.Job = job;
  const answer = JSON.parse(rowtallyEngine(JSON.stringify(told))) as T & { Refused?: string; Field?: string };
  if (answer.Refused !== undefined) throw new Refused(answer.Refused, answer.Field ?? "");
  if (job) remembered = job;
  return answer;
}

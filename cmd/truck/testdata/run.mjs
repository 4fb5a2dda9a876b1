// Runs the compiled engine as the truck's page does: one call a line in, one answer a line
// out. With a second argument it times one call instead and prints the least ms.
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { createRequire } from "node:module";

const [wasm, wasmExec, repeats] = process.argv.slice(2);
createRequire(import.meta.url)(wasmExec);
const go = new globalThis.Go();
const { instance } = await WebAssembly.instantiate(readFileSync(wasm), go.importObject);
go.run(instance);
let least = Infinity;
for await (const line of createInterface({ input: process.stdin })) {
  if (!repeats) {
    console.log(globalThis.rowtallyEngine(line));
    continue;
  }
  for (let i = 0; i < Number(repeats); i++) {
    const began = performance.now();
    globalThis.rowtallyEngine(line);
    least = Math.min(least, performance.now() - began);
  }
}
if (repeats) console.log(least);
process.stdout.write("", () => process.exit(0)); // what is still on its way to a pipe goes out first

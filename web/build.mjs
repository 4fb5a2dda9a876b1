// Bundles what a browser loads into dist/, which the program embeds.
//
//   style/*.css, src/*.ts   one bundle each; what they import lives in folders below
//   style/image/mark.svg    the mark in the browser's tab, copied
//   wasm/*                  made by the Go compiler (see the Makefile); the truck's engine is
//                           kept packed alone, for the program to serve as a browser takes it
//   src/sw.ts               the keeper of the truck's page, told which files the page needs
//   typefaces               woff2 named by the style sheets, TTF for the papers
//
// Every file a page names carries a hash of its content in its own name, so that a
// browser may keep it for ever; manifest.json tells the program which name stands for
// which. The TTF files and the licences keep plain names: only the program reads them.
import { createHash } from "node:crypto";
import { cp, mkdir, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { promisify } from "node:util";
import { brotliCompress, constants, gzip } from "node:zlib";
import { basename, dirname, extname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const dist = join(here, "dist");
const from = (...parts) => join(here, ...parts);

const paperFaces = {
  "AtkinsonHyperlegibleNext-Regular.ttf": "atkinson-hyperlegible-next/400Regular/AtkinsonHyperlegibleNext_400Regular.ttf",
  "AtkinsonHyperlegibleNext-Bold.ttf": "atkinson-hyperlegible-next/700Bold/AtkinsonHyperlegibleNext_700Bold.ttf",
  "Literata-SemiBold.ttf": "literata/600SemiBold/Literata_600SemiBold.ttf",
};

const licences = {
  "atkinson-hyperlegible-next.txt": "@fontsource-variable/atkinson-hyperlegible-next/LICENSE",
  "atkinson-hyperlegible-mono.txt": "@fontsource-variable/atkinson-hyperlegible-mono/LICENSE",
  "literata.txt": "@fontsource-variable/literata/LICENSE",
  "leaflet.txt": "leaflet/LICENSE",
};

async function filesOf(folder, ending) {
  const names = await readdir(from(folder)).catch(() => []);
  return names.filter((name) => name.endsWith(ending)).map((name) => from(folder, name));
}

// removeStale takes away what an earlier build left, once the new files stand: a program
// compiled meanwhile finds the old ones or the new ones, never none.
async function removeStale(current) {
  for (const name of await readdir(dist, { recursive: true })) {
    const path = name.replaceAll("\\", "/");
    const stands = path === ".keep" || [...current].some((file) => file === path || file.startsWith(path + "/"));
    if (!stands) await rm(join(dist, name), { recursive: true, force: true });
  }
}

async function bundle(entryPoints, define = {}) {
  const result = await build({
    absWorkingDir: here,
    entryPoints,
    outdir: dist,
    outbase: here,
    bundle: true,
    minify: true,
    format: "esm",
    target: ["es2022"],
    entryNames: "[name]-[hash]",
    assetNames: "font/[name]-[hash]",
    loader: { ".woff2": "file", ".svg": "dataurl", ".png": "dataurl" },
    define,
    legalComments: "none",
    metafile: true,
    logLevel: "warning",
  });
  return result.metafile.outputs;
}

// manifestOf names each bundle by its source ("face.css", "page.js") and each typeface
// by its file name ("font/literata-latin-wght-normal.woff2").
function manifestOf(outputs) {
  const manifest = {};
  for (const [path, output] of Object.entries(outputs)) {
    const written = relative(dist, from(path)).replaceAll("\\", "/");
    if (output.entryPoint) {
      manifest[basename(output.entryPoint).replace(/\.ts$/, ".js")] = written;
    } else {
      manifest[written.replace(/-[A-Z0-9]{8}(\.\w+)$/, "$1")] = written;
    }
  }
  return manifest;
}

const shortHash = (content) => createHash("sha256").update(content).digest("hex").slice(0, 8).toUpperCase();

function hashedName(path, content) {
  const ending = extname(path);
  return `${basename(path, ending)}-${shortHash(content)}${ending}`;
}

async function copyHashed(path) {
  const written = hashedName(path, await readFile(path));
  await cp(path, join(dist, written));
  return [basename(path), written];
}

// packHashed writes a file's two packed forms alone, .br and .gz.
async function packHashed(path) {
  const content = await readFile(path);
  const written = hashedName(path, content);
  const best = { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_LGWIN]: 24, [constants.BROTLI_PARAM_SIZE_HINT]: content.length };
  const packed = { br: promisify(brotliCompress)(content, { params: best }), gz: promisify(gzip)(content, { level: 9 }) };
  for (const [ending, form] of Object.entries(packed)) await writeFile(join(dist, `${written}.${ending}`), await form);
  return [basename(path), written];
}

// keeperOf bundles the service worker with the files that the truck's page needs. When one
// of them changes, or the page itself, the worker does, and browsers fetch the lot anew.
async function keeperOf(manifest) {
  const wanted = (name) =>
    ["truck.css", "truck.js", "wasm_exec.js", "truck.wasm", "truck-icon.svg", "mark.svg"].includes(name) || /^font\/atkinson.*-latin-wght-normal\.woff2$/.test(name);
  const files = Object.keys(manifest).filter(wanted).map((name) => "/dist/" + manifest[name]);
  const page = await Promise.all(["page/truck_out.html", "part/layout.html"].map((name) => readFile(from(name))));
  const define = { FILES: JSON.stringify(files), VERSION: JSON.stringify(shortHash(files.join() + page.join())) };
  return manifestOf(await bundle([from("src/sw.ts")], define));
}

async function copyTypefaces() {
  const copies = [
    ...Object.entries(paperFaces).map(([name, path]) => [`font/${name}`, `@expo-google-fonts/${path}`]),
    ...Object.entries(licences).map(([name, path]) => [`licence/${name}`, path]),
  ];
  for (const folder of ["font", "licence"]) await mkdir(join(dist, folder), { recursive: true });
  for (const [name, path] of copies) await cp(from("node_modules", path), join(dist, name));
  return copies.map(([name]) => name);
}

const scripts = (await filesOf("src", ".ts")).filter((path) => basename(path) !== "sw.ts");
const manifest = manifestOf(await bundle([...(await filesOf("style", ".css")), ...scripts]));
for (const path of [from("style/image/mark.svg"), from("style/image/truck-icon.svg"), ...(await filesOf("wasm", ".js"))]) {
  const [name, written] = await copyHashed(path);
  manifest[name] = written;
}
const packed = [];
for (const path of await filesOf("wasm", ".wasm")) {
  const [name, written] = await packHashed(path);
  manifest[name] = written;
  packed.push(`${written}.br`, `${written}.gz`);
}
Object.assign(manifest, await keeperOf(manifest));
const plain = await copyTypefaces();
const sorted = Object.fromEntries(Object.entries(manifest).sort());
await writeFile(join(dist, "manifest.json"), JSON.stringify(sorted, null, 1) + "\n");
await removeStale(new Set(["manifest.json", ...plain, ...packed, ...Object.values(manifest)]));

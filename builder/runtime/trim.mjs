// node trim.mjs TASK.json: removes from Pyodide's core what no page uses, and writes the rest.
// The task: {pyodide: folder, esbuild: its main script, out: folder to write}
//
// Pyodide is linked so that libraries of any kind can be loaded later: its WebAssembly file exports all of its 8,560
// symbols, and its script has whatever such a library might import, including sound and 3D drawing. We load no such
// library, and each unused part costs time twice: to download and to link. Every step fails if the files differ from
// what it expects.
import { createHash } from "node:crypto";
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

import { shaken } from "./shake.mjs";
import { task } from "./task.mjs";
import { dataOf, withExports } from "./wasm.mjs";

const esbuild = (await import(pathToFileURL(task.esbuild).href)).default;

/**
 * Tables in the WebAssembly file that no calculator reads, to be filled with zeros. `sha256` is the start of the expected
 * content's digest: a new version of Pyodide fails the build until somebody has looked at it.
 */
const UNREAD = [
  // encodings for Chinese, Japanese and Korean text; their Python modules are left out as well (runtime.py)
  { from: 800545, to: 1389000, sha256: "6e075efc66d8945f" },
  // encodings again in the C library, for iconv(), which Python never calls
  { from: 2824342, to: 2962525, sha256: "173c8c28f4743120" },
  // the names of characters, for unicodedata.name() and lookup()
  { from: 1574129, to: 1854712, sha256: "b964dcca3ea8cbe4" },
];

/** Functions for 3D drawing: the file has an unused table of them, and every start would compile each of them. */
const DRAWS = /^emscripten_(gl|webgl)/;
const IS_MISSING = "if(!value&&!entry.required){";

const [wasm, script, loader] = [
  readFileSync(join(task.pyodide, "pyodide.asm.wasm")),
  readFileSync(join(task.pyodide, "pyodide.asm.mjs"), "utf8"),
  readFileSync(join(task.pyodide, "pyodide.mjs"), "utf8"),
];
const module = await WebAssembly.compile(wasm);
const imports = WebAssembly.Module.imports(module);

const parts = cut(script);
const wanted = wantedExports(parts);
const smaller = await shaken(trimmed(parts), [loader, wasm.toString("latin1")], esbuild);
mkdirSync(task.out, { recursive: true });
writeFileSync(join(task.out, "pyodide.asm.mjs"), smaller);
for (const { from, to, sha256 } of UNREAD) clear(from, to, sha256);
writeFileSync(join(task.out, "pyodide.asm.wasm"), withExports(wasm, wanted));
for (const name of ["pyodide.mjs", "pyodide-lock.json"]) copyFileSync(join(task.pyodide, name), join(task.out, name));
process.stdout.write(JSON.stringify({ exports: wanted.size, script: smaller.length }));

/**
 * Fill all memory segments between two addresses with zeros, in the file itself.
 * @param {number} from
 * @param {number} to
 * @param {string} sha256
 */
function clear(from, to, sha256) {
  const digest = createHash("sha256");
  const pieces = dataOf(wasm).filter(({ address, bytes }) => address >= from && address + bytes.length <= to);
  for (const { bytes } of pieces) {
    digest.update(bytes);
    bytes.fill(0);
  }
  const found = digest.digest("hex");
  if (!found.startsWith(sha256)) throw new Error(`pyodide.asm.wasm: unexpected content at ${from} (${found})`);
}

/** @typedef {{declared: string, assigned: string, converted: string, imported: string, rest: string[]}} Parts */

/**
 * Split the module's script into the parts to trim, and the text between them.
 * @param {string} text
 * @returns {Parts}
 */
function cut(text) {
  const assigns = found(text, "function assignWasmExports(wasmExports){");
  const assigned = [assigns.end, text.indexOf("}", assigns.end)];
  const declares = text.lastIndexOf("var ", assigns.start);
  const declared = [declares + 4, text.indexOf(";", declares)];
  const converts = found(text, "function applySignatureConversions(wasmExports){");
  const converted = [converts.end, text.indexOf("return wasmExports}", converts.end)];
  const importing = found(text, "var wasmImports={");
  const imported = [importing.end, text.indexOf("}", importing.end)];
  const places = { declared, assigned, imported, converted };
  const order = Object.values(places).flat();
  if (order.some((at, each) => at < 0 || (each && at < order[each - 1]))) throw new Error("pyodide.asm.mjs: has an unexpected form");
  const texts = Object.fromEntries(Object.entries(places).map(([name, [start, end]]) => [name, text.slice(start, end)]));
  const ends = [0, ...order, text.length];
  const rest = Array.from({ length: ends.length / 2 }, (_, each) => text.slice(ends[2 * each], ends[2 * each + 1]));
  return /** @type {any} */ ({ ...texts, rest });
}

/**
 * @param {string} text
 * @param {string} piece
 * @param {string} by
 */
function replaced(text, piece, by) {
  found(text, piece);
  return text.replace(piece, () => by);
}

/**
 * @param {string} text
 * @param {string} start
 */
function found(text, start) {
  const at = text.indexOf(start);
  if (at < 0) throw new Error(`pyodide.asm.mjs: there is no "${start}"`);
  return { start: at, end: at + start.length };
}

/**
 * The symbols that the script or the WebAssembly file uses by name.
 * @param {Parts} parts
 */
function wantedExports({ assigned, rest }) {
  const words = new Set([...rest, loader].join("\n").match(/[\w$]+/g));
  const wanted = new Set(imports.filter(({ module }) => module.startsWith("GOT.")).map(({ name }) => name));
  const variables = new Map(statements(assigned).map((each) => [exportOf(each), variablesOf(each)]));
  for (const { name } of WebAssembly.Module.exports(module)) {
    if (words.has(name) || variables.get(name)?.some((each) => words.has(each))) wanted.add(name);
  }
  return wanted;
}

/** @param {string} text */
function statements(text) {
  return text.split(";").filter(Boolean);
}

/** @param {string} statement */
function exportOf(statement) {
  const name = /wasmExports\["([^"]+)"\]/.exec(statement)?.[1];
  if (!name) throw new Error(`pyodide.asm.mjs: not understood: ${statement.slice(0, 200)}`);
  return name;
}

/** @param {string} statement */
function variablesOf(statement) {
  return [...statement.matchAll(/(?:^|=)([\w$]+)=/g)].map(([, name]) => name);
}

/**
 * The script with only the wanted symbols, and only the functions that the WebAssembly file imports.
 * @param {Parts} parts
 */
function trimmed({ declared, assigned, imported, converted, rest }) {
  const assigning = statements(assigned).filter((each) => wanted.has(exportOf(each)));
  const variables = new Set(assigning.flatMap(variablesOf));
  const declaring = declared.split(",").filter((each) => variables.has(each) || !each.startsWith("_"));
  const converting = converted.replace(/wasmExports\["([^"]+)"\]=makeWrapper[^;]*;/g, (all, name) => (wanted.has(name) ? all : ""));
  const names = new Set(imports.map(({ name }) => name));
  const importing = /** @type {string[]} */ ([]);
  const unwanted = new Set();
  for (const entry of imported.split(",")) {
    const [name, value = name] = entry.split(":").map((each) => each.replaceAll('"', ""));
    if (names.has(name) && !DRAWS.test(name)) importing.push(entry);
    else unwanted.add(value);
  }
  const texts = [declaring.join(","), assigning.join(";"), importing.join(","), converting];
  const whole = replaced(rest.map((each, at) => each + (texts[at] ?? "")).join(""), IS_MISSING, `if(!value&&(!entry.required||${DRAWS}.test(symName))){`);
  // Remove the signatures of unwanted functions, which would otherwise keep them in use.
  return whole.replace(/([\w$]+)\.sig="[^"]*";/g, (all, name) => (unwanted.has(name) ? "" : all));
}

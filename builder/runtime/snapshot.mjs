// node snapshot.mjs TASK.json: starts Python with the packed library, imports our package, and writes its memory in the
// format of theme/worker/memory.mjs.
// The task: {pyodide: folder, worker: folder of memory.mjs and parts.mjs, python: prepare.py, library: zip, parts: folder,
// include: [packages], engine: [modules], used: [modules], out}
import drawing from "node:crypto";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

import { task } from "./task.mjs";

makeReproducible();

const { packMemory, unpackMemory, restoring, COPY, KEEP } = await import(pathToFileURL(join(task.worker, "memory.mjs")).href);
const { placePart } = await import(pathToFileURL(join(task.worker, "parts.mjs")).href);
const { loadPyodide } = await import(pathToFileURL(join(task.pyodide, "pyodide.mjs")).href);
const { default: createModule } = await import(pathToFileURL(join(task.pyodide, "pyodide.asm.mjs")).href);

// Block size of the comparison. Smaller blocks leave out a little more, but need more spans.
const BLOCK = 512;
// Margin for a browser that uses more memory than node before its memory is restored.
const UNSURE = 1 << 20;
const options = { stdLibURL: task.library, env: { PYTHONHASHSEED: "0", LANG: "C.UTF-8" } };

// The memory as instantiated from the WebAssembly file, before any of its code has run.
/** @type {Uint8Array} */
let untouched;
/** @type {any} */
const instantiate = WebAssembly.instantiate;
WebAssembly.instantiate = async (/** @type {any} */ ...args) => {
  const made = await instantiate(...args);
  const memory = made.instance?.exports.memory;
  if (memory) untouched = new Uint8Array(memory.buffer).slice();
  return made;
};

const python = await loadPyodide({ ...options, _makeSnapshot: true });
place(python, "engine");
const prepared = python.toPy({ include: task.include, engine: task.engine, used: task.used });
python.runPython(readFileSync(task.python, "utf8"), { globals: prepared, filename: "prepare.py" });
prepared.destroy();
clean(python._module);
const made = python.makeMemorySnapshot();
const headLength = new DataView(made.buffer).getUint32(4, true);
const [head, memory] = [made.subarray(0, headLength), made.subarray(headLength)];

/**
 * Fix everything that could make the memory differ between builds: the time, random numbers, the time zone and paths.
 * In the page, Python reads them again, or boot.mjs sets them.
 */
function makeReproducible() {
  const moment = 315_532_800_000; // the earliest that a zip can hold
  process.env.TZ = "UTC";
  /** @type {any} */ (globalThis).Date = class extends Date {
    static now = () => moment;
    constructor(/** @type {[number]} */ ...args) {
      super(...(args.length ? args : /** @type {[number]} */ ([moment])));
    }
  };
  performance.now = () => 0;
  Math.random = () => 0.5;
  /** @type {any} */
  const filled = (/** @type {Uint8Array} */ bytes) => bytes.fill(0);
  drawing.randomFillSync = crypto.getRandomValues = filled;
  process.argv.splice(1, Infinity, "/snapshot.mjs");
}

/**
 * Place the files of a part. A snapshot has no files, so the page does the same.
 * @param {any} python
 * @param {string} part
 */
function place(python, part) {
  placePart(python.FS, new Uint8Array(readFileSync(join(task.parts, part))));
}

/**
 * Fill free memory with zeros. Its old content would make the snapshot 5 % larger.
 * @param {any} module
 */
function clean(module) {
  const used = writtenIn(module.HEAPU8);
  const allocated = [];
  for (let size = 1 << 20; size >= 16; size = size * 3 >> 2) {
    for (let at = module._malloc(size); at; at = module._malloc(size)) {
      module.HEAPU8.fill(0, at, at + size);
      allocated.push(at);
      if (at + size > used) break; // Memory from here on was never used.
    }
  }
  for (const at of allocated) module._free(at);
}

/**
 * Return the end of the last byte that is not zero.
 * @param {Uint8Array} heap
 */
function writtenIn(heap) {
  let end = heap.length;
  while (end && heap[end - 1] === 0) end -= 1;
  return end;
}

/**
 * Divide the memory into spans. A block is KEEP only if neither Python nor the start-up wrote to it.
 * @param {Uint8Array} started
 */
function spansOf(started) {
  const spans = /** @type {number[][]} */ ([]);
  for (let start = 0; start < memory.length; start += BLOCK) {
    let [zero, same] = [true, start + BLOCK <= Math.min(untouched.length, started.length)];
    for (let at = start; at < start + BLOCK && (zero || same); at++) {
      if (memory[at] !== 0) zero = false;
      if (same && (memory[at] !== untouched[at] || memory[at] !== started[at])) same = false;
    }
    if (zero) continue;
    const kind = same ? KEEP : COPY;
    const last = spans.at(-1);
    if (last && last[2] === kind && last[0] + last[1] === start) last[1] += BLOCK;
    else spans.push([start, BLOCK, kind]);
  }
  return spans;
}

/** @param {any} snapshot */
async function restored(snapshot) {
  let before = new Uint8Array(0);
  let after = new Uint8Array(0);
  const watched = { ...snapshot, fill: (/** @type {Uint8Array} */ heap) => ((before = heap.slice()), snapshot.fill(heap)) };
  const again = await loadPyodide({
    ...options,
    ...restoring(createModule, Promise.resolve(watched), (/** @type {any} */ module) => (after = module.HEAPU8.slice())),
  });
  return { before, after, again };
}

// The first restore shows what the start-up writes; the second verifies the packed form.
const everything = unpackMemory(packMemory(head, memory, [[0, memory.length, COPY]]));
const { before } = await restored(everything);
const packed = packMemory(head, memory, spansOf(before), writtenIn(before) + UNSURE);
const { after, again } = await restored(unpackMemory(packed));
if (Buffer.compare(memory, after.subarray(0, memory.length)) !== 0) throw new Error("the snapshot does not restore");
// The engine is in memory already, so place the other parts.
for (const part of readdirSync(task.parts)) if (part !== "engine") place(again, part);
again.runPython("from calculators import catalogue; catalogue.refresh(); assert catalogue.every()");
writeFileSync(task.out, packed);
process.stdout.write(JSON.stringify({ memory: memory.length, packed: packed.length }));

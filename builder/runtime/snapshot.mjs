// node snapshot.mjs TASK.json: boots Python with the packed library, imports our package, and keeps
// its memory in the form of theme/worker/memory.mjs.
// The task: {pyodide: folder, worker: folder of memory.mjs and parts.mjs, python: prepare.py, library: zip, parts: folder,
// include: [packages], engine: [modules], used: [modules], out}
import drawing from "node:crypto";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

import { task } from "./task.mjs";

holdStill();

const { packMemory, unpackMemory, restoring, COPY, KEEP } = await import(pathToFileURL(join(task.worker, "memory.mjs")).href);
const { placePart } = await import(pathToFileURL(join(task.worker, "parts.mjs")).href);
const { loadPyodide } = await import(pathToFileURL(join(task.pyodide, "pyodide.mjs")).href);
const { default: createModule } = await import(pathToFileURL(join(task.pyodide, "pyodide.asm.mjs")).href);

// Page size of the comparison. Smaller finds a little more to leave out and costs more spans.
const BLOCK = 512;
// By how much more memory a browser may use than node before its memory is filled.
const UNSURE = 1 << 20;
const options = { stdLibURL: task.library, env: { PYTHONHASHSEED: "0", LANG: "C.UTF-8" } };

// The memory as the WebAssembly file alone makes it, before any of its code has run.
let untouched;
/** @type {any} */
const instantiate = WebAssembly.instantiate;
WebAssembly.instantiate = async (/** @type {any} */ ...given) => {
  const made = await instantiate(...given);
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
 * Set all that would differ from one build to the next and find its way into the memory: time, what is drawn by lot, the zone and the
 * names of places. Python reads them again in the page, or is told to (boot.mjs).
 */
function holdStill() {
  const moment = 315_532_800_000; // the earliest that a zip can hold
  process.env.TZ = "UTC";
  /** @type {any} */ (globalThis).Date = class extends Date {
    static now = () => moment;
    constructor(/** @type {[number]} */ ...given) {
      super(...(given.length ? given : /** @type {[number]} */ ([moment])));
    }
  };
  performance.now = () => 0;
  Math.random = () => 0.5;
  /** @type {any} */
  const filled = (bytes) => bytes.fill(0);
  drawing.randomFillSync = crypto.getRandomValues = filled;
  process.argv.splice(1, Infinity, "/snapshot.mjs");
}

/** Files are not part of a snapshot: the page places them in the same way. */
function place(python, part) {
  placePart(python.FS, new Uint8Array(readFileSync(join(task.parts, part))));
}

/**
 * Write zeros over the memory that is free: what it held before would be packed along, and weighs a twentieth.
 */
function clean(module) {
  const used = writtenIn(module.HEAPU8);
  const taken = [];
  for (let size = 1 << 20; size >= 16; size = size * 3 >> 2) {
    for (let at = module._malloc(size); at; at = module._malloc(size)) {
      module.HEAPU8.fill(0, at, at + size);
      taken.push(at);
      if (at + size > used) break; // From here on it is memory that was never used.
    }
  }
  for (const at of taken) module._free(at);
}

/** Return where the last byte that is not zero ends. */
function writtenIn(heap) {
  let end = heap.length;
  while (end && heap[end - 1] === 0) end -= 1;
  return end;
}

/** Cut the memory into spans. A block is kept only if neither Python nor the start-up wrote to it. */
function spansOf(started) {
  const spans = [];
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

async function restored(snapshot) {
  let before, after;
  const watched = { ...snapshot, fill: (heap) => ((before = heap.slice()), snapshot.fill(heap)) };
  const again = await loadPyodide({
    ...options,
    ...restoring(createModule, Promise.resolve(watched), (module) => (after = module.HEAPU8.slice())),
  });
  return { before, after, again };
}

// A first restore shows what the start-up writes; the second proves that the packed form is whole.
const everything = unpackMemory(packMemory(head, memory, [[0, memory.length, COPY]]));
const { before } = await restored(everything);
const packed = packMemory(head, memory, spansOf(before), writtenIn(before) + UNSURE);
const { after, again } = await restored(unpackMemory(packed));
if (Buffer.compare(memory, after.subarray(0, memory.length)) !== 0) throw new Error("the snapshot does not restore");
// With all but the engine, which is in memory.
for (const part of readdirSync(task.parts)) if (part !== "engine") place(again, part);
again.runPython("from calculators import catalogue; catalogue.refresh(); assert catalogue.every()");
writeFileSync(task.out, packed);
process.stdout.write(JSON.stringify({ memory: memory.length, packed: packed.length }));

// The form in which the memory of a booted Python is kept: only what the WebAssembly file does not
// bring along itself. Written by builder/runtime/snapshot.mjs, read by boot.mjs.
//
//   u32 magic, u32 length of the head, u32 length of the memory, u32 number of spans, u32 written: from there on the memory that is
//   filled was never written to, and is left alone, since a page of memory that is touched takes time and counts as used
//   per span: u32 start, u32 length, u32 kind (COPY: its bytes follow below; KEEP: as instantiated)
//   the head (Pyodide's own, with the table of JavaScript objects), then the bytes of all COPY spans
//
// What lies in no span is zero.

const MAGIC = 0x32574444; // "DDW2"
const HEADER = 20;
export const COPY = 0;
export const KEEP = 1;

/** Return the packed bytes of `memory`, described by `spans` of [start, length, kind] in rising order. */
export function packMemory(head, memory, spans, written = memory.length) {
  const copied = spans.reduce((sum, [, length, kind]) => sum + (kind === COPY ? length : 0), 0);
  const table = new Uint32Array([MAGIC, head.length, memory.length, spans.length, written, ...spans.flat()]);
  const packed = new Uint8Array(table.byteLength + head.length + copied);
  packed.set(new Uint8Array(table.buffer));
  packed.set(head, table.byteLength);
  let at = table.byteLength + head.length;
  for (const [start, length, kind] of spans) {
    if (kind !== COPY) continue;
    packed.set(memory.subarray(start, start + length), at);
    at += length;
  }
  return packed;
}

/**
 * Read what packMemory wrote: {head, length, fill(heap)}. Throws an Error when the bytes are of
 * another form or cut short, before any memory is touched.
 */
export function unpackMemory(packed) {
  const view = new DataView(packed.buffer, packed.byteOffset, packed.byteLength);
  if (packed.length < HEADER || view.getUint32(0, true) !== MAGIC) throw new Error("not a memory snapshot");
  const [headLength, length, count, written] = [4, 8, 12, 16].map((at) => view.getUint32(at, true));
  const tableEnd = HEADER + 12 * count;
  if (packed.length < tableEnd + headLength) throw new Error("the memory snapshot is cut short");
  const table = Array.from({ length: count }, (_, each) =>
    [0, 4, 8].map((part) => view.getUint32(HEADER + 12 * each + part, true)),
  );
  const copied = table.reduce((sum, [, size, kind]) => sum + (kind === COPY ? size : 0), 0);
  if (packed.length !== tableEnd + headLength + copied) throw new Error("the memory snapshot is cut short");
  const fill = (heap) => {
    let at = tableEnd + headLength;
    let done = 0;
    const clear = (end) => done < written && heap.fill(0, done, Math.min(end, written));
    for (const [start, size, kind] of table) {
      clear(start);
      if (kind === COPY) {
        heap.set(packed.subarray(at, at + size), start);
        at += size;
      }
      done = start + size;
    }
    clear(heap.length);
  };
  return { head: packed.subarray(tableEnd, tableEnd + headLength), length, fill };
}

/**
 * Make Pyodide take its memory from `coming`, a promise of what unpackMemory returned. Returns the options for
 * loadPyodide, given the function that pyodide.asm.mjs exports.
 */
export function restoring(createModule, coming, afterwards = (_module) => {}) {
  return {
    // Pyodide would wait for a snapshot before it does anything else: it is given its own a moment later.
    _loadSnapshot: Promise.resolve(new Uint8Array(0)),
    createPyodideModule: async (settings) => {
      const module = await createModule(settings);
      // One that does not come is told only now, when nothing of this module is still under way.
      const snapshot = await coming;
      const restoreHead = settings.API.restoreSnapshot;
      // Called once, in one go with what Pyodide does before and after it: nothing can come between.
      settings.API.restoreSnapshot = () => {
        const state = restoreHead(snapshot.head);
        const missing = snapshot.length - module.HEAPU8.length;
        if (missing > 0 && !module.growMemory(snapshot.length)) throw new Error("not enough memory");
        snapshot.fill(module.HEAPU8);
        afterwards(module);
        return state;
      };
      return module;
    },
  };
}

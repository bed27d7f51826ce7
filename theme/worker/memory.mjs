// The file format for the memory of a started Python, without the parts that the WebAssembly file itself contains.
// Written by builder/runtime/snapshot.mjs, read by boot.mjs.
//
//   u32 magic, u32 length of the head, u32 length of the memory, u32 number of spans, u32 written: memory from there on was
//   never written to and is not cleared, since touching a page of memory takes time and counts as use
//   per span: u32 start, u32 length, u32 kind (COPY: its bytes follow below; KEEP: as instantiated)
//   the head (Pyodide's own, with the table of JavaScript objects), then the bytes of all COPY spans
//
// Memory outside all spans is zero.

const MAGIC = 0x32574444; // "DDW2"
const HEADER = 20;
export const COPY = 0;
export const KEEP = 1;

/**
 * Return the packed bytes of `memory`, described by `spans` of [start, length, kind] in rising order.
 * @param {Uint8Array} head
 * @param {Uint8Array} memory
 * @param {number[][]} spans
 */
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
 * Parse what packMemory wrote: {head, length, fill(heap)}. Throws an Error if the bytes have another format or are
 * truncated, before it changes any memory.
 * @param {Uint8Array} packed
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
  /** @param {Uint8Array} heap */
  const fill = (heap) => {
    let at = tableEnd + headLength;
    let done = 0;
    /** @param {number} end */
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
 * Returns options for loadPyodide that restore the memory from `unpacked`, a promise of unpackMemory's result.
 * `createModule` is the function that pyodide.asm.mjs exports.
 * @param {(settings: any) => Promise<any>} createModule
 * @param {Promise<ReturnType<typeof unpackMemory>>} unpacked
 */
export function restoring(createModule, unpacked, afterwards = (/** @type {any} */ _module) => {}) {
  return {
    // Pyodide would wait for the snapshot before it does anything else, so give it an empty one and the real one later.
    _loadSnapshot: Promise.resolve(new Uint8Array(0)),
    createPyodideModule: async (/** @type {any} */ settings) => {
      const module = await createModule(settings);
      // Await it here, so that a failure is reported only once nothing of this module is still running.
      const snapshot = await unpacked;
      const restoreHead = settings.API.restoreSnapshot;
      // Pyodide calls this once, synchronously, so nothing else runs in between.
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

// Requests to the engine and outcomes that the page itself gives, in the form that theme/engine/engine.mjs passes on.

/**
 * An answer without a result.
 * @param {string} outcome
 * @returns {Reply}
 */
export function outcomeOf(outcome, more = {}) {
  return { envelope: { outcome, ...more }, buffers: [] };
}

/**
 * Converts a request with ArrayBuffers to JSON text, a list of copies, and an identifier of its files: "" without files,
 * or if one has no hash.
 */
export function packed({ files = {}, ...request }) {
  const buffers = /** @type {ArrayBuffer[]} */ ([]);
  /** @param {ArrayBuffer} buffer */
  const copy = (buffer) => buffers.push(buffer.slice(0)) - 1;
  const described = Object.entries(files).map(([field, { name, bytes, pixels }]) => [
    field,
    {
      name,
      bytes: copy(bytes),
      ...(pixels && { pixels: { buffer: copy(pixels.rgba), width: pixels.width, height: pixels.height } }),
    },
  ]);
  const known = Object.values(files).map(({ hash }) => hash);
  return {
    envelope: JSON.stringify({ ...request, files: Object.fromEntries(described) }),
    buffers,
    files: known.every(Boolean) ? known.join() : "",
  };
}

/** @typedef {{width: number, height: number, rgba: ArrayBuffer}} Pixels rows from the top, 4 bytes a pixel */

/** @returns {Promise<Pixels | null>} */
export async function noPixels() {
  return null;
}

/** Whether to run without the memory snapshot: with ?engine=plain in the address, for tests. */
export function wantsPlain() {
  return new URLSearchParams(globalThis.location?.search).get("engine") === "plain";
}

// Reads and rewrites the sections of a WebAssembly file that are trimmed. (WebAssembly Core Specification, 5.5)

const EXPORTS = 7;
const DATA = 11;

/**
 * Yield [id of the section, its start, the start of its content, its end].
 * @param {Buffer} wasm
 */
function* sections(wasm) {
  for (let start = 8; start < wasm.length; ) {
    const [size, content] = number(wasm, start + 1);
    yield [wasm[start], start, content, content + size];
    start = content + size;
  }
}

/**
 * @param {Buffer} wasm
 * @param {number} wanted id
 */
function section(wasm, wanted) {
  const found = [...sections(wasm)].find(([id]) => id === wanted);
  if (!found) throw new Error(`pyodide.asm.wasm: there is no section ${wanted}`);
  return found;
}

/**
 * Decode an unsigned LEB128 number: [number, its end].
 * @param {Uint8Array} wasm
 * @param {number} at
 */
function number(wasm, at) {
  let [value, factor] = [0, 1];
  for (;;) {
    const byte = wasm[at++];
    value += (byte & 0x7f) * factor;
    factor *= 128;
    if (byte < 0x80) return [value, at];
  }
}

/** @param {number} value */
function written(value) {
  const bytes = [];
  for (; value >= 0x80; value = Math.floor(value / 128)) bytes.push((value % 128) | 0x80);
  return Buffer.from([...bytes, value]);
}

/**
 * Return the file with only the exports in `names`.
 * @param {Buffer} wasm
 * @param {Set<string>} names
 */
export function withExports(wasm, names) {
  const [, start, content, end] = section(wasm, EXPORTS);
  let [count, at] = number(wasm, content);
  const entries = [];
  for (; count; count--) {
    const begin = at;
    const [length, name] = number(wasm, at);
    at = number(wasm, name + length + 1)[1];
    if (names.has(wasm.toString("utf8", name, name + length))) entries.push(wasm.subarray(begin, at));
  }
  const body = Buffer.concat([written(entries.length), ...entries]);
  return Buffer.concat([wasm.subarray(0, start), Buffer.from([EXPORTS]), written(body.length), body, wasm.subarray(end)]);
}

/**
 * Return the memory segments in the file, {address, bytes}. The bytes are views: writing to them changes the file.
 * @param {Buffer} wasm
 */
export function dataOf(wasm) {
  const [, , content] = section(wasm, DATA);
  let [count, at] = number(wasm, content);
  const pieces = [];
  for (; count; count--) {
    // flag 0: in the first memory; i32.const, the address, end
    if (wasm[at] !== 0 || wasm[at + 1] !== 0x41) throw new Error("a memory segment has an unexpected form");
    const [address, next] = number(wasm, at + 2);
    const [length, start] = number(wasm, next + 1);
    pieces.push({ address, bytes: wasm.subarray(start, start + length) });
    at = start + length;
  }
  return pieces;
}

/**
 * Turns a picture's pixels by its EXIF orientation. The browser would do it too, but rounds colours.
 */

/**
 * Returns a PNG or WebP file without its EXIF, so that the browser does not turn it; null for other files.
 * @param {ArrayBuffer} bytes
 * @returns {Uint8Array | null}
 */
export function withoutTurn(bytes) {
  const file = new Uint8Array(bytes);
  const view = new DataView(bytes);
  /** @param {number} at */
  const name = (at) => String.fromCharCode(...file.subarray(at, at + 4));
  if (name(0) === "\x89PNG") {
    for (let at = 8; at + 12 <= file.length; ) {
      const end = at + 12 + view.getUint32(at);
      if (name(at + 4) === "eXIf") return joined(file.subarray(0, at), file.subarray(end));
      at = end;
    }
  }
  if (name(0) === "RIFF" && name(8) === "WEBP") {
    for (let at = 12; at + 8 <= file.length; at += 8 + 2 * Math.ceil(view.getUint32(at + 4, true) / 2)) {
      // Decoders skip chunks with unknown names, and renaming one keeps all sizes valid.
      if (name(at) === "EXIF") return joined(file.subarray(0, at), new TextEncoder().encode("WAS_"), file.subarray(at + 4));
    }
  }
  return null;
}

/** @param {...Uint8Array} parts */
function joined(...parts) {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/**
 * Turns and mirrors pixels; 5 to 8 swap width and height.
 * @param {{width: number, height: number, rgba: ArrayBuffer}} pixels rows from the top
 * @param {number} orientation EXIF's, 1 to 8
 * @returns {{width: number, height: number, rgba: ArrayBuffer}}
 */
export function turned({ width, height, rgba }, orientation) {
  if (orientation === 1) return { width, height, rgba };
  const fromRight = [2, 3, 7, 8].includes(orientation);
  const fromBottom = [3, 4, 6, 7].includes(orientation);
  const along = fromRight ? -1 : 1;
  const down = fromBottom ? -width : width;
  const first = (fromRight ? width - 1 : 0) + (fromBottom ? (height - 1) * width : 0);
  const upright = orientation < 5 ? { width, height, along, down } : { width: height, height: width, along: down, down: along };
  const stored = new Uint32Array(rgba);
  const made = new Uint32Array(stored.length);
  for (let y = 0, at = 0; y < upright.height; y += 1) {
    for (let x = 0, from = first + y * upright.down; x < upright.width; x += 1, from += upright.along) made[at++] = stored[from];
  }
  return { width: upright.width, height: upright.height, rgba: made.buffer };
}

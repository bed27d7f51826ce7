// Unpacks the Brotli stream of WOFF2 fonts for Python, which imports it as page_brotli (calculators/lettering/fonts).
// A bundle of its own, loaded with the first such font.
import { BrotliDecStream, initSync } from "brotli-dec-wasm/web";

/**
 * Return the module for Python.
 * @param {Uint8Array} wasm
 */
export function decoder(wasm) {
  initSync({ module: wasm });
  /**
   * Unpack `data`, bytes of Python's. No more than one byte above `size` is ever made.
   * @param {any} data
   * @param {number} size
   */
  const unpacked = (data, size) => {
    const view = data.getBuffer("u8");
    const stream = new BrotliDecStream();
    try {
      return stream.dec(view.data, size + 1).buf;
    } finally {
      stream.free();
      view.release();
    }
  };
  return { unpacked };
}

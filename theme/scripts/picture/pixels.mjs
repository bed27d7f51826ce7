/**
 * Reads the pixels of a picture, exact to the bit for lossless files. A 2D canvas multiplies colours by alpha and back,
 * which rounds them; WebGL returns the decoder's values. The browser's EXIF turn rounds them too, so files that may be
 * transparent are turned in turn.mjs instead; a JPEG never is transparent. Without WebGL a canvas has to do: opaque
 * pixels stay exact, and colours under partial alpha are rounded.
 */

import { turned, withoutTurn } from "./turn.mjs";

/** @type {ImageBitmapOptions} */
const AS_STORED = { premultiplyAlpha: "none", colorSpaceConversion: "none", imageOrientation: "from-image" };
/** Converts colours to sRGB by the file's profile. Without a profile, the browser would convert by a PNG's gamma chunk.
 * @type {ImageBitmapOptions}
 */
const BY_PROFILE = { ...AS_STORED, colorSpaceConversion: "default" };

/** Most pixels read in one task, so that the page stays responsive. */
const AT_ONCE_PX = 2_000_000;

/** A PNG with one pixel of partial alpha, and that pixel's value. */
const FAINT = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR4nGM4kWLEDAAEuAFih/+f6QAAAABJRU5ErkJggg==";
const FAINT_PIXEL = [200, 100, 50, 3];

/**
 * Decodes a picture and turns it upright. Returns null if this browser cannot decode it.
 * @param {ArrayBuffer} bytes the file
 * @param {string} media its media type
 * @param {{orientation: number, profiled: boolean}} header EXIF's turn, 1 to 8; whether the file has a colour profile
 * @returns {Promise<null | {width: number, height: number, rgba: ArrayBuffer}>} rows from the top, 4 bytes a pixel
 */
export async function pixelsOf(bytes, media, { orientation, profiled }) {
  const gl = document.createElement("canvas").getContext("webgl2");
  try {
    const upright = orientation === 1 ? null : withoutTurn(bytes);
    const file = new Blob([/** @type {BlobPart} */ (upright ?? bytes)], { type: media });
    const options = profiled ? BY_PROFILE : AS_STORED;
    const whole = await createImageBitmap(file, options);
    const { width, height } = whole;
    const rgba = gl ? await readByTexture(gl, file, options, whole, isJpeg(bytes)) : readByCanvas(whole);
    whole.close();
    return rgba && turned({ width, height, rgba: rgba.buffer }, upright ? orientation : 1);
  } catch (error) {
    if (error instanceof DOMException || error instanceof RangeError) return null;
    throw error;
  } finally {
    gl?.getExtension("WEBGL_lose_context")?.loseContext();
  }
}

/**
 * Frees the pixels of a file that no field holds any more, without waiting for garbage collection. If the file comes
 * back, it is decoded again.
 * @param {{pixels?: Promise<any>} | undefined} file
 */
export function freePixels(file) {
  const made = file?.pixels;
  if (!made) return;
  delete file.pixels;
  // In a later task, by when a question that was about to be sent has copied them.
  made.then((pixels) => setTimeout(() => pixels?.rgba.transfer?.(0), 0)).catch(() => {}); // Whoever asked for the pixels handles the error.
}

/**
 * @param {WebGL2RenderingContext} gl
 * @param {Blob} file
 * @param {ImageBitmapOptions} options
 * @param {ImageBitmap} whole
 * @param {boolean} isOpaque
 */
async function readByTexture(gl, file, options, whole, isOpaque) {
  const { width, height } = whole;
  const rgba = new Uint8Array(width * height * 4);
  const largest = gl.getParameter(gl.MAX_TEXTURE_SIZE);
  prepare(gl);
  if (width > largest || height > largest) {
    await readTiles(gl, file, options, rgba, width, height, largest);
  } else {
    const asBitmap = isOpaque || (await bitmapsKeepColours(gl));
    await readTile(gl, asBitmap ? whole : await elementOf(file), { rgba, width, height, stride: width, left: 0, top: 0 });
  }
  return gl.getError() === gl.NO_ERROR ? rgba : null;
}

/** @param {ArrayBuffer} bytes */
const isJpeg = (bytes) => new Uint8Array(bytes, 0, 2).join() === "255,216";

/**
 * Whether this browser's bitmaps preserve colours under partial alpha. WebKit's do not, despite premultiplyAlpha.
 * @param {WebGL2RenderingContext} gl
 */
async function bitmapsKeepColours(gl) {
  const file = new Blob([Uint8Array.from(atob(FAINT), (letter) => letter.charCodeAt(0))], { type: "image/png" });
  const bitmap = await createImageBitmap(file, AS_STORED);
  const rgba = new Uint8Array(4);
  await readTile(gl, bitmap, { rgba, width: 1, height: 1, stride: 1, left: 0, top: 0 });
  bitmap.close();
  return rgba.join() === FAINT_PIXEL.join();
}

/**
 * Returns the picture as an image element, which WebGL decodes itself, without rounding.
 * @param {Blob} file
 */
async function elementOf(file) {
  const image = new Image();
  image.src = URL.createObjectURL(file);
  try {
    await image.decode();
    return image;
  } finally {
    URL.revokeObjectURL(image.src);
  }
}

/** @param {ImageBitmap} whole */
function readByCanvas(whole) {
  const canvas = document.createElement("canvas");
  Object.assign(canvas, { width: whole.width, height: whole.height });
  const context = canvas.getContext("2d", { willReadFrequently: true });
  if (!context) return null;
  context.drawImage(whole, 0, 0);
  return context.getImageData(0, 0, whole.width, whole.height).data;
}

/** @param {WebGL2RenderingContext} gl */
function prepare(gl) {
  gl.pixelStorei(gl.UNPACK_PREMULTIPLY_ALPHA_WEBGL, false);
  gl.pixelStorei(gl.UNPACK_COLORSPACE_CONVERSION_WEBGL, gl.NONE);
  gl.pixelStorei(gl.UNPACK_ALIGNMENT, 1);
  gl.pixelStorei(gl.PACK_ALIGNMENT, 1);
  gl.bindTexture(gl.TEXTURE_2D, gl.createTexture());
  gl.bindFramebuffer(gl.FRAMEBUFFER, gl.createFramebuffer());
}

/**
 * Reads a bitmap or element into its place in `rgba`, whose rows are `stride` pixels long. A large one is read in bands,
 * one task each, so that the page stays responsive.
 * @param {WebGL2RenderingContext} gl
 * @param {ImageBitmap | HTMLImageElement} source
 * @param {{rgba: Uint8Array, width: number, height: number, stride: number, left: number, top: number}} place
 */
async function readTile(gl, source, { rgba, width, height, stride, left, top }) {
  gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA8, gl.RGBA, gl.UNSIGNED_BYTE, source);
  const texture = gl.getParameter(gl.TEXTURE_BINDING_2D);
  gl.framebufferTexture2D(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0, gl.TEXTURE_2D, texture, 0);
  gl.pixelStorei(gl.PACK_ROW_LENGTH, stride);
  const band = Math.ceil(AT_ONCE_PX / width);
  for (let from = 0; from < height; from += band) {
    if (width * height > AT_ONCE_PX) await new Promise((resolve) => setTimeout(resolve, 0));
    const rows = Math.min(band, height - from);
    gl.readPixels(0, from, width, rows, gl.RGBA, gl.UNSIGNED_BYTE, rgba, ((top + from) * stride + left) * 4);
  }
}

/**
 * @param {WebGL2RenderingContext} gl
 * @param {Blob} file
 * @param {ImageBitmapOptions} options
 * @param {Uint8Array} rgba
 * @param {number} width
 * @param {number} height
 * @param {number} largest
 */
async function readTiles(gl, file, options, rgba, width, height, largest) {
  for (let top = 0; top < height; top += largest) {
    for (let left = 0; left < width; left += largest) {
      const across = Math.min(largest, width - left);
      const down = Math.min(largest, height - top);
      // Cut from the file, not from the whole bitmap, so that the options apply to the tile too.
      const tile = await createImageBitmap(file, left, top, across, down, options);
      await readTile(gl, tile, { rgba, width: across, height: down, stride: width, left, top });
      tile.close();
    }
  }
}

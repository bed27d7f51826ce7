/**
 * The address and the bitmaps of each picture in a form. Those of pictures that no field holds any more are freed.
 */

/** Longer side of the reduced bitmap for a whole picture: a photograph has many more pixels than a screen. */
const SMALL_SIDE_PX = 2048;

/** @typedef {import("../form/files.mjs").HeldFile} HeldFile */

/**
 * @typedef {object} Bitmaps
 * @property {number} width of the picture, in pixels
 * @property {number} height
 * @property {ImageBitmap} full
 * @property {ImageBitmap} small reduced, or `full` itself if that is small enough
 */

/** The pictures of one form. */
export class Pictures {
  #held = new Map();

  /**
   * Returns the address of a picture for `src` or `href`.
   * @param {HeldFile} file
   * @returns {string}
   */
  addressOf(file) {
    const entry = this.#entry(file);
    entry.address ??= URL.createObjectURL(blobOf(file));
    return entry.address;
  }

  /**
   * Returns the bitmaps of a picture, turned as its EXIF says; null where this browser cannot decode it.
   * @param {HeldFile} file
   * @returns {Promise<Bitmaps | null>}
   */
  bitmapsOf(file) {
    const entry = this.#entry(file);
    entry.bitmaps ??= decoded(file);
    return entry.bitmaps;
  }

  /**
   * Frees the pictures of all other files.
   * @param {Iterable<HeldFile>} files
   */
  keepOnly(files) {
    const used = new Set(files);
    for (const [file, entry] of this.#held) {
      if (used.has(file)) continue;
      this.#held.delete(file);
      if (entry.address) URL.revokeObjectURL(entry.address);
      entry.bitmaps?.then(close);
    }
  }

  /** @param {HeldFile} file */
  #entry(file) {
    if (!this.#held.has(file)) this.#held.set(file, {});
    return this.#held.get(file);
  }
}

/**
 * Returns the bitmaps of a small picture at an address, such as one inside a drawing.
 * @param {string} address
 * @returns {Promise<Bitmaps>}
 */
export async function bitmapsAt(address) {
  const image = new Image();
  image.src = address;
  await image.decode();
  const full = await createImageBitmap(image);
  return { width: full.width, height: full.height, full, small: full };
}

/** @param {HeldFile} file */
const blobOf = ({ bytes, media }) => new Blob([bytes], { type: media });

/** @param {HeldFile} file */
async function decoded(file) {
  try {
    const full = await createImageBitmap(blobOf(file), { imageOrientation: "from-image" });
    const { width, height } = full;
    const share = SMALL_SIDE_PX / Math.max(width, height);
    if (share >= 1) return { width, height, full, small: full };
    /** @param {number} length */
    const side = (length) => Math.max(1, Math.round(length * share));
    const small = await createImageBitmap(full, {
      resizeWidth: side(width),
      resizeHeight: side(height),
      resizeQuality: "medium",
    });
    return { width, height, full, small };
  } catch (error) {
    if (error instanceof DOMException) return null;
    throw error;
  }
}

/** @param {Bitmaps | null} bitmaps */
function close(bitmaps) {
  bitmaps?.full.close();
  bitmaps?.small.close();
}

/**
 * Pictures inside the figures of an answer: the reader's own, put in their places, and a loupe over them.
 */

import { Looking } from "./looking.mjs";
import { bitmapsAt } from "./pictures.mjs";

const PLACED = "image[data-picture]";
const LOOKED_AT = "image.dw-loupe";

/** The reader's pictures in the figures of one answer. */
export class Placed {
  #pictures;
  #figures;

  /**
   * @param {HTMLElement} answer the .dw-answer
   * @param {object} to
   * @param {(key: string, parts?: object) => string} to.say
   * @param {import("./pictures.mjs").Pictures} to.pictures
   * @param {AbortSignal} to.signal ends it
   */
  constructor(answer, { say, pictures, signal }) {
    this.#pictures = pictures;
    this.#figures = [...answer.querySelectorAll(".dw-figure")].map((figure) => ({
      figure,
      looking: new Looking(figure, say, signal),
    }));
  }

  /**
   * Puts pictures into figures that were just drawn.
   * @param {Map<string, import("../form/files.mjs").HeldFile>} files by the address of their field
   */
  show(files) {
    for (const { figure, looking } of this.#figures) {
      for (const image of figure.querySelectorAll(PLACED)) {
        const file = files.get(image.dataset.picture);
        if (file?.seen) image.setAttribute("href", this.#pictures.addressOf(file));
        else image.removeAttribute("href");
      }
      const image = figure.querySelector(LOOKED_AT);
      const decode = image && this.#decoderOf(image, files);
      looking.at(decode ? image : null, decode);
    }
  }

  /**
   * Returns a function that decodes a figure's picture: the reader's own, or the one embedded in the drawing.
   * @param {SVGImageElement} image
   * @param {Map<string, import("../form/files.mjs").HeldFile>} files
   */
  #decoderOf(image, files) {
    if (!("picture" in image.dataset)) return () => bitmapsAt(image.href.baseVal);
    const file = files.get(image.dataset.picture);
    return file?.seen ? () => this.#pictures.bitmapsOf(file) : null;
  }
}

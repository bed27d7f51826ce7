/**
 * Shows a form's pictures: in the form, and in its answer.
 */

import { freeImage, loadReduced } from "../form/files.mjs";
import { Marks } from "./marks.mjs";
import { Pictures } from "./pictures.mjs";
import { Placed } from "./placed.mjs";
import { Points } from "./points.mjs";

/** Longer side of the picture that is shown until its answer is there. */
const AWAITED_SIDE_PX = 1200;

/** The pictures of one calculator. */
export class Showing {
  #pictures = new Pictures();
  #points;
  #placed;
  #marks;
  #note;
  #say;
  #stage;
  /** @type {{file?: any, image?: any}} */
  #awaited = {};
  /** @type {Record<"form" | "answer", import("../form/files.mjs").HeldFile[]>} */
  #files = { form: [], answer: [] };

  /**
   * @param {HTMLElement} root the .dw-calculator
   * @param {object} to
   * @param {(key: string, parts?: object) => string} to.say
   * @param {(text: string, actions?: object[]) => void} to.note shows a note to the reader
   * @param {AbortSignal} to.signal ends it
   */
  constructor(root, { say, note, signal }) {
    const pictures = this.#pictures;
    const form = root.querySelector(".dw-form");
    // Points are drawn on the new picture as it is.
    this.#stage = root.querySelector(".dw-work-picture:not(:has(.dw-points))");
    const cards = [...root.querySelectorAll(".dw-points")];
    this.#points = cards.map((card) => new Points(card, form, { say, pictures, note, signal }));
    const marked = [...form.querySelectorAll("[data-marks]")];
    this.#marks = marked.map((field) => new Marks(root, field, { say, signal }));
    this.#note = note;
    this.#say = say;
    this.#placed = new Placed(root.querySelector(".dw-answer"), { say, pictures, signal });
    signal.addEventListener("abort", () => {
      this.#await(null);
      pictures.keepOnly([]);
    });
  }

  /**
   * Shows the current files in the form. A picture is decoded only after its header has been checked.
   * @param {Map<string, import("../form/files.mjs").HeldFile>} files by address
   */
  inForm(files) {
    for (const points of this.#points) {
      const file = files.get(points.of);
      points.show(file?.seen ? file : null);
      points.sync();
    }
    this.#await([...files.values()].find((file) => file.seen && !this.#files.answer.includes(file)));
    this.#holds("form", files);
  }

  /**
   * Shows in a new answer the pictures that it was calculated from.
   * @param {Map<string, import("../form/files.mjs").HeldFile>} files by address
   */
  inAnswer(files) {
    this.#await(null);
    this.#placed.show(files);
    for (const marks of this.#marks) marks.show();
    this.#holds("answer", files);
  }

  /**
   * Shows a new picture, reduced, in place of the one in the answer while its own answer waits for other fields.
   * @param {import("../form/files.mjs").HeldFile | null | undefined} file
   */
  #await(file) {
    if (this.#awaited.file === file || !this.#stage) return;
    const before = this.#awaited.image;
    freeImage(before);
    before?.remove();
    const image = file && Object.assign(new Image(), { className: "dw-awaiting", alt: file.name });
    this.#awaited = { file, image };
    if (image) loadReduced(image, file, AWAITED_SIDE_PX, () => this.#awaited.image === image && this.#stage.prepend(image));
  }

  /**
   * Clears the marks and the notes about points when the reader replaces the picture.
   * @param {string} address of its field
   * @param {import("../form/files.mjs").HeldFile | null} file the new picture
   */
  otherPicture(address, file) {
    for (const points of this.#points) if (file && points.of === address) points.choose(file);
    for (const marks of this.#marks) {
      const text = marks.clear();
      if (text) this.#note(this.#say("marks_cleared", { marks: text }), [{ label: this.#say("undo"), act: () => marks.bringBack(text) }]);
    }
  }

  /**
   * Frees pictures that neither the form nor the displayed answer, which may be older, uses.
   * @param {"form" | "answer"} where
   * @param {Map<string, import("../form/files.mjs").HeldFile>} files
   */
  #holds(where, files) {
    this.#files[where] = [...files.values()];
    this.#pictures.keepOnly([...this.#files.form, ...this.#files.answer]);
  }
}

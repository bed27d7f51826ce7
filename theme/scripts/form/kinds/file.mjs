/** Files: chosen in a field, or offered as a result. */

import { sizeText } from "../../frame/words.mjs";

/** @type {import("../kinds.mjs").FieldKind} */
export const field = { holdsFile: true, ask: "choose_file" };

/** @type {import("../kinds.mjs").ResultKind} */
export const result = { rendererFor: (link, { say }) => new OfferedFile(/** @type {HTMLAnchorElement} */ (link), say) };

/** A link that saves a file. */
class OfferedFile {
  #link;
  #say;
  file = /** @type {any} */ (undefined);

  /**
   * @param {HTMLAnchorElement} link
   * @param {Say} say
   */
  constructor(link, say) {
    this.#link = link;
    this.#say = say;
  }

  /**
   * @param {{name: string, media: string, buffer: number, size: number}} part
   * @param {ArrayBuffer[]} buffers
   */
  show({ name, media, buffer, size }, buffers) {
    this.#link.href = URL.createObjectURL(new Blob([buffers[buffer]], { type: media }));
    this.#link.download = name;
    this.#link.querySelector("[data-part=name]").textContent = this.#say("save_file", { name, size: sizeText(size) });
    this.file = { name, media, bytes: buffers[buffer] };
  }

  /** @param {boolean} hidden */
  hide(hidden) {
    this.#link.hidden = hidden;
    const keep = this.#link.parentElement.querySelector(`.dw-keep[data-keeps="${this.#link.dataset.result}"]`);
    if (keep) keep.hidden = hidden;
  }

  free() {
    if (this.#link.href) URL.revokeObjectURL(this.#link.href);
  }
}

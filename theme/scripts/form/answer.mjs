/**
 * Fills the answer's slots. All texts come from Python; the scripts of the kinds only put them in place.
 */

import { resultKind } from "./kinds.mjs";

/** The answer of one calculator on the page. */
export class Answer {
  #root;
  #page;
  /** @type {Map<HTMLElement, import("./kinds.mjs").Renderer>} */
  #renderers = new Map();
  #ending = new AbortController();

  /**
   * @param {HTMLElement} root the .dw-answer
   * @param {(key: string, parts?: object) => string} say
   */
  constructor(root, say) {
    this.#root = root;
    const form = root.closest(".dw-calculator").querySelector(".dw-form");
    this.#page = { form, say, signal: this.#ending.signal };
  }

  /**
   * Shows a result.
   * @param {Record<string, any>} view by result name, as calculators/answer.py describes it
   * @param {ArrayBuffer[]} buffers the files of the view refer to them by index
   */
  show(view, buffers) {
    this.#free();
    for (const slot of this.#root.querySelectorAll("[data-result]")) {
      const part = view[slot.dataset.result];
      const renderer = this.#rendererOf(slot, part.kind);
      const isEmpty = renderer.isEmpty?.(part) ?? part.shown === null;
      if (renderer.hide) renderer.hide(isEmpty);
      else slot.hidden = isEmpty;
      if (!isEmpty) renderer.show(part, buffers);
    }
    for (const group of this.#root.querySelectorAll(".dw-measures, .dw-files")) {
      group.hidden = [...group.querySelectorAll("[data-result]")].every((slot) => slot.hidden);
    }
  }

  /**
   * Returns a file of the displayed result.
   * @param {string} result its name
   * @returns {{name: string, media: string, bytes: ArrayBuffer} | undefined}
   */
  file(result) {
    return [...this.#renderers].find(([slot]) => slot.dataset.result === result)?.[1].file;
  }

  /** Frees the files and listeners of the answer. */
  forget() {
    this.#ending.abort();
    this.#free();
  }

  /**
   * @param {HTMLElement} slot
   * @param {string} kind
   */
  #rendererOf(slot, kind) {
    if (!this.#renderers.has(slot)) this.#renderers.set(slot, resultKind(kind).rendererFor(slot, this.#page));
    return this.#renderers.get(slot);
  }

  #free() {
    for (const renderer of this.#renderers.values()) renderer.free?.();
  }
}

/**
 * Filling the answer's slots. All texts come from Python; here they are only put in place, by the scripts of their kinds.
 */

import { resultKind } from "./kinds.mjs";

/** The answer of one calculator on the page. */
export class Answer {
  #root;
  #page;
  /** @type {Map<HTMLElement, import("./kinds.mjs").Shown>} */
  #shown = new Map();
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
   * @param {ArrayBuffer[]} buffers those that the view's files point into
   */
  show(view, buffers) {
    this.#free();
    for (const slot of this.#root.querySelectorAll("[data-result]")) {
      const part = view[slot.dataset.result];
      const shown = this.#shownIn(slot, part.kind);
      const isEmpty = shown.isEmpty?.(part) ?? part.shown === null;
      if (shown.hide) shown.hide(isEmpty);
      else slot.hidden = isEmpty;
      if (!isEmpty) shown.show(part, buffers);
    }
    for (const group of this.#root.querySelectorAll(".dw-measures, .dw-files")) {
      group.hidden = [...group.querySelectorAll("[data-result]")].every((slot) => slot.hidden);
    }
  }

  /**
   * Returns a file of the result that is shown.
   * @param {string} result its name
   * @returns {{name: string, media: string, bytes: ArrayBuffer} | undefined}
   */
  file(result) {
    return [...this.#shown].find(([slot]) => slot.dataset.result === result)?.[1].file;
  }

  /** Frees what the answer holds. */
  forget() {
    this.#ending.abort();
    this.#free();
  }

  #shownIn(slot, kind) {
    if (!this.#shown.has(slot)) this.#shown.set(slot, resultKind(kind).shownIn(slot, this.#page));
    return this.#shown.get(slot);
  }

  #free() {
    for (const shown of this.#shown.values()) shown.free?.();
  }
}

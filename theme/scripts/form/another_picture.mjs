/** Asks again for values that belonged to the previous picture, or to that of the worked example. */

import { deliveredText, fieldsOf, labelOf, markFilled, readInputs, unmarkFilled, writeDefault, writeText } from "./fields.mjs";

/**
 * Returns an identifier of the picture that a file shows. Traced outlines have that of their source picture.
 * @param {{of?: string, hash?: string | null, name: string, size: number} | undefined} file
 */
export const sourceOf = (file) => file && (file.of ?? file.hash ?? `${file.name} ${file.size}`);

/** The values of a form that tell something of a picture in it, such as its width. */
export class Belongings {
  #form;
  #touched;
  #visit;
  /** Identifiers of the last pictures by the names of their fields. A removed picture is remembered. */
  #last = new Map();
  #emptied = /** @type {Set<Element>} */ (new Set());

  /**
   * @param {HTMLElement} form
   * @param {Set<Element>} touched the fields that the reader has been in
   * @param {import("./form.mjs").Visit} visit
   * @param {AbortSignal} ended
   */
  constructor(form, touched, visit, ended) {
    this.#form = form;
    this.#touched = touched;
    this.#visit = visit;
    // Another marking has had no picture before.
    visit.store.addEventListener("chosen", () => this.#last.clear(), { signal: ended });
  }

  /**
   * Empties the fields whose values belong to another picture than the newly chosen one. Without a picture, fields that
   * are still empty return to the values of the worked example.
   * @param {string} picture the name of its field
   * @param {any} before the file that was in the field, if any
   * @param {any} file the new one, null if the picture was removed
   * @param {"mm" | "in"} unit the unit that the form shows
   * @returns {{labels: string[], first: boolean, undo: () => void}} the labels of the visible ones, whether the values
   *   were those of the worked example, and a function that restores the values
   */
  change(picture, before, file, unit) {
    const keepsShared = this.#visit.store.keepsWidth;
    const previous = sourceOf(before) ?? this.#last.get(picture);
    this.#last.set(picture, sourceOf(file) ?? previous);
    const typed = readInputs(this.#form, unit);
    const fields = [...fieldsOf(this.#form)].filter(([, field]) => field.dataset.belongsTo === picture);
    if (!file) for (const [name, field] of fields) if (!typed[name] && this.#emptied.has(field)) this.#takeDefault(field, unit);
    const isOther = file && sourceOf(file) !== previous;
    const emptied = fields.filter(
      ([name, field]) =>
        isOther &&
        typed[name] &&
        (previous ? !(keepsShared && field.dataset.shares) : this.#isOfTheExample(field, typed[name])),
    );
    for (const [, field] of emptied) {
      this.#emptied.add(field);
      writeText(field, "", unit);
      unmarkFilled(field);
      if ("optional" in field.dataset) continue;
      field.toggleAttribute("data-unfilled", true);
      markFilled(field, this.#visit.say("asked_beside"));
    }
    const undo = () => {
      for (const [name, field] of emptied) {
        writeText(field, String(typed[name]), unit);
        unmarkFilled(field);
      }
    };
    const labels = emptied.filter(([, field]) => !field.hidden).map(([, field]) => labelOf(field));
    return { labels, first: !previous, undo };
  }

  /**
   * Writes the value of the worked example, which is shown when no picture is chosen, into an empty field.
   * @param {HTMLElement} field
   * @param {"mm" | "in"} unit
   */
  #takeDefault(field, unit) {
    writeDefault(field, unit);
    unmarkFilled(field);
  }

  /**
   * Whether a value is that of the worked example: neither typed here nor carried over from another calculator.
   * @param {HTMLElement} field
   * @param {string | any[]} text
   */
  #isOfTheExample(field, text) {
    return text === deliveredText(field) && !this.#touched.has(field) && !field.hasAttribute("data-filled");
  }
}

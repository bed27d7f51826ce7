/**
 * Gives areas of a drawing a meaning. A touch on the drawing, a choice in its table and typing all write the same field;
 * Python reads it and draws the answer. A key is the number of an area or the letter of a group; the mark of an area
 * takes precedence over that of its group.
 */

import { meantBy, write } from "../form/meant.mjs";
import { marksText } from "../form/texts.mjs";

/** @typedef {number | string} Key */

/**
 * Parses a key.
 * @param {string} text
 * @returns {Key}
 */
function keyOf(text) {
  return /^\d+$/.test(text) ? Number(text) : text;
}

/** The marks of one calculator. */
export class Marks {
  #field;
  #figure;
  #root;
  #say;
  #status;
  #stands = { text: "", unread: "", marks: /** @type {Map<Key, string>} */ (new Map()) };
  /** The key whose choice has the focus, or "". */
  #focused = "";
  /** The checkbox; if ticked, a touch marks a single area instead of its group. */
  #single;

  /**
   * @param {HTMLElement} root the .dw-calculator
   * @param {HTMLElement} field the one that holds the marks
   * @param {object} to
   * @param {(key: string, parts?: object) => string} to.say
   * @param {AbortSignal} to.signal ends it
   */
  constructor(root, field, { say, signal }) {
    this.#root = root;
    this.#field = field;
    this.#say = say;
    this.#figure = root.querySelector(`.dw-figure[data-result="${field.dataset.marks}"]`);
    this.#status = Object.assign(document.createElement("p"), { className: "dw-help dw-marks-status" });
    this.#status.setAttribute("role", "status");
    this.#single = this.#box();
    this.#figure.append(this.#single.parentElement, this.#status);
    /** @type {Listen} */
    const on = (target, type, act) => target.addEventListener(type, act, { signal });
    on(this.#figure, "click", ({ target }) => {
      const area = target.closest(".dw-area");
      if (area) this.#advance(keyOf((this.#single.checked && area.dataset.area) || area.dataset.shown));
    });
    on(this.#single, "change", () => this.#figure.classList.toggle("dw-single", this.#single.checked));
    on(root, "change", ({ target }) => {
      if (target.matches(".dw-mark")) this.#mark(keyOf(target.dataset.area), target.value);
    });
    on(root, "focusin", ({ target }) => (this.#focused = target.matches(".dw-mark") ? target.dataset.area : ""));
  }

  /** Adds a choice for each area to the table of a new answer. */
  show() {
    this.#single.parentElement.hidden = !this.#figure.querySelector("[data-group]");
    const drawing = this.#drawn();
    if (!drawing) return;
    const rows = this.#root.querySelectorAll(`[data-result="${drawing.table}"] tbody tr`);
    for (const row of rows) {
      const key = keyOf(row.querySelector("th").textContent.trim());
      const area = this.#area(key);
      if (area) row.querySelector(`[data-part="${drawing.column}"]`).replaceChildren(this.#choice(key, area, drawing.words));
    }
    if (this.#focused && document.activeElement === document.body) {
      this.#root.querySelector(`.dw-mark[data-area="${this.#focused}"]`)?.focus({ preventScroll: true });
    }
  }

  /**
   * Removes all marks, since they belonged to another picture.
   * @returns {string} the removed marks
   */
  clear() {
    const { value } = this.#typed;
    if (value) this.#write("", []);
    this.#status.textContent = "";
    return value;
  }

  /** @param {string} text the removed marks */
  bringBack(text) {
    this.#typed.value = text;
    this.#changed();
  }

  get #typed() {
    return this.#field.querySelector(".dw-typed");
  }

  /** The drawing's own description: the words of the meanings, and the table's result and column. */
  #drawn() {
    const marked = this.#figure.querySelector("svg[data-marks]");
    return marked && JSON.parse(marked.dataset.marks);
  }

  /** Makes the checkbox under the drawing for marking single areas of a group. */
  #box() {
    const label = Object.assign(document.createElement("label"), { className: "dw-check dw-marks-single", hidden: true });
    const box = Object.assign(document.createElement("input"), { type: "checkbox" });
    label.append(box, Object.assign(document.createElement("span"), { textContent: this.#say("marks_single") }));
    return box;
  }

  /**
   * The shape of an area, or the sign of a group.
   * @param {Key} key
   */
  #area(key) {
    return this.#figure.querySelector(`${typeof key === "number" ? "path" : "g"}[data-area="${key}"]`);
  }

  /**
   * @param {Key} number
   * @param {HTMLElement} area
   * @param {Record<string, string>} words
   */
  #choice(number, area, words) {
    const choice = document.createElement("select");
    choice.className = "dw-select dw-mark";
    choice.dataset.area = String(number);
    choice.setAttribute("aria-label", this.#say("marks_area", { number }));
    for (const [value, text] of Object.entries(words)) choice.append(new Option(text, value));
    choice.value = area.dataset.meant;
    return choice;
  }

  /**
   * Advances an area or a group to the next meaning.
   * @param {Key} number
   */
  #advance(number) {
    const meanings = Object.keys(this.#drawn().words);
    const now = meanings.indexOf(this.#meaning(number));
    this.#mark(number, meanings[(now + 1) % meanings.length]);
  }

  /**
   * Returns the meaning of an area by the typed text, which may be newer than the drawing.
   * @param {Key} number
   */
  #meaning(number) {
    const { unread, marks } = this.#standing();
    return marks.get(number) ?? (unread ? this.#area(number).dataset.meant : this.#unmarked(number, marks));
  }

  /**
   * Returns the meaning of an area that has no mark of its own: its group's, or the guess.
   * @param {Key} number
   * @param {Map<Key, string>} marks
   */
  #unmarked(number, marks) {
    const { group, guess } = this.#area(number).dataset;
    return marks.get(group) ?? guess;
  }

  /**
   * @param {Key} number
   * @param {string} meaning
   */
  #mark(number, meaning) {
    const { words } = this.#drawn();
    const { unread, marks } = this.#standing();
    marks.delete(number);
    // The last mark of an area wins, so new marks can be appended to text that has not been read yet.
    if (unread || meaning !== this.#unmarked(number, marks)) marks.set(number, meaning);
    if (unread) {
      this.#typed.value = `${unread}, ${marksText(marks)}`;
      this.#stands = { text: this.#typed.value, unread, marks };
      this.#changed();
    } else this.#write(marksText(marks), [...marks]);
    const choice = this.#root.querySelector(`.dw-mark[data-area="${number}"]`);
    if (choice) choice.value = meaning;
    this.#status.textContent = this.#say("marks_status", { number, meaning: words[meaning] });
  }

  /** Returns the marks in the text by key, and the part of the text that is `unread`: newly typed, or invalid. */
  #standing() {
    const { value } = this.#typed;
    const read = meantBy(this.#field);
    if (read) return { unread: "", marks: new Map(/** @type {[any, any][]} */ (read)) };
    if (this.#stands.text !== value) this.#stands = { text: value, unread: value.trim(), marks: new Map() };
    return this.#stands;
  }

  /**
   * @param {string} text
   * @param {[Key, string][]} marks
   */
  #write(text, marks) {
    write(this.#field, text, marks);
    this.#changed();
  }

  #changed() {
    this.#typed.dispatchEvent(new Event("input", { bubbles: true }));
  }
}

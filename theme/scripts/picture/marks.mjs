/**
 * Areas of a drawing that mean one thing or another: a touch on the drawing, a choice in the table beside it and
 * typing all write the text of one field, and the answer follows. Python reads that text and draws what it means.
 * A key is the number of an area, or the letter of a group of them; what is marked for an area counts more than its group.
 */

import { meantBy, write } from "../form/meant.mjs";
import { marksText } from "../form/texts.mjs";

/**
 * Returns the key that a text stands for.
 * @param {string} text
 * @returns {number | string}
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
  #told;
  #stands = { text: "", unread: "", marks: new Map() };
  /** The key whose choice has the focus, as text; empty for none. */
  #focused = "";
  /** Whether a touch marks one area of a group alone, and the box that says so. */
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
    this.#told = Object.assign(document.createElement("p"), { className: "dw-help dw-marks-told" });
    this.#told.setAttribute("role", "status");
    this.#single = this.#box();
    this.#figure.append(this.#single.parentElement, this.#told);
    const on = (target, type, act) => target.addEventListener(type, act, { signal });
    on(this.#figure, "click", ({ target }) => {
      const area = target.closest(".dw-area");
      if (area) this.#turn(keyOf((this.#single.checked && area.dataset.area) || area.dataset.shown));
    });
    on(this.#single, "change", () => this.#figure.classList.toggle("dw-single", this.#single.checked));
    on(root, "change", ({ target }) => {
      if (target.matches(".dw-mark")) this.#mark(keyOf(target.dataset.area), target.value);
    });
    on(root, "focusin", ({ target }) => (this.#focused = target.matches(".dw-mark") ? target.dataset.area : ""));
  }

  /** Puts a choice for each area into the table of the answer that was just drawn. */
  show() {
    this.#single.parentElement.hidden = !this.#figure.querySelector("[data-group]");
    const told = this.#drawn();
    if (!told) return;
    const rows = this.#root.querySelectorAll(`[data-result="${told.table}"] tbody tr`);
    for (const row of rows) {
      const key = keyOf(row.querySelector("th").textContent.trim());
      const area = this.#area(key);
      if (area) row.querySelector(`[data-part="${told.column}"]`).replaceChildren(this.#choice(key, area, told.words));
    }
    if (this.#focused && document.activeElement === document.body) {
      this.#root.querySelector(`.dw-mark[data-area="${this.#focused}"]`)?.focus({ preventScroll: true });
    }
  }

  /**
   * Takes all marks away, which belonged to another picture.
   * @returns {string} what they were
   */
  clear() {
    const { value } = this.#typed;
    if (value) this.#write("", []);
    this.#told.textContent = "";
    return value;
  }

  /** @param {string} text marks that were taken away */
  bringBack(text) {
    this.#typed.value = text;
    this.#changed();
  }

  get #typed() {
    return this.#field.querySelector(".dw-typed");
  }

  /** What the drawing says of itself: the words of the meanings, and where the table is. */
  #drawn() {
    const marked = this.#figure.querySelector("svg[data-marks]");
    return marked && JSON.parse(marked.dataset.marks);
  }

  /** The box under the drawing that is ticked to mark single areas of a group. */
  #box() {
    const label = Object.assign(document.createElement("label"), { className: "dw-check dw-marks-single", hidden: true });
    const box = Object.assign(document.createElement("input"), { type: "checkbox" });
    label.append(box, Object.assign(document.createElement("span"), { textContent: this.#say("marks_single") }));
    return box;
  }

  /** The shape of an area, or the sign of a group. */
  #area(key) {
    return this.#figure.querySelector(`${typeof key === "number" ? "path" : "g"}[data-area="${key}"]`);
  }

  #choice(number, area, words) {
    const choice = document.createElement("select");
    choice.className = "dw-select dw-mark";
    choice.dataset.area = number;
    choice.setAttribute("aria-label", this.#say("marks_area", { number }));
    for (const [value, text] of Object.entries(words)) choice.append(new Option(text, value));
    choice.value = area.dataset.meant;
    return choice;
  }

  /** Gives an area or a group the next meaning. */
  #turn(number) {
    const meanings = Object.keys(this.#drawn().words);
    const now = meanings.indexOf(this.#meaning(number));
    this.#mark(number, meanings[(now + 1) % meanings.length]);
  }

  /** Returns what an area means by the text, which may be newer than the drawing. */
  #meaning(number) {
    const { unread, marks } = this.#standing();
    return marks.get(number) ?? (unread ? this.#area(number).dataset.meant : this.#unmarked(number, marks));
  }

  /** Returns what an area means without a mark of its own: what its group was marked, or its guess. */
  #unmarked(number, marks) {
    const { group, guess } = this.#area(number).dataset;
    return marks.get(group) ?? guess;
  }

  #mark(number, meaning) {
    const { words } = this.#drawn();
    const { unread, marks } = this.#standing();
    marks.delete(number);
    // Of two marks for an area the later counts, so these can follow what nobody has read.
    if (unread || meaning !== this.#unmarked(number, marks)) marks.set(number, meaning);
    if (unread) {
      this.#typed.value = `${unread}, ${marksText(marks)}`;
      this.#stands = { text: this.#typed.value, unread, marks };
      this.#changed();
    } else this.#write(marksText(marks), [...marks]);
    const choice = this.#root.querySelector(`.dw-mark[data-area="${number}"]`);
    if (choice) choice.value = meaning;
    this.#told.textContent = this.#say("marks_told", { number, meaning: words[meaning] });
  }

  /** Returns the marks in the text by area, after what in it is `unread`: just typed, or no marks at all. */
  #standing() {
    const { value } = this.#typed;
    const read = meantBy(this.#field);
    if (read) return { unread: "", marks: new Map(/** @type {[any, any][]} */ (read)) };
    if (this.#stands.text !== value) this.#stands = { text: value, unread: value.trim(), marks: new Map() };
    return this.#stands;
  }

  #write(text, marks) {
    write(this.#field, text, marks);
    this.#changed();
  }

  #changed() {
    this.#typed.dispatchEvent(new Event("input", { bubbles: true }));
  }
}

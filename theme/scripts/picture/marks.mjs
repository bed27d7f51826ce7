/**
 * Areas of a drawing that mean one thing or another: a touch on the drawing, a choice in the table beside it and
 * typing all write the text of one field, and the answer follows. Python reads that text and draws what it means.
 */

import { meantBy, write } from "../form/meant.mjs";
import { marksText } from "../form/texts.mjs";

/** The marks of one calculator. */
export class Marks {
  #field;
  #figure;
  #root;
  #say;
  #told;
  #stands = { text: "", unread: "", marks: new Map() };
  /** The area whose choice has the focus, 0 for none. */
  #focused = 0;

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
    this.#figure.append(this.#told);
    const on = (target, type, act) => target.addEventListener(type, act, { signal });
    on(this.#figure, "click", ({ target }) => {
      const area = target.closest(".dw-area");
      if (area) this.#turn(Number(area.dataset.area));
    });
    on(root, "change", ({ target }) => {
      if (target.matches(".dw-mark")) this.#mark(Number(target.dataset.area), target.value);
    });
    on(root, "focusin", ({ target }) => (this.#focused = target.matches(".dw-mark") ? Number(target.dataset.area) : 0));
  }

  /** Puts a choice for each area into the table of the answer that was just drawn. */
  show() {
    const told = this.#drawn();
    if (!told) return;
    const rows = this.#root.querySelectorAll(`[data-result="${told.table}"] tbody tr`);
    for (const row of rows) {
      const number = Number(row.querySelector("th").textContent);
      const area = this.#area(number);
      if (area) row.querySelector(`[data-part="${told.column}"]`).replaceChildren(this.#choice(number, area, told.words));
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

  #area(number) {
    return this.#figure.querySelector(`path[data-area="${number}"]`);
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

  /** Gives an area the next meaning. */
  #turn(number) {
    const meanings = Object.keys(this.#drawn().words);
    const now = meanings.indexOf(this.#meaning(number));
    this.#mark(number, meanings[(now + 1) % meanings.length]);
  }

  /** Returns what an area means by the text, which may be newer than the drawing. */
  #meaning(number) {
    const { unread, marks } = this.#standing();
    const { guess, meant } = this.#area(number).dataset;
    return marks.get(number) ?? (unread ? meant : guess);
  }

  #mark(number, meaning) {
    const { words } = this.#drawn();
    const { unread, marks } = this.#standing();
    marks.delete(number);
    // Of two marks for an area the later counts, so these can follow what nobody has read.
    if (unread || meaning !== this.#area(number).dataset.guess) marks.set(number, meaning);
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
    if (read) return { unread: "", marks: new Map(read) };
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

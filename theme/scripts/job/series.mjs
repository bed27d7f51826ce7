/** The series of a marking, such as the numbers of a fleet: each with its own text, copies and counts at the bench. */

import { Trouble } from "./trouble.mjs";

/** The series of one marking, in the unfolded part of its row. */
export class Series {
  #page;
  #id;
  #details;
  #list;

  /**
   * @param {import("./job.mjs").JobPage} page
   * @param {string} id of the marking
   * @param {any} details
   */
  constructor(page, id, details) {
    this.#page = page;
    this.#id = id;
    this.#details = details;
    this.#list = details.querySelector(".dw-series-rows");
    details.querySelector('[data-does="add-row"]').addEventListener("click", () => page.attempt(() => this.#add()));
  }

  /**
   * @param {any[]} rows
   * @param {boolean} follows whether the marking has them from its twin
   */
  show(rows, follows) {
    this.#details.querySelector(".dw-job-count").textContent = rows.length ? `(${rows.length})` : "";
    while (this.#list.children.length > rows.length) this.#list.lastElementChild.remove();
    while (this.#list.children.length < rows.length) this.#list.append(this.#row(this.#list.children.length));
    for (const [at, row] of rows.entries()) {
      const element = this.#list.children[at];
      this.#page.editing.write(element, this.#owner(at), row);
      element.querySelector("button").setAttribute("aria-label", this.#page.say("remove_row", { name: row.text || at + 1 }));
    }
    for (const control of this.#details.querySelectorAll("[data-attribute], button")) control.disabled = follows;
    for (const control of this.#details.querySelectorAll('[data-attribute^="bench."]')) control.closest(".dw-job-field").hidden = follows;
  }

  /** @param {number} at @returns {import("./editing.mjs").Owner} */
  #owner(at) {
    return { part: "row", id: this.#id, at };
  }

  /** @param {number} at */
  #row(at) {
    const row = this.#page.find("#dw-series-row").content.firstElementChild.cloneNode(true);
    this.#page.editing.bind(row, this.#owner(at));
    row.querySelector("button").addEventListener("click", () => this.#page.attempt(() => this.#remove(at)));
    return row;
  }

  async #add() {
    this.#page.mayAddTo(this.#list);
    await this.#page.changeMarking(this.#id, (marking) => void (marking.rows ??= []).push({ text: "" }));
    await this.#page.show();
    this.#list.lastElementChild?.querySelector("input").focus();
  }

  /** @param {number} at */
  async #remove(at) {
    const shown = this.#page.marking(this.#id).rows[at];
    await this.#page.changeMarking(this.#id, ({ rows = [] }) => {
      if (JSON.stringify(rows[at]) !== JSON.stringify(shown)) throw new Trouble("changed_elsewhere");
      rows.splice(at, 1);
    });
    this.#page.editing.moveDrafts(this.#owner(at), -1);
    await this.#page.show();
    this.#page.offerUndo(this.#page.say("deleted", { name: shown.text || String(at + 1) }), async () => {
      await this.#page.changeMarking(this.#id, (marking) => void (marking.rows ??= []).splice(at, 0, shown));
      this.#page.editing.moveDrafts(this.#owner(at), 1);
    });
  }}

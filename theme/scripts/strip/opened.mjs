/** What a tap on the strip opens: the markings of the job, and what can be done with the current one. */

import words from "strip-words";

import { wordsFrom } from "../frame/words.mjs";
import { fileOf } from "../keep/layout.mjs";
import { addMarking, addPartner, duplicate, separate } from "../keep/markings.mjs";
import { byId, holderOf, lineOf, numbered } from "../keep/places.mjs";
import { pictureBox } from "./picture-box.mjs";

/** As long as a name may be (Marking in calculators/jobs/model.py). */
const LONGEST_NAME = 80;

/**
 * Opens the list below the strip.
 * @param {HTMLElement} strip
 * @param {{store: import("../keep/store.mjs").Store, say: Say, done: () => void}} to `done` closes it
 * @returns {Promise<{close: () => void, refresh: () => Promise<void>}>}
 */
export async function openMarkings(strip, to) {
  const opened = new Opened(strip, to);
  await opened.refresh();
  opened.focusCurrent();
  return opened;
}

class Opened {
  #store;
  #say = wordsFrom(words);
  #sayOfPage;
  #done;
  #box = element("section", "dw-others");
  #list = element("ul", "dw-others-list");
  #tools = element("div", "dw-others-tools");
  #asked = element("div", "dw-others-asked");
  #note = element("p", "dw-others-note");
  #rows = /** @type {Map<string, {row: HTMLElement, button: HTMLButtonElement, name: HTMLElement, below: HTMLElement, picture: any}>} */ (new Map());
  #job = /** @type {any} */ (null);
  #id = /** @type {string | null} */ (null);

  /**
   * @param {HTMLElement} strip
   * @param {{store: import("../keep/store.mjs").Store, say: Say, done: () => void}} to
   */
  constructor(strip, { store, say, done }) {
    this.#store = store;
    this.#sayOfPage = say;
    this.#done = done;
    this.#box.setAttribute("role", "dialog");
    this.#box.setAttribute("aria-label", this.#say("markings"));
    this.#note.setAttribute("role", "status");
    const title = element("p", "dw-others-title", this.#say("markings"));
    const close = button(this.#say("close"), "dw-tool dw-others-close", done);
    const head = element("div", "dw-others-head");
    head.append(title, close);
    this.#box.append(head, this.#list, this.#tools, this.#asked, this.#note);
    this.#box.addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => {
      if (event.key !== "Escape") return;
      event.stopPropagation();
      if (this.#asked.childElementCount) this.#ask();
      else done();
    });
    strip.append(this.#box);
  }

  close() {
    for (const { picture } of this.#rows.values()) picture.free();
    this.#box.remove();
  }

  focusCurrent() {
    (this.#rows.get(this.#id ?? "")?.button ?? this.#box.querySelector("button")).focus();
  }

  /** Shows the job as it is now. */
  async refresh() {
    const { job, marking } = await this.#store.present();
    this.#job = job;
    this.#id = marking;
    const markings = job.markings ?? [];
    for (const [id, { row, picture }] of this.#rows) {
      if (byId(job, id)) continue;
      picture.free();
      row.remove();
      this.#rows.delete(id);
    }
    for (const [place, each] of markings.entries()) {
      const { row } = this.#rowOf(each);
      if (this.#list.children[place] !== row) this.#list.insertBefore(row, this.#list.children[place] ?? null);
    }
    this.#showTools();
  }

  /** @param {any} marking */
  #rowOf(marking) {
    const { id } = marking;
    let found = this.#rows.get(id);
    if (!found) {
      const picture = pictureBox();
      const [name, below] = [element("span", "dw-others-name"), element("span", "dw-others-below")];
      const words = element("span", "dw-others-words");
      words.append(name, below);
      const choose = button("", "dw-others-choose", () => this.#choose(id));
      choose.append(picture.box, words);
      const row = element("li", "dw-others-row");
      row.append(choose);
      found = { row, button: choose, name, below, picture };
      this.#rows.set(id, found);
    }
    found.name.textContent = marking.name;
    const twin = holderOf(this.#job, marking);
    found.below.textContent = twin === marking ? "" : this.#say("marking_follows", { name: twin.name });
    if (id === this.#id) found.button.setAttribute("aria-current", "true");
    else found.button.removeAttribute("aria-current");
    found.picture.show(this.#store, fileOf(twin));
    return found;
  }

  #showTools() {
    const marking = byId(this.#job, this.#id);
    const follows = marking && holderOf(this.#job, marking) !== marking;
    /** @type {[string, boolean, () => unknown][]} */
    const tools = [
      ["marking_add", true, () => this.#add()],
      ["marking_rename", Boolean(marking), () => this.#rename()],
      ["marking_duplicate", Boolean(marking), () => this.#duplicate()],
      ["marking_partner", Boolean(marking) && !marking.partner, () => this.#partner()],
      ["marking_separate", Boolean(follows), () => this.#separate()],
      ["marking_delete", Boolean(marking), () => this.#delete()],
    ];
    const wanted = tools.filter(([, isOffered]) => isOffered);
    const keys = wanted.map(([key]) => key).join();
    // The buttons stay while they are the same, with the focus.
    if (this.#tools.dataset.keys === keys) return;
    const focused = [...this.#tools.children].find((each) => each === document.activeElement)?.textContent;
    this.#tools.dataset.keys = keys;
    this.#tools.replaceChildren(...wanted.map(([key, , act]) => button(this.#say(key), "dw-tool", act)));
    [...this.#tools.querySelectorAll("button")].find((each) => each.textContent === focused)?.focus();
  }

  /** @param {string} id */
  #choose(id) {
    return this.#trying(async () => {
      await this.#store.choose(id);
      this.#done();
    });
  }

  #add() {
    return this.#trying(async () => {
      await this.#make((job) => addMarking(this.#store.places, job, this.#id));
      this.#rename();
    });
  }

  #duplicate() {
    return this.#trying(async () => {
      await this.#make((job) => duplicate(this.#store.places, job, this.#id));
      this.#rename();
    });
  }

  /**
   * Adds a marking and makes it the current one.
   * @param {(job: any) => {id: string}} act
   */
  async #make(act) {
    let id = "";
    // What was typed belongs to the marking before.
    this.#store.dispatchEvent(new Event("leaving"));
    await this.#store.change((job) => void ({ id } = act(job)));
    await this.#store.choose(id);
    await this.refresh();
  }

  #rename() {
    const { id, name } = byId(this.#job, this.#id);
    const form = element("form", "dw-others-form");
    const label = element("label", "dw-label", this.#say("marking_name"));
    const input = Object.assign(document.createElement("input"), { type: "text", value: name, maxLength: LONGEST_NAME, autocomplete: "off" });
    const problem = element("p", "dw-problem");
    problem.hidden = true;
    problem.id = "dw-marking-problem";
    input.setAttribute("aria-describedby", problem.id);
    label.append(input);
    form.append(label, problem, submit(this.#say("marking_save")), button(this.#say("cancel"), "dw-tool", () => this.#ask()));
    form.addEventListener("submit", (/** @type {Event} */ event) => {
      event.preventDefault();
      const text = lineOf(input.value, LONGEST_NAME).trim();
      if (!text) {
        Object.assign(problem, { hidden: false, textContent: this.#say("marking_name_needed", { most: LONGEST_NAME }) });
        input.focus();
        return;
      }
      this.#trying(async () => {
        await this.#store.change((job) => void (byId(job, id) && (byId(job, id).name = text)));
        this.#ask();
      });
    });
    this.#ask(form);
    input.focus();
    input.select();
  }

  #partner() {
    const { id, name } = byId(this.#job, this.#id);
    const form = element("div", "dw-others-form");
    form.setAttribute("role", "group");
    form.setAttribute("aria-label", this.#say("partner_question", { name }));
    form.append(element("p", "dw-label", this.#say("partner_question", { name })));
    for (const [how, label] of Object.entries(this.#store.places.partners)) form.append(button(label, "dw-tool", () => this.#pair(id, how)));
    form.append(button(this.#say("cancel"), "dw-tool", () => this.#ask()));
    this.#ask(form);
    form.querySelector("button").focus();
  }

  /** @param {string} id @param {string} how */
  #pair(id, how) {
    return this.#trying(async () => {
      await this.#store.change((job) => {
        const names = new Set(job.markings.map((/** @type {any} */ each) => each.name));
        const name = lineOf(this.#say("partner_name", { name: byId(job, id).name }), LONGEST_NAME);
        addPartner(this.#store.places, job, id, how, numbered(name, names));
      });
      this.#ask();
      await this.refresh();
    });
  }

  #separate() {
    return this.#trying(() => this.#store.change((job) => separate(this.#store.places, job, this.#id)));
  }

  #delete() {
    const { id, name } = byId(this.#job, this.#id);
    return this.#trying(async () => {
      // What was typed last belongs to it, and comes back with it.
      this.#store.dispatchEvent(new Event("leaving"));
      const undo = await this.#store.remove(id);
      const place = this.#job.markings.findIndex((/** @type {any} */ each) => each.id === id);
      const next = this.#job.markings[place + 1] ?? this.#job.markings[place - 1];
      if (next) await this.#store.choose(next.id);
      await this.refresh();
      this.#tell(this.#say("marking_deleted", { name }), async () => {
        await undo();
        await this.#store.choose(id);
        await this.refresh();
        this.#tell(this.#say("marking_back", { name }));
        this.focusCurrent();
      });
    });
  }

  /**
   * Shows a question in place of the tools, or the tools again.
   * @param {HTMLElement} [form]
   */
  #ask(form) {
    const isBack = !form && this.#asked.contains(document.activeElement);
    this.#asked.replaceChildren(...(form ? [form] : []));
    this.#tools.hidden = Boolean(form);
    this.#tell("");
    if (isBack) this.focusCurrent();
  }

  /**
   * @param {string} text
   * @param {() => Promise<void>} [undo]
   */
  #tell(text, undo) {
    this.#note.replaceChildren(text, ...(undo ? [" ", button(this.#say("undo"), "dw-tool", () => this.#trying(undo))] : []));
    if (undo) this.#note.querySelector("button").focus();
  }

  /** @param {() => Promise<unknown>} act */
  async #trying(act) {
    try {
      this.#tell("");
      await act();
    } catch (error) {
      if (error instanceof RangeError) this.#tell(this.#say("markings_most", { most: this.#store.places.most }));
      else if (error.why) this.#tell(this.#sayOfPage(`unstored_${error.why}`));
      else throw error;
    }
  }
}

/**
 * @param {string} tag
 * @param {string} className
 * @param {string} [text]
 * @returns {any}
 */
const element = (tag, className, text = "") => Object.assign(document.createElement(tag), { className, textContent: text });

/**
 * @param {string} text
 * @param {string} className
 * @param {() => unknown} act
 * @returns {HTMLButtonElement}
 */
function button(text, className, act) {
  const made = Object.assign(element("button", className, text), { type: "button" });
  made.addEventListener("click", act);
  return made;
}

/** @param {string} text */
const submit = (text) => Object.assign(element("button", "dw-tool dw-others-save", text), { type: "submit" });

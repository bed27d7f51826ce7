/** A calculator on the page: its form and its answer. */

import { begun, emptyFields, unfilledAmong } from "./afresh.mjs";
import { Answer } from "./answer.mjs";
import { Belongings } from "./another_picture.mjs";
import { Asking, questionOf } from "./asking.mjs";
import { showApplying } from "./counting.mjs";
import {
  changeUnit,
  differsFromDelivered,
  everyField,
  isFile,
  matchTyped,
  readInputs,
  showRestated,
  showUnit,
  unmarkFilled,
  writeInputs,
} from "./fields.mjs";
import { markFills, writeFills } from "./filling.mjs";
import { filesOf, holdFile, listenForFiles, showThumb } from "./files.mjs";
import { Keeping } from "../keep/keeping.mjs";
import "scripts-of-kinds";
import { showNote, removeNote } from "./notes.mjs";
import { showOutcome, Status } from "./outcome.mjs";
import { showProblems, steadily, titleOf } from "./problems.mjs";
import { addRow, removeRowAndFocus } from "./rows.mjs";
import { mountSeldom } from "./seldom.mjs";
import { Showing } from "../picture/showing.mjs";
import { shownName, sizeText } from "../frame/words.mjs";

/** Typing must pause this long before it is answered. */
const PAUSE_MS = 150;

/**
 * @typedef {object} Visit what all calculators of a visit to the site share
 * @property {import("../../engine/engine.mjs").Engine} engine
 * @property {import("../frame/units.mjs").Units} units
 * @property {import("../keep/store.mjs").Store} store
 * @property {(key: string, parts?: object) => string} say
 * @property {() => void} answered called after each answer
 */

/** One mounted calculator. */
export class Form {
  #root;
  #form;
  #notes;
  #visit;
  #say;
  #unit = /** @type {"mm" | "in"} */ ("mm");
  #answer;
  #asking;
  #keeping;
  #showing = /** @type {Showing} */ (null);
  #status;
  #lastAsked = "";
  #again = false;
  #mayAsk = false; // stored values and the whole job are in the form, or the reader was quicker
  #pause = 0;
  #belongings = /** @type {Belongings} */ (null);
  #ending = new AbortController();

  /**
   * @param {HTMLElement} root the .dw-calculator
   * @param {Visit} visit
   */
  constructor(root, visit) {
    this.#root = root;
    this.#form = root.querySelector(".dw-form");
    this.#notes = root.querySelector(".dw-notes");
    this.#visit = visit;
    this.#say = visit.say;
    this.#answer = new Answer(root.querySelector(".dw-answer"), visit.say);
    this.#status = new Status(root, visit.say);
    this.#asking = new Asking(visit.engine, root, {
      progress: (share, words) => this.#status.working(share, words),
      quiet: () => this.#status.idle(),
    });
    this.#keeping = new Keeping(this, root.dataset.calculator, visit);
    this.#mount();
  }

  /** Stops everything that the form has started, and saves the input. */
  end() {
    this.flush();
    this.#ending.abort();
    this.#asking.stop();
    this.#answer.forget();
  }

  get element() {
    return this.#form;
  }
  get ended() {
    return this.#ending.signal;
  }

  // -- Input --------------------------------------------------------------------------------------

  /** Returns the typed texts and chosen files: {inputs, files}. */
  typed() {
    return { inputs: readInputs(this.#form, this.#unit), files: filesOf(this.#form) };
  }

  /**
   * Writes texts and files into the form and asks. Returns the addresses that no field has.
   * @param {Record<string, any>} inputs
   * @param {Map<string, any>} files
   * @param {Leave} [leave] whether to leave a field unchanged
   * @returns {string[]}
   */
  write(inputs, files, leave = () => false) {
    const unknown = writeInputs(this.#form, inputs, this.#unit, leave);
    this.#written(files, leave);
    return unknown;
  }

  /** Empties all fields and asks. */
  empty() {
    emptyFields(this.#form, this.#unit);
    this.#written(new Map(), () => false);
    this.#form.querySelector("textarea, .dw-typed").focus();
  }

  #written(/** @type {Map<string, any>} */ files, /** @type {Leave} */ leave) {
    showUnit(this.#form, this.#unit);
    for (const [address, field] of everyField(this.#form)) {
      if (!leave(field)) unmarkFilled(field);
      if (!isFile(field) || leave(field)) continue;
      const file = files.get(address) ?? null;
      if (file) file.decoded = "pixels" in field.dataset;
      holdFile(field, file, this.#say);
    }
    showApplying(this.#form);
    this.#showing.inForm(filesOf(this.#form));
    this.ask();
  }

  /** Returns the set of fields that the reader changed before the scripts ran, and adds those changed from now on. */
  touchedAlready() {
    const touched = new Set([...everyField(this.#form).values()].filter(differsFromDelivered));
    const touch = (/** @type {any} */ { target }) => target.type !== "file" && touched.add(target.closest("[data-field]"));
    this.#form.addEventListener("input", touch, { signal: this.ended });
    return touched;
  }

  /** Whether the reader is editing the form at the moment. */
  get inHand() {
    return this.#pause !== 0 || (document.hasFocus() && this.#form.contains(document.activeElement));
  }

  note(/** @type {string} */ name, /** @type {string} */ text, /** @type {object} */ more = {}) {
    showNote(this.#notes, name, text, this.#say("close"), more);
  }

  unnote(/** @type {string} */ name) {
    removeNote(this.#notes, name);
  }

  // -- Mounting -----------------------------------------------------------------------------------

  #mount() {
    const on = /** @type {Listen} */ ((target, type, act) => target.addEventListener(type, act, { signal: this.ended }));
    const { engine, units, store } = this.#visit;
    const touched = this.touchedAlready();
    this.#belongings = new Belongings(this.#form, touched, this.#visit, this.ended);
    showApplying(this.#form);
    if (units.displayed !== this.#unit) this.#takeUnit(units.displayed);
    for (const type of ["input", "change"]) on(this.#form, type, (event) => this.#typedIn(event));
    on(this.#form, "submit", (event) => this.#submitted(event));
    on(this.#root, "click", (event) => this.#clicked(event.target));
    on(units, "change", () => this.#unitChanged());
    on(engine, "state", () => this.#engineChanged());
    on(engine, "loading", () => this.#status.starting(engine));
    on(globalThis, "pagehide", () => this.flush());
    on(document, "visibilitychange", () => document.hidden && this.flush());
    const here = { say: this.#say, signal: this.ended };
    this.#showing = new Showing(this.#root, { ...here, note: (text, actions) => this.note("points", text, { actions }) });
    const loaded = this.#keeping.begin(touched);
    listenForFiles(this.#form, {
      signal: this.ended,
      // Whether a picture asks for its width again depends on what is stored.
      changed: (field, file) => Promise.allSettled([loaded]).then(() => this.ended.aborted || this.#fileChanged(field, file)),
      refused: (field, file, why) => this.#fileRefused(field, file, why),
    });
    const written = loaded.then(() => this.#keeping.workedOut);
    const hold = /** @param {HTMLElement} field @param {any} file */ (field, file) => (holdFile(field, file, this.#say), this.#tryAgain());
    const complete = mountSeldom(this.#root, { ...here, store, written, hold, file: (result) => this.#answer.file(result) });
    /** Resolves once stored values and the whole job have filled the form. */
    this.filled = complete.finally(() => ((this.#mayAsk = true), this.ask()));
  }

  #takeUnit(/** @type {Unit} */ unit) {
    changeUnit(this.#form, this.#unit, unit);
    this.#unit = unit;
  }

  async #unitChanged() {
    this.#takeUnit(this.#visit.units.displayed);
    const unit = this.#unit;
    this.ask();
    const { inputs } = this.typed();
    const restated = await this.#asking.restate(inputs, unit);
    if (!this.ended.aborted && unit === this.#unit) showRestated(this.#form, inputs, restated, unit);
  }

  // -- Events -------------------------------------------------------------------------------------

  #typedIn(/** @type {any} */ { target }) {
    const field = target.closest("[data-field]");
    if (!field || target.type === "file") return;
    matchTyped(field, target);
    begun(field);
    unmarkFilled(field);
    showApplying(this.#form);
    this.#edited();
  }

  #edited() {
    this.#mayAsk = true;
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => this.flush(), PAUSE_MS);
  }

  /** Saves and asks at once what was typed since the last pause. */
  flush() {
    if (!this.#pause) return;
    clearTimeout(this.#pause);
    this.#pause = 0;
    this.#keeping.edited();
    this.ask();
  }

  async #submitted(/** @type {Event} */ event) {
    event.preventDefault();
    begun(this.#form);
    this.#lastAsked = "";
    this.#edited();
    this.flush();
    const problems = this.#form.querySelector(".dw-problems");
    if (!problems.hidden) problems.focus();
  }

  #clicked(/** @type {any} */ target) {
    const step = target.closest("[data-carries]");
    if (step && this.#root.querySelector(".dw-answer").dataset.state === "answered") this.#keeping.carry(JSON.parse(step.dataset.carries));
    const button = target.closest("button");
    if (!button) return;
    const does = {
      "dw-row-add": () => this.#addRow(button.closest("[data-field]")),
      "dw-row-remove": () => (removeRowAndFocus(button.closest(".dw-row")), this.#edited()),
      "dw-reset": () => this.#keeping.reset(),
      "dw-empty": () => this.#keeping.empty(),
      "dw-link": () => this.#keeping.copyLink(),
      "dw-stop": () => this.#asking.stop(),
      "dw-again": () => this.#tryAgain(),
      "dw-keep": () => this.#keeping.keep(button.dataset.shares, this.#answer.file(button.dataset.keeps)),
    };
    for (const [name, act] of Object.entries(does)) if (button.classList.contains(name)) act();
  }

  #addRow(/** @type {HTMLElement} */ field) {
    const row = addRow(field);
    writeInputs(row, {}, this.#unit);
    showUnit(row, this.#unit);
    showApplying(this.#form);
    row.querySelector("input, select, textarea").focus();
    this.#edited();
  }

  #fileChanged(/** @type {HTMLElement} */ field, /** @type {any} */ file) {
    const address = field.dataset.field;
    const before = filesOf(this.#form).get(address);
    if (file) file.decoded = "pixels" in field.dataset;
    holdFile(field, file, this.#say);
    unmarkFilled(field);
    this.#showing.inForm(filesOf(this.#form));
    for (const name of ["file", "points", "again"]) this.unnote(name);
    this.#showing.otherPicture(address, file);
    this.#askAgain(address, before, file);
    if (!file) markFills(this.#form, address, {});
    if (file && !file.hash) this.note("file", this.#say("file_not_stored"));
    this.#edited();
    this.flush();
  }

  #askAgain(/** @type {string} */ picture, /** @type {any} */ before, /** @type {any} */ file) {
    const { labels, first, undo } = this.#belongings.change(picture, before, file, this.#unit);
    if (!labels.length) return;
    const actions = first ? [] : [{ label: this.#say("asked_again_keep"), act: () => (undo(), this.#edited()) }];
    this.note("again", this.#say(first ? "asked_first" : "asked_again", { names: labels.join(", ") }), { actions });
  }

  #fileRefused(/** @type {HTMLElement} */ field, /** @type {File} */ { name, size }, /** @type {string} */ why) {
    this.note("file", this.#say(`file_${why}`, { name: shownName(name), size: sizeText(size), most: sizeText(Number(field.dataset.mostBytes)) }));
  }

  // -- Asking -------------------------------------------------------------------------------------

  #tryAgain() {
    this.#lastAsked = "";
    this.ask();
  }

  #engineChanged() {
    const { state, failure } = this.#visit.engine;
    this.#status.engine(state);
    if (state === "ready") this.ask();
    else if (state === "failed") this.#show({ envelope: { outcome: failure }, buffers: [] });
  }

  /** Asks about the current input, unless that has been asked. Waits for the engine and for an earlier question. */
  async ask() {
    const { engine } = this.#visit;
    if (!this.#mayAsk) return;
    if (engine.state !== "ready") {
      engine.start(this.#root.dataset.calculator);
      this.#status.engine(engine.state);
      return;
    }
    if (this.#asking.busy) {
      this.#again = true;
      if (this.#asking.slow && this.#key(this.#question()) !== this.#lastAsked) this.#asking.stop();
      return;
    }
    const question = this.#question();
    const key = this.#key(question);
    if (key === this.#lastAsked) return;
    this.#lastAsked = key;
    const reply = await this.#asking.ask(question, this.#unit);
    if (this.ended.aborted) return;
    const newer = this.#again && this.#key(this.#question()) !== this.#lastAsked; // or asked for once more
    this.#again = false;
    if (newer) this.ask();
    else this.#show(reply, question);
  }

  #question() {
    return questionOf(this.#form, this.#unit);
  }

  #key(/** @type {Question} */ { inputs, files }) {
    const chosen = [...files].map(([address, file]) => [address, file.hash, file.name, file.size]);
    return JSON.stringify([inputs, chosen, this.#unit]);
  }

  // -- Showing ------------------------------------------------------------------------------------

  #show(/** @type {any} */ { envelope, buffers }, /** @type {Question} */ { files, inputs, aside } = { files: new Map(), inputs: {}, aside: {} }) {
    const { outcome, problems = [], fills = {} } = envelope;
    const isAnswer = outcome === "result" || outcome === "problems";
    showOutcome(this.#root, isAnswer ? null : envelope, this.#say);
    if (!isAnswer) return this.#status.stale();
    this.#takeFills(files, fills, problems);
    this.#keeping.answered({ ...inputs, ...aside }, envelope);
    const { visible, labels } = unfilledAmong(this.#form, problems);
    showProblems(this.#form, visible, this.#say);
    this.#showUnfilled(labels);
    if (outcome === "problems") {
      this.#status.stale(visible.length ? titleOf(visible, this.#say) : "");
      return;
    }
    this.#answer.show(envelope.view, buffers);
    this.#showing.inAnswer(files);
    this.#status.answered(Object.values(envelope.view).find(({ kind }) => kind === "verdict")?.title);
    this.#visit.answered();
  }

  #showUnfilled(/** @type {string[]} */ labels) {
    // A form with a single field needs no list of empty fields.
    const several = this.#form.querySelectorAll("input.dw-typed, textarea.dw-typed").length > 1;
    const sentence = labels.length && several ? this.#say("still_to_fill", { names: labels.join(", ") }) : "";
    // What another picture asks for may be filled in before its first answer comes.
    const over = labels.length ? [] : ["unfilled", "again"].filter((name) => this.#notes.querySelector(`[data-note=${name}]`));
    if (!over.length && sentence === (this.#notes.querySelector("[data-note=unfilled] p")?.textContent ?? "")) return;
    steadily(this.#form, () => (sentence ? this.note("unfilled", sentence) : over.forEach((name) => this.unnote(name))));
  }

  /** Fills other fields from pictures: once for each newly chosen picture, so that later edits stay. */
  #takeFills(/** @type {Map<string, any>} */ files, /** @type {Record<string, any>} */ fills, /** @type {{field: string}[]} */ problems) {
    for (const [address, file] of files) {
      if (problems.some(({ field }) => field === address)) continue;
      file.seen = true;
      this.#showing.inForm(filesOf(this.#form));
      const field = everyField(this.#form).get(address);
      if (field) showThumb(field, this.#say);
      if (file.fresh) {
        file.fresh = false;
        // If the reader has typed since the question, the new input must still be asked.
        const answered = this.#key(this.#question()) === this.#lastAsked;
        writeFills(this.#form, address, fills, this.#unit);
        if (answered) this.#lastAsked = this.#key(this.#question());
        this.#keeping.edited();
      }
      markFills(this.#form, address, fills, this.#say("from_picture"));
    }
  }
}

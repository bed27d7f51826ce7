/**
 * The page of a job: every marking, its verdicts and what to do next. A separate bundle, since only this page needs it.
 */

import { config, engine } from "../../engine/visit.mjs";
import { wordsFrom } from "../frame/words.mjs";
import { store } from "../keep/device.mjs";
import { byId } from "../keep/markings.mjs";
import { wireAvailable } from "./available.mjs";
import { Checks } from "./checks.mjs";
import { Editing } from "./editing.mjs";
import { wireJobs } from "./jobs.mjs";
import { wireMarkings } from "./markings.mjs";
import { wireModels } from "./models.mjs";
import { wireSheet } from "./sheet.mjs";
import { wireTransfer } from "./transfer.mjs";
import { Trouble } from "./trouble.mjs";

/** Outcomes of the engine that are no answer; each is a sentence of the page. */
const NO_ANSWER = new Map([["no-engine", "no_engine"], ["no-wasm", "no_engine"], ["too-long", "too_long"], ["fault", "fault"]]);

/** The value of a marking that carries the rows of a series from a calculator (SERIES_ROWS of calculators/job_fields.py). */
const CARRIED = "rows";

/**
 * @param {{units: import("../frame/units.mjs").Units}} visit
 * @returns {{end: () => void}[]}
 */
export function mount({ units }) {
  const root = document.querySelector(".dw-job");
  return root ? [new JobPage(root, units)] : [];
}

/**
 * What the parts of the page share. Dispatches "shown" (detail: what `present` returned) when the job is shown anew, and
 * "end".
 */
export class JobPage extends EventTarget {
  present = /** @type {{id: string | null, job: any, marking: string | null}} */ ({ id: null, job: {}, marking: null });
  #ended = new AbortController();
  #undo = /** @type {(() => Promise<void>) | null} */ (null);
  #shows = Promise.resolve();

  /**
   * @param {HTMLElement} root
   * @param {import("../frame/units.mjs").Units} units
   */
  constructor(root, units) {
    super();
    this.root = root;
    this.store = store;
    this.units = units;
    this.places = config.job;
    this.say = wordsFrom(JSON.parse(root.dataset.words));
    this.calculators = JSON.parse(root.dataset.calculators);
    this.partners = JSON.parse(root.dataset.partners);
    this.editing = new Editing(this);
    this.checks = new Checks(this, root.dataset.checkedWith);
    for (const wire of [wireMarkings, wireAvailable, wireModels, wireTransfer, wireSheet, wireJobs, wireCarriedRows]) wire(this);
    this.editing.bind(root.querySelector(".dw-job-about"), { part: "job" });
    const { signal } = this.#ended;
    for (const type of ["changed", "wrote", "chosen"]) store.addEventListener(type, () => this.show(), { signal });
    // A sentence about what went wrong stands until the reader does something else.
    for (const type of ["click", "change"]) root.addEventListener(type, () => this.trouble(""), { capture: true });
    this.find(".dw-job-undo button").addEventListener("click", () => this.#takeBack());
    this.show();
  }

  /** A signal that the page is left. */
  get ended() {
    return this.#ended.signal;
  }

  end() {
    this.#ended.abort();
    this.dispatchEvent(new Event("end"));
  }

  /**
   * @param {string} selector
   * @returns {any}
   */
  find(selector) {
    return this.root.querySelector(selector);
  }

  /**
   * Calls `act` when the button or file field that does something is used; what goes wrong is shown.
   * @param {string} does
   * @param {(target: any) => unknown} act
   */
  on(does, act) {
    const control = this.find(`[data-does="${does}"]`);
    control.addEventListener(control.type === "file" ? "change" : "click", () => this.attempt(() => act(control)));
  }

  /** Reads the job and shows it. */
  show() {
    this.#shows = this.#shows.then(() => this.attempt(async () => {
      if (this.ended.aborted) return;
      const present = await this.store.present();
      if (this.ended.aborted) return;
      this.present = present;
      this.editing.write(this.find(".dw-job-about"), { part: "job" }, present.job);
      this.dispatchEvent(new CustomEvent("shown", { detail: present }));
    }));
    return this.#shows;
  }

  /**
   * Does something that may fail, and shows why it did.
   * @param {() => unknown} act
   */
  async attempt(act) {
    try {
      await act();
    } catch (error) {
      if (error instanceof Trouble) this.trouble(this.say(error.key, error.values));
      else if (error?.why) this.trouble(this.say(error.why === "changed" ? "changed_elsewhere" : error.why));
      else {
        console.error(error);
        this.trouble(this.say("fault"));
      }
    }
  }

  /** @param {string} text */
  trouble(text) {
    const line = this.find(".dw-job-trouble");
    line.textContent = text;
    line.hidden = !text;
  }

  /** @param {string} text */
  tell(text) {
    this.find(".dw-job-status").textContent = text;
  }

  /**
   * Asks the engine. Rejects with `Trouble` if it does not answer.
   * @param {any} request
   * @param {any} [options]
   * @returns {Promise<{envelope: any, buffers: ArrayBuffer[]}>}
   */
  async ask(request, options = {}) {
    const reply = await engine.ask(request, { limitMs: 120_000, ...options });
    const key = NO_ANSWER.get(reply.envelope.outcome);
    if (key) throw new Trouble(key);
    return reply;
  }

  /**
   * Changes the job as it is stored by now, at once. Rejects with what `act` throws, and nothing is changed then.
   * @param {(job: any) => any} act
   */
  async change(act) {
    let thrown = /** @type {unknown} */ (null);
    const changed = this.store.change((job) => {
      try {
        return act(job);
      } catch (error) {
        thrown = error;
        throw error;
      }
    });
    return changed.catch((error) => {
      throw thrown ?? error;
    });
  }

  /**
   * Changes the job by way of one of its markings, which another tab may have deleted.
   * @param {string} id
   * @param {(marking: any, job: any) => any} act
   */
  changeMarking(id, act) {
    return this.change((job) => {
      const marking = byId(job, id);
      if (!marking) throw new Trouble("changed_elsewhere");
      return act(marking, job);
    });
  }

  /**
   * Throws `Trouble` if a list on the page has as many entries as it may.
   * @param {any} list
   */
  mayAddTo({ children, dataset }) {
    if (children.length >= Number(dataset.most)) throw new Trouble("most", { most: dataset.most });
  }

  /** @param {string} id */
  marking(id) {
    return byId(this.present.job, id);
  }

  /**
   * Says what was done, and offers to take it back.
   * @param {string} text
   * @param {() => Promise<void>} undo
   */
  offerUndo(text, undo) {
    const strip = this.find(".dw-job-undo");
    strip.querySelector("span").textContent = text;
    strip.hidden = false;
    this.#undo = undo;
  }

  async #takeBack() {
    const undo = this.#undo;
    this.#undo = null;
    this.find(".dw-job-undo").hidden = true;
    if (undo) await this.attempt(undo);
    this.find('[data-part="markings"]').focus();
  }
}

/** @param {JobPage} page */
function wireCarriedRows(page) {
  const take = async () => {
    const marking = page.present.job.markings?.find((/** @type {any} */ each) => each.values?.[CARRIED]);
    if (marking) await (await import("alone-carried-rows")).takeRows(page, marking, CARRIED);
  };
  page.addEventListener("shown", () => page.attempt(take), { signal: page.ended });
}

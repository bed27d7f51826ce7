/**
 * Verdicts on the rows. Each is stored by a key of all that it came of, so that a page shows them before Python has started
 * and only what has changed is computed again. Pictures are measured first, one after the other.
 */

import { engine } from "../../engine/visit.mjs";
import { asUsed } from "../keep/markings.mjs";
import { hashOf } from "../keep/database.mjs";
import { pixelsOf } from "../picture/pixels.mjs";
import { sentenceOf } from "./editing.mjs";

/** What no verdict depends on. */
const ASIDE = ["id", "name", "place", "partner"];
/** A calculator whose field takes every picture that a marking may have: its headers are read before they are decoded. */
const READER = "resolution";
/** Edits that follow each other are checked together. */
const SOON_MS = 400;
/** Verdicts of so many rows are stored together, or those of so long. */
const BATCH = 50;
const BATCH_MS = 500;
/** A row and its partners. */
const MOST_OF_AN_EDIT = 3;

/** Dispatches "found" when verdicts or their state have changed. */
export class Checks extends EventTarget {
  #page;
  #with;
  #keys = /** @type {Map<string, string>} */ (new Map());
  /** What the keys were made of: verdicts are those on this, whatever has changed since. */
  #keyed = /** @type {{job: any, facts: Record<string, any>}} */ ({ job: {}, facts: {} });
  #verdicts = /** @type {Record<string, any>} */ ({});
  #last = /** @type {Record<string, any>} */ ({});
  #facts = /** @type {Record<string, any>} */ ({});
  #refused = /** @type {Map<string, string>} */ (new Map());
  #running = /** @type {AbortController | null} */ (null);
  #run = Promise.resolve();
  #job = /** @type {string | null} */ (null);
  #soon = 0;
  #hadMarkings = false;
  #taken = Promise.resolve();

  /**
   * @param {import("./job.mjs").JobPage} page
   * @param {string} checkedWith what verdicts come of besides the job
   */
  constructor(page, checkedWith) {
    super();
    this.#page = page;
    this.#with = checkedWith;
    page.addEventListener("shown", () => {
      this.#taken = page.attempt(() => this.#take());
    });
    page.addEventListener("end", () => {
      clearTimeout(this.#soon);
      this.#running?.abort();
    });
    page.on("check", () => this.run());
    page.on("stop", () => this.#running?.abort());
  }

  /**
   * Returns the verdicts on a marking, and whether they are of an earlier state of it.
   * @param {string} id
   * @returns {{found: any, isStale: boolean}}
   */
  of(id) {
    const found = this.#verdicts[this.#keys.get(id) ?? ""];
    return found ? { found, isStale: false } : { found: this.#last[id], isStale: id in this.#last };
  }

  /** @param {string} hash */
  refusalOf(hash) {
    return this.#refused.get(hash);
  }

  /** The ids of the rows without a verdict on their present state. */
  get stale() {
    return [...this.#keys].filter(([, key]) => !this.#verdicts[key]).map(([id]) => id);
  }

  /** Whether no more rows lack a verdict than one edit concerns. */
  get #isFew() {
    return this.stale.length > 0 && this.stale.length <= MOST_OF_AN_EDIT;
  }

  /** Checks a row again soon after it was edited. */
  soon() {
    clearTimeout(this.#soon);
    // The engine has judged the edit, so it is there.
    this.#soon = setTimeout(() => this.#page.attempt(() => this.run()), SOON_MS);
  }

  async #take() {
    const { id, job } = this.#page.present;
    if (id !== this.#job) this.#running?.abort();
    this.#job = id;
    const hashes = (job.markings ?? []).map((/** @type {any} */ each) => printedOf(asUsed(this.#page.places, job, each))?.hash).filter(Boolean);
    this.#facts = await this.#page.store.facts([...new Set(hashes)]);
    await this.#takeKeys(job);
    const unknown = [...this.#keys.values()].filter((key) => !this.#verdicts[key]);
    const last = lastOf(id);
    const stored = await this.#page.store.verdicts([...unknown, last]);
    this.#last = stored[last] ?? {};
    delete stored[last];
    Object.assign(this.#verdicts, stored);
    const count = job.markings?.length ?? 0;
    // An edit is checked at once where there were verdicts before.
    if (this.#hadMarkings && engine.state === "ready" && this.#isFew && !this.#running) this.soon();
    this.#hadMarkings = count > 0;
    this.#tell();
  }

  /** @param {any} job */
  async #takeKeys(job) {
    const keys = new Map();
    const facts = { ...this.#facts };
    const models = new Map((job.models ?? []).map((/** @type {any} */ each) => [each.id, each]));
    for (const marking of job.markings ?? []) {
      const used = asUsed(this.#page.places, job, marking);
      const shown = Object.fromEntries(Object.entries(used).filter(([name]) => !ASIDE.includes(name)));
      const { name: _name, ...model } = models.get(used.model) ?? {};
      const grounds = [this.#with, shown, model, job.available ?? {}, job.calculators ?? {}, facts[printedOf(used)?.hash] ?? null];
      keys.set(marking.id, await keyOf(JSON.stringify(grounds)));
    }
    this.#keys = keys;
    this.#keyed = { job, facts };
  }

  /** Measures pictures that have not been measured, then checks the rows that have no verdict. */
  async run() {
    await this.#taken;
    // One that is being stopped ends first.
    if (this.#running?.signal.aborted) await this.#run.catch(() => {});
    if (this.#running) return;
    this.#run = this.#start();
    await this.#run;
  }

  async #start() {
    const { signal } = (this.#running = new AbortController());
    this.#tell();
    const { job } = this.#page.present;
    try {
      await this.#measure(signal);
      await this.#check(signal);
    } finally {
      this.#running = null;
      this.#progress(signal.aborted && !this.#page.ended.aborted ? this.#page.say("stopped") : "", null);
      this.#tell();
    }
    await this.#taken;
    // What was edited meanwhile.
    if (this.#page.present.job !== job && !signal.aborted && this.#isFew) this.soon();
  }

  /** @param {AbortSignal} signal */
  async #measure(signal) {
    const { job } = this.#page.present;
    const files = new Map();
    for (const each of job.markings ?? []) {
      const file = printedOf(asUsed(this.#page.places, job, each));
      if (file && !this.#facts[file.hash] && !this.#refused.has(file.hash)) files.set(file.hash, file);
    }
    let done = 0;
    for (const file of files.values()) {
      if (signal.aborted) return;
      this.#progress(this.#page.say("measuring", { done, count: files.size }), done / files.size);
      await this.#measureOne(file, signal);
      done += 1;
    }
    if (files.size) await this.#takeKeys(this.#page.present.job);
  }

  /**
   * @param {any} file
   * @param {AbortSignal} signal
   */
  async #measureOne({ hash, name, media }, signal) {
    const bytes = await this.#page.store.bytes(hash);
    if (!bytes) return;
    const options = { signal };
    const header = (await this.#page.ask({ do: "inspect", calculator: READER, files: { picture: { name, bytes } } }, options)).envelope;
    if (signal.aborted) return;
    const refused = header.problems?.[0];
    if (refused) {
      this.#refused.set(hash, sentenceOf(refused));
      return;
    }
    const known = header.headers.picture;
    const pixels = known.outlines ? null : await pixelsOf(bytes, media, known);
    // Without its hash: the engine would start anew for each large picture.
    const files = { picture: { name, bytes, ...(pixels && { pixels }) } };
    const { envelope } = await this.#page.ask({ do: "measure", files }, options);
    if (envelope.outcome === "problems") this.#refused.set(hash, sentenceOf(envelope.problems[0]));
    if (envelope.outcome !== "measured") return;
    this.#facts[hash] = envelope.facts;
    await this.#page.store.putFacts({ [hash]: envelope.facts });
  }

  /** @param {AbortSignal} signal */
  async #check(signal) {
    const { job, facts } = this.#keyed;
    const only = this.stale;
    if (!only.length || signal.aborted) return;
    const keys = new Map(this.#keys);
    const storing = new Storing(this.#page.store, this.#job, this.#last);
    this.#progress(this.#page.say(engine.state === "ready" ? "checking" : "starting", { done: 0, count: only.length }), null);
    /** @param {any} envelope */
    const onProgress = ({ row, share }) => {
      const { id, ...verdicts } = row;
      const key = /** @type {string} */ (keys.get(id));
      this.#verdicts[key] = this.#last[id] = verdicts;
      storing.take(id, key, verdicts);
      this.#progress(this.#page.say("checking", { done: Math.round(share * only.length), count: only.length }), share);
      this.dispatchEvent(new CustomEvent("found", { detail: [id] }));
    };
    try {
      const { envelope } = await this.#page.ask({ do: "job-check", job, facts, only }, { signal, onProgress });
      if (envelope.outcome === "problems") this.#page.trouble(sentenceOf(envelope.problems[0]));
    } finally {
      // Those of the rows as they were, and as they are now.
      await storing.end([...keys.values(), ...this.#keys.values()]);
    }
  }

  /**
   * @param {string} text
   * @param {number | null} share
   */
  #progress(text, share) {
    this.#page.find(".dw-job-progress").textContent = text;
    const bar = this.#page.find(".dw-job-list progress");
    bar.hidden = share === null;
    bar.value = share ?? 0;
  }

  #tell() {
    const { say } = this.#page;
    const count = this.stale.length;
    const button = this.#page.find('[data-does="check"]');
    const words = count ? say(count === 1 ? "check_one" : "check", { count }) : say("all_checked");
    button.textContent = this.#keys.size ? words : "";
    button.hidden = !this.#keys.size;
    button.disabled = !count || this.#running !== null;
    this.#page.find('[data-does="stop"]').hidden = !this.#running;
    this.dispatchEvent(new CustomEvent("found", { detail: [...this.#keys.keys()] }));
  }
}

/** Stores verdicts while they come, so that a check that is stopped, or whose tab is killed, need not be done again. */
class Storing {
  #store;
  #job;
  #last;
  #found = /** @type {Record<string, any>} */ ({});
  #count = 0;
  #stored = performance.now();
  #work = Promise.resolve();

  /**
   * @param {import("../keep/store.mjs").Store} store
   * @param {string | null} job its id
   * @param {Record<string, any>} last the last verdicts on each row, by its id
   */
  constructor(store, job, last) {
    this.#store = store;
    this.#job = job;
    this.#last = last;
  }

  /**
   * @param {string} id
   * @param {string} key
   * @param {any} verdicts
   */
  take(id, key, verdicts) {
    this.#found[key] = this.#last[id] = verdicts;
    if (++this.#count >= BATCH || performance.now() - this.#stored > BATCH_MS) this.#put();
  }

  /** @param {string[]} [used] */
  #put(used) {
    const last = lastOf(this.#job);
    const batch = { ...this.#found, [last]: this.#last };
    this.#found = {};
    this.#count = 0;
    this.#stored = performance.now();
    this.#work = this.#work.then(() => this.#store.putVerdicts(batch, used && [...used, last], this.#job));
    // Whoever ends the work is told of a failure.
    this.#work.catch(() => {});
  }

  /**
   * Stores the rest, and removes verdicts that the job no longer has.
   * @param {string[]} used every key that it has
   */
  end(used) {
    this.#put(used);
    return this.#work;
  }
}

/**
 * Returns the record of the file that a marking is printed from.
 * @param {any} marking
 */
export function printedOf({ kind, files = {} }) {
  return ((kind === "outlines" && files.outlines) || files.picture || files.outlines)?.file;
}

/** @param {string | null} id of a job */
const lastOf = (id) => `last of ${id}`;

/** @param {string} text */
async function keyOf(text) {
  return (await hashOf(/** @type {any} */ (new TextEncoder().encode(text).buffer))) ?? text;
}

/**
 * Stores jobs on this device only: what was typed, and the bytes of chosen files by their SHA-256 (database.mjs has the layout).
 * calculators/jobs/ owns the format and its migrations; this module reads and writes it.
 *
 * A tab works on one marking of one job. Forms read and write that by the names that their fields share; what is about no
 * marking lies with the job. Pages about whole jobs use `present` and `change`.
 */

import { openChannel } from "./channel.mjs";
import { current, remember } from "./current.mjs";
import { Database, DATABASE, NotStored } from "./database.mjs";
import { DELETED, FILES, JOBS, newJobId, OLD_JOB, PRESENT, STATE, writeJob } from "./layout.mjs";
import { keepOrNote, takeNotes } from "./leaving.mjs";
import { More } from "./more.mjs";
import { byId, holderOf, lineOf, nameOf, plainMarking, Values } from "./places.mjs";

/** @typedef {{hash: string, of?: string, name: string, media: string, size: number, bytes: ArrayBuffer}} StoredFile */
/** @typedef {{inputs: object, files: Record<string, StoredFile>}} Entry */
/** @typedef {{job: string | null, marking: string | null}} Target */

/**
 * The store of this tab. Dispatches "changed" (detail: {calculator?, job, revision, marking?}) when another tab has written,
 * "wrote" (the same detail) when this one has, and "leaving", then "chosen" when another marking or job becomes current.
 */
export class Store extends More {
  #migrate;
  #tellTabs = /** @type {(data: any) => void} */ (() => {});
  #begun = /** @type {Promise<void> | null} */ (null);
  /** Whether a width stays with the marking if another picture is chosen for it. */
  keepsWidth = false;

  /**
   * @param {import("./places.mjs").Places} places
   * @param {(job: object) => Promise<object | null>} migrate turns an older job into this format
   */
  constructor(places, migrate) {
    super();
    this.database = new Database();
    this.places = places;
    this.#migrate = migrate;
    this.#tellTabs = openChannel(DATABASE, (detail) => this.dispatchEvent(new CustomEvent("changed", { detail })));
    // At once, since it stores what an earlier page could not store in time. Whoever asks is told of a failure.
    this.ready().catch(() => {});
  }

  /** Resolves once older jobs and notes are taken over. Rejects with `NotStored`; the next call tries again. */
  ready() {
    this.#begun ??= this.#begin().catch((error) => {
      this.#begun = null;
      throw error;
    });
    return this.#begun;
  }

  async #begin() {
    await this.#takeOlder();
    for (const [subject, note] of takeNotes()) {
      const { calculator = subject, target = current(), entry, shared } = note;
      // The page reports an unwritable job when it loads it.
      await this.#save(calculator, entry, shared, target, Promise.resolve()).catch(() => {});
    }
  }

  // -- The current marking, as forms see it -------------------------------------------------------

  /**
   * Returns the stored values of a calculator, or null. Rejects with `NotStored` if the device stores nothing or has a
   * newer job.
   * @param {string} calculator id
   * @returns {Promise<Entry | null>}
   */
  load(calculator) {
    return this.read(async (transaction, { job, marking }) => {
      const entry = this.#entries(calculator, job, marking)?.[calculator];
      if (!entry) return null;
      /** @type {Record<string, StoredFile>} */
      const files = {};
      for (const [field, facts] of Object.entries(entry.files ?? {})) {
        const bytes = await transaction.objectStore(FILES).get(facts.hash);
        if (bytes) files[field] = { ...facts, bytes };
      }
      return { inputs: entry.inputs ?? {}, files };
    });
  }

  /**
   * Returns the shared values of the marking by name. Rejects with `NotStored` as `load` does.
   * @returns {Promise<Record<string, import("./sharing.mjs").Shared>>}
   */
  shared() {
    return this.read(async (transaction, { job, marking }) => {
      /** @type {Record<string, import("./sharing.mjs").Shared>} */
      const shared = {};
      if (!marking) return shared;
      for (const [name, value] of Object.entries(this.#values(job, marking).all())) {
        // In a livery a width is the marking's, whatever picture shows it.
        if (isLivery(job)) delete value.picture;
        const bytes = value.file && (await transaction.objectStore(FILES).get(value.file.hash));
        if (value.text !== undefined) shared[name] = value;
        else if (bytes) shared[name] = { ...value, file: { ...value.file, bytes } };
      }
      return shared;
    });
  }

  /**
   * Stores the input of a calculator, or deletes it (null), and updates shared values that were changed here (see
   * sharing.mjs). Unused files are removed. Rejects with `NotStored` as `load` does.
   * @param {string} calculator id
   * @param {Entry | null} entry
   * @param {Record<string, any>} [shared] of sharedBy
   */
  save(calculator, entry, shared = {}) {
    const target = current();
    const note = { calculator, target, entry, shared };
    return keepOrNote(JSON.stringify([target, calculator]), note, () => this.#save(calculator, entry, shared, target, this.ready()));
  }

  /**
   * @param {string} calculator
   * @param {Entry | null} entry
   * @param {Record<string, any>} shared
   * @param {Target} target
   * @param {Promise<void>} ready
   */
  async #save(calculator, entry, shared, target, ready) {
    await ready;
    const needsMarking = Boolean(entry && this.#isAboutMarking(calculator)) || Object.values(shared).some(({ delivered }) => !delivered);
    await this.write({ calculator, target, needsMarking }, async (job, marking, keepFile) => {
      const before = this.#entries(calculator, job, marking)?.[calculator];
      if (marking) await this.#takeShared(this.#values(job, marking), calculator, before, shared, (job.revision ?? 0) + 1, keepFile);
      const holder = this.#isAboutMarking(calculator) ? holderOf(job, marking) : job;
      if (!entry) {
        if (holder?.calculators) delete holder.calculators[calculator];
        return;
      }
      /** @type {Record<string, object>} */
      const files = {};
      for (const [field, file] of Object.entries(entry.files)) {
        const facts = await keepFile(file);
        if (facts) files[field] = facts;
      }
      (holder.calculators ??= {})[calculator] = { inputs: entry.inputs, files };
    });
  }

  /**
   * @param {Values} values
   * @param {string} calculator
   * @param {any} before its entry
   * @param {Record<string, any>} shared
   * @param {number} at
   * @param {(file: any) => Promise<any>} keepFile
   */
  async #takeShared(values, calculator, before, shared, at, keepFile) {
    const all = values.all();
    for (const [name, { field, delivered, outlines, text, file, picture }] of Object.entries(shared)) {
      const previous = before?.files?.[field];
      if (before ? (previous?.hash ?? before.inputs?.[field]) === (file?.hash ?? text) : delivered) {
        // Typed before there was a picture: it is this one's.
        if (picture && text !== undefined && all[name]?.text === text && !all[name].picture) values.put(name, { ...all[name], picture });
        continue;
      }
      const as = nameOf(name, outlines, delivered ? previous : file);
      const there = all[as];
      const isThere = there && there.text === text && there.file?.hash === file?.hash;
      const from = (isThere && there.from) || calculator;
      if (delivered) values.remove(as);
      else if (file) values.put(as, { file: await keepFile(file), at, from });
      else values.put(as, { text, from, ...(picture && { picture }) });
    }
  }

  /**
   * Stores a file made by a calculator as a shared value. Rejects with `NotStored` as `load` does.
   * @param {string} calculator id
   * @param {string} name
   * @param {StoredFile} file
   */
  async share(calculator, name, file) {
    await this.ready();
    await this.write({ calculator, target: current(), needsMarking: true }, async (job, marking, keepFile) => {
      this.#values(job, marking).put(name, { file: await keepFile(file), at: (job.revision ?? 0) + 1, from: calculator });
    });
  }

  // -- The current job as a whole -----------------------------------------------------------------

  /**
   * Returns the current job as plain JSON without bytes, its id and that of the current marking. Without a job: an empty
   * one, whose id is null. Rejects with `NotStored` as `load` does.
   * @returns {Promise<{id: string | null, job: any, marking: string | null}>}
   */
  present() {
    return this.read(async (_, { id, job, marking }) => ({ id, job, marking: marking?.id ?? null }));
  }

  /** Removes files that nothing uses. What cannot be removed now, for want of the script, goes the next time. */
  #clean() {
    return this.more("clean").catch(() => {});
  }

  /** For jobs.mjs, a bundle of its own: what only one module of the page may hold. */
  get target() {
    return current();
  }

  /** @param {Target} target */
  remember(target) {
    remember(target);
  }

  /** @param {string} why @returns {never} */
  refuse(why) {
    throw new NotStored(why);
  }

  // -- Reading and writing ------------------------------------------------------------------------

  /** @param {string} calculator */
  #isAboutMarking(calculator) {
    return !this.places.aside.includes(calculator);
  }

  /** @param {string} calculator @param {any} job @param {any} marking */
  #entries(calculator, job, marking) {
    return (this.#isAboutMarking(calculator) ? marking && holderOf(job, marking) : job)?.calculators;
  }

  /** @param {any} job @param {any} marking */
  #values(job, marking) {
    return new Values(this.places, job, holderOf(job, marking));
  }

  /**
   * @template T
   * @param {(transaction: any, at: {id: string | null, job: any, marking: any}) => Promise<T>} work
   * @returns {Promise<T>}
   */
  async read(work) {
    await this.ready();
    const target = current();
    let found = /** @type {any} */ (null);
    const result = await this.database.within("readonly", async (transaction) => {
      found = await this.#at(transaction, target);
      this.keepsWidth = isLivery(found.job);
      return work(transaction, found);
    });
    // What the reader sees from now on is what this tab writes to, whatever other tabs choose.
    if (current() === target) this.#follow({ job: found.id, marking: found.marking?.id ?? null });
    return result;
  }

  /**
   * Goes on with what was found. If another tab has deleted what this one works on, forms first store what is typed into them,
   * which makes it anew, and then show the other.
   * @param {Target} found
   */
  #follow(found) {
    const { job, marking } = current();
    const isGone = Boolean((job && job !== found.job) || (marking && marking !== found.marking));
    if (isGone) this.dispatchEvent(new Event("leaving"));
    if (job !== found.job || marking !== found.marking) remember(found);
    if (isGone) this.dispatchEvent(new CustomEvent("chosen", { detail: found }));
  }

  /**
   * Returns the job and the marking that a target means, or those that were current last. Rejects with `NotStored`.
   * @param {any} transaction
   * @param {Target} target
   * @returns {Promise<{id: string | null, job: any, marking: any}>}
   */
  async #at(transaction, target) {
    for (const { job: id, marking } of [target, (await transaction.objectStore(STATE).get(PRESENT)) ?? {}]) {
      const job = id && (await transaction.objectStore(JOBS).get(id));
      if (!job) continue;
      if (job.format !== this.places.format) throw new NotStored(job.format > this.places.format ? "newer" : "older");
      return { id, job, marking: byId(job, marking) ?? job.markings?.[0] ?? null };
    }
    return { id: null, job: this.emptyJob(), marking: null };
  }

  emptyJob() {
    return { format: this.places.format, revision: 0, markings: /** @type {any[]} */ ([]) };
  }

  /**
   * Changes a job by `change(job, marking, keepFile)`, which may return another in its place. keepFile stores a file's bytes
   * and returns its record, or undefined if a note names a file whose bytes were never stored. Does not wait until the store
   * is ready.
   * @param {{calculator?: string, target: Target, needsMarking?: boolean}} what
   * @param {(job: any, marking: any, keepFile: (file: any) => Promise<any>) => Promise<any>} change
   */
  async write({ calculator, target, needsMarking }, change) {
    const detail = await this.database.within("readwrite", async (transaction) => {
      const found = await this.#at(transaction, target);
      // Another tab may have deleted the job or the marking: then what is typed here makes it anew, and overwrites no other.
      const isGone = Boolean(target.job && found.id !== target.job);
      const [id, job] = isGone ? [target.job, this.emptyJob()] : [found.id ?? newJobId(), found.job];
      const there = target.marking ? byId(job, target.marking) : found.marking;
      const marking = there ?? (needsMarking ? plainMarking(this.places, job, target.marking) : null);
      const files = transaction.objectStore(FILES);
      const made = await change(job, marking, async (/** @type {any} */ { hash, of, name, media, size, bytes }) => {
        if (!(await files.getKey(hash))) {
          if (!bytes) return undefined;
          await files.put(bytes, hash);
        }
        return { hash, ...(of && { of }), name: lineOf(name, 255) || hash.slice(0, 8), media: media.slice(0, 100), size };
      });
      const written = made ?? job;
      written.revision = (job.revision ?? 0) + 1;
      const isLess = await writeJob(transaction, id, written);
      if (!found.id) await transaction.objectStore(STATE).put({ job: id, marking: marking?.id ?? null }, PRESENT);
      return { isLess, calculator, job: id, revision: written.revision, marking: marking?.id };
    });
    const { job, marking } = current();
    if (target.job === job && target.marking === marking) remember({ job: detail.job, marking: detail.marking ?? marking });
    this.#tellTabs(detail);
    this.dispatchEvent(new CustomEvent("wrote", { detail }));
    if (detail.isLess) await this.#clean();
  }

  /** Migrates the job of layout 1, which needs the engine, and removes for good what was deleted long ago. */
  async #takeOlder() {
    const [old, deleted] = await this.database.within("readonly", (transaction) =>
      Promise.all([transaction.objectStore(OLD_JOB).count(), transaction.objectStore(DELETED).count()]));
    if (deleted) await this.#clean();
    if (!old) return;
    await this.more("takeOlder", this.#migrate).catch((error) => {
      throw error instanceof NotStored ? error : new NotStored("older", error);
    });
  }
}

/** Whether a job has more than what one calculator after another was asked about: then it holds what was decided of a marking. */
const isLivery = (/** @type {any} */ { name, markings = [] }) => Boolean(name) || markings.length > 1;

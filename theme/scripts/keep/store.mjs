/**
 * Stores jobs on this device only: what was typed, and the bytes of chosen files by their SHA-256 (database.mjs has the layout).
 * calculators/jobs/ owns the format and its migrations; this module reads and writes it.
 *
 * A tab works on one marking of one job. Forms read and write that by the names that their fields share; what is about no
 * marking lies with the job. Pages about whole jobs use `present` and `change`.
 */

import { openChannel } from "./channel.mjs";
import { current, remember } from "./current.mjs";
import { Database, DATABASE, DELETED, FILES, filesOf, newJobId, NotStored, OLD_JOB, PRESENT, writeJob } from "./database.mjs";
import { emptyJob, Jobs } from "./jobs.mjs";
import { keepOrNote, takeNotes } from "./leaving.mjs";
import { addMarking, byId, holderOf, removeMarking } from "./markings.mjs";
import { forgetTyped, lineOf, nameOf, Values } from "./places.mjs";

/** @typedef {{hash: string, of?: string, name: string, media: string, size: number, bytes: ArrayBuffer}} StoredFile */
/** @typedef {{inputs: object, files: Record<string, StoredFile>}} Entry */
/** @typedef {{job: string | null, marking: string | null}} Target */

/**
 * The store of this tab. Dispatches "changed" (detail: {calculator?, job, revision, marking?}) when another tab has written,
 * "wrote" (the same detail) when this one has, and "leaving", then "chosen" when another marking or job becomes current.
 */
export class Store extends Jobs {
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
    super(new Database(), places);
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
    await this.purge();
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
    return this.#read(async (transaction, { job, marking }) => {
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
    return this.#read(async (transaction, { job, marking }) => {
      /** @type {Record<string, import("./sharing.mjs").Shared>} */
      const shared = {};
      if (!marking) return shared;
      for (const [name, value] of Object.entries(this.#values(job, marking).all())) {
        // In a job of several markings a width is the marking's, whatever picture shows it.
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
    await this.#write({ calculator, target, needsMarking }, async (job, marking, keepFile) => {
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
    await this.#write({ calculator, target: current(), needsMarking: true }, async (job, marking, keepFile) => {
      this.#values(job, marking).put(name, { file: await keepFile(file), at: (job.revision ?? 0) + 1, from: calculator });
    });
  }

  /**
   * Takes over into the attributes of the job what Python could read of the shared values of a form; what it could not
   * read leaves them undecided. Rejects with `NotStored` as `load` does.
   * @param {string} calculator id
   * @param {Record<string, {text: string, isRead: boolean}>} typed by the names of the values
   */
  async settle(calculator, typed) {
    const target = current();
    /** @param {any} job @param {any} marking */
    const settled = (job, marking) => {
      const before = facts(job, marking);
      this.#values(job, marking).settle(typed);
      return facts(job, marking) !== before;
    };
    const isNews = await this.#read(async (_, { job, marking }) => Boolean(marking) && settled(job, marking));
    if (isNews) await this.#write({ calculator, target, needsMarking: false }, async (job, marking) => void (marking && settled(job, marking)));
  }

  // -- The current job as a whole -----------------------------------------------------------------

  /**
   * Returns the current job as plain JSON without bytes, its id and that of the current marking. Without a job: an empty
   * one, whose id is null. Rejects with `NotStored` as `load` does.
   * @returns {Promise<{id: string | null, job: any, marking: string | null}>}
   */
  present() {
    return this.#read(async (_, { id, job, marking }) => ({ id, job, marking: marking?.id ?? null }));
  }

  /**
   * Changes the current job, or a new one, by `act(job)`, which changes plain JSON or returns another, all at once. Rejects
   * with `NotStored`: "changed" if the stored job has another `revision`; nothing is written then.
   * @param {(job: any) => any} act
   * @param {{revision?: number}} [only]
   * @returns {Promise<any>} the new job
   */
  async change(act, { revision } = {}) {
    await this.ready();
    let changed;
    await this.#write({ target: current(), needsMarking: false }, async (job) => {
      if (revision !== undefined && revision !== (job.revision ?? 0)) throw new NotStored("changed");
      const before = structuredClone(job);
      const made = act(job) ?? job;
      forgetTyped(this.places, before, made);
      changed = made;
      return made;
    });
    return changed;
  }

  /**
   * Makes a marking of the current job the current one, in this tab and in those that are opened later.
   * @param {string} marking id
   */
  async choose(marking) {
    const { id, job } = await this.present();
    if (!byId(job, marking)) return;
    await this.makeCurrent({ job: id, marking });
  }

  /**
   * Removes a marking of the current job. Returns a function that brings it back where it was.
   * @param {string} id
   */
  async remove(id) {
    const { job: before } = await this.present();
    const marking = byId(before, id);
    const place = before.markings.indexOf(marking);
    const partners = before.markings.filter((/** @type {any} */ each) => each.partner?.of === id);
    // Its files stay, so that it can come back whole.
    const trace = newJobId();
    const summary = { files: new Set(filesOf(marking)) };
    await this.database.within("readwrite", (transaction) => transaction.objectStore(DELETED).put({ summary, at: Date.now() }, trace));
    const after = await this.change((job) => removeMarking(this.places, job, id));
    return async () => {
      await this.change((job) => {
        if (byId(job, id)) return;
        for (const each of partners) {
          const at = job.markings.findIndex((/** @type {any} */ one) => one.id === each.id);
          // Unless it was changed meanwhile.
          if (at >= 0 && JSON.stringify(job.markings[at]) === JSON.stringify(byId(after, each.id))) job.markings[at] = each;
        }
        job.markings.splice(place, 0, marking);
      });
      await this.database.within("readwrite", (transaction) => transaction.objectStore(DELETED).delete(trace));
    };
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
  async #read(work) {
    await this.ready();
    return this.database.within("readonly", async (transaction) => {
      const found = await this.at(transaction, current());
      // What the reader sees from now on is what this tab writes to, whatever other tabs choose.
      remember({ job: found.id, marking: found.marking?.id ?? null });
      this.keepsWidth = isLivery(found.job);
      return work(transaction, found);
    });
  }

  /**
   * Changes a job by `change(job, marking, keepFile)`, which may return another in its place. keepFile stores a file's bytes
   * and returns its record, or undefined if a note names a file whose bytes were never stored.
   * @param {{calculator?: string, target: Target, needsMarking: boolean}} what
   * @param {(job: any, marking: any, keepFile: (file: any) => Promise<any>) => Promise<any>} change
   */
  async #write({ calculator, target, needsMarking }, change) {
    const detail = await this.database.within("readwrite", async (transaction) => {
      const found = await this.at(transaction, target);
      // Another tab may have deleted the job or the marking: then what is typed here makes it anew, and overwrites no other.
      const isGone = Boolean(target.job && found.id !== target.job);
      const [id, job] = isGone ? [target.job, emptyJob(this.places)] : [found.id ?? newJobId(), found.job];
      const there = target.marking ? byId(job, target.marking) : found.marking;
      const marking = there ?? (needsMarking ? firstMarking(this.places, job, target.marking) : null);
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
      await writeJob(transaction, id, written);
      if (!found.id) await this.begin(transaction, { job: id, marking: marking?.id ?? null });
      return { ...(calculator && { calculator }), job: id, revision: written.revision, ...(marking && { marking: marking.id }) };
    });
    const { job, marking } = current();
    if (target.job === job && target.marking === marking) remember({ job: detail.job, marking: detail.marking ?? marking });
    this.#tellTabs(detail);
    this.dispatchEvent(new CustomEvent("wrote", { detail }));
  }

  /** Migrates the job of an older format, which needs the engine and so cannot happen inside a transaction. */
  async #takeOlder() {
    const found = await this.database.within("readonly", (transaction) => transaction.objectStore(OLD_JOB).get(PRESENT));
    if (!found) return;
    if (found.format >= this.places.format) throw new NotStored("newer");
    const migrated = await this.#migrate(found);
    if (!migrated) throw new NotStored("older");
    await this.database.within("readwrite", async (transaction) => {
      const old = transaction.objectStore(OLD_JOB);
      const present = await old.get(PRESENT);
      // Another tab may have migrated it by now.
      if (!present || present.format !== found.format || present.revision !== found.revision) return;
      const id = newJobId();
      await writeJob(transaction, id, migrated);
      await this.begin(transaction, { job: id, marking: /** @type {any} */ (migrated).markings?.[0]?.id ?? null });
      await old.delete(PRESENT);
    });
    await this.#takeOlder();
  }
}

/** Whether a job has more than what one calculator after another was asked about: then it holds what was decided of a marking. */
export const isLivery = (/** @type {any} */ { markings = [] }) => markings.length > 1;

/** @param {any} job @param {any} marking */
const facts = (job, marking) => JSON.stringify([marking, holderOf(job, marking), job.models, job.available]);

/**
 * Adds the marking that was typed into before there was one, or that another tab has deleted meanwhile.
 * @param {import("./places.mjs").Places} places
 * @param {any} job
 * @param {string | null} id
 */
function firstMarking(places, job, id) {
  const marking = addMarking(places, job);
  if (id) marking.id = id;
  return marking;
}

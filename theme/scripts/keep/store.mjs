/**
 * What was typed, kept on this device only: one versioned job in IndexedDB, and the bytes of chosen files
 * by their SHA-256. calculators/job.py owns the format and its migrations; this reads and writes it.
 *
 *   job: {format, revision, calculators: {id: {inputs: {...}, files: {field: {hash, name, media, size}}}},
 *         shared: {name: {text, from, picture} or {file: {hash, of, name, media, size}, at, from}}}
 */

import { openDB } from "idb";
import { openChannel } from "./channel.mjs";
import { keepOrNote, takeNotes, within } from "./leaving.mjs";
import { nameOf } from "./sharing.mjs";

const DATABASE = "decalwright";
const LAYOUT = 1;
const JOB = "job";
const FILES = "files";
const THE_JOB = "present";

/** @typedef {{hash: string, name: string, media: string, size: number, bytes: ArrayBuffer}} KeptFile */
/** @typedef {{inputs: object, files: Record<string, KeptFile>}} Entry */

/**
 * The store of this tab. Says "changed" (detail: {calculator}) when another tab has written.
 */
export class Store extends EventTarget {
  #format;
  #migrate;
  #database;
  #tellTabs;
  #begun;

  /**
   * @param {number} format the job format that this page writes
   * @param {(job: object) => Promise<object | null>} migrate turns an older job into this format
   */
  constructor(format, migrate) {
    super();
    this.#format = format;
    this.#migrate = migrate;
    this.#database = this.#open();
    // Told to whoever asks for it; a page that asks for nothing has no fault.
    this.#database.catch(() => {});
    this.#begun = this.#keepNotes();
  }

  async #open() {
    const database = await openDB(DATABASE, LAYOUT, {
      upgrade(fresh) {
        fresh.createObjectStore(JOB);
        fresh.createObjectStore(FILES);
      },
      blocking: (_old, _new, event) => /** @type {IDBDatabase} */ (event.target).close(),
    });
    this.#tellTabs = openChannel(DATABASE, (detail) => this.dispatchEvent(new CustomEvent("changed", { detail })));
    return database;
  }

  /**
   * Returns what is kept for a calculator, null where nothing is. Rejects with `Unkept` where the
   * device keeps nothing or holds a newer job.
   * @param {string} calculator id
   * @returns {Promise<Entry | null>}
   */
  async load(calculator) {
    await this.#begun;
    await this.#upToDate();
    return this.#within("readonly", async (transaction) => {
      const entry = (await jobIn(transaction))?.calculators[calculator];
      if (!entry) return null;
      const files = {};
      for (const [field, facts] of Object.entries(entry.files ?? {})) {
        const bytes = await transaction.objectStore(FILES).get(facts.hash);
        if (bytes) files[field] = { ...facts, bytes };
      }
      return { inputs: entry.inputs, files };
    });
  }

  /**
   * Returns what the calculators of the job share, by name. Rejects with `Unkept` as `load` does.
   * @returns {Promise<Record<string, import("./sharing.mjs").Shared>>}
   */
  async shared() {
    await this.#begun;
    await this.#upToDate();
    return this.#within("readonly", async (transaction) => {
      const shared = {};
      for (const [name, { text, file, ...more }] of Object.entries((await jobIn(transaction))?.shared ?? {})) {
        const bytes = file && (await transaction.objectStore(FILES).get(file.hash));
        if (text !== undefined) shared[name] = { text, ...more };
        else if (bytes) shared[name] = { file: { ...file, bytes }, ...more };
      }
      return shared;
    });
  }

  /**
   * Keeps what is typed in a calculator, or forgets it (null), and what of it was changed here and is
   * shared (see sharing.mjs). Files that nothing names any more are removed. Rejects with `Unkept` as `load` does.
   * @param {string} calculator id
   * @param {Entry | null} entry
   * @param {ReturnType<typeof import("./sharing.mjs").sharedBy>} [shared]
   */
  save(calculator, entry, shared = {}) {
    const note = { format: this.#format, entry, shared };
    return keepOrNote(calculator, note, () => this.#save(calculator, entry, shared));
  }

  #save(calculator, entry, shared) {
    return this.#write(calculator, async (job, keepFile) => {
      const before = job.calculators[calculator];
      for (const [name, { field, delivered, outlines, text, file, picture }] of Object.entries(shared)) {
        const kept = before?.files[field];
        if (before ? (kept?.hash ?? before.inputs[field]) === (file?.hash ?? text) : delivered) {
          // Typed before there was a picture: it is this one's.
          if (picture && job.shared[name]?.text === text) job.shared[name].picture ??= picture;
          continue;
        }
        const as = nameOf(name, outlines, delivered ? kept : file);
        const there = job.shared[as];
        const isThere = there && there.text === text && there.file?.hash === file?.hash;
        const from = (isThere && there.from) || calculator;
        if (delivered) delete job.shared[as];
        else if (file) job.shared[as] = { file: await keepFile(file), at: job.revision + 1, from };
        else job.shared[as] = { text, from, ...(picture && { picture }) };
      }
      if (!entry) {
        delete job.calculators[calculator];
        return;
      }
      const files = {};
      for (const [field, file] of Object.entries(entry.files)) {
        const facts = await keepFile(file);
        if (facts) files[field] = facts;
      }
      job.calculators[calculator] = { inputs: entry.inputs, files };
    });
  }

  /**
   * Keeps a file that a calculator made under a name that calculators share. Rejects with `Unkept` as `load` does.
   * @param {string} calculator id
   * @param {string} name
   * @param {KeptFile} file
   */
  share(calculator, name, file) {
    return this.#write(calculator, async (job, keepFile) => {
      job.shared[name] = { file: await keepFile(file), at: job.revision + 1, from: calculator };
    });
  }

  /** Keeps what the page before had no time left to keep. */
  async #keepNotes() {
    for (const [calculator, { format, entry, shared }] of takeNotes()) {
      // A job that cannot be written is told of when the page loads it.
      if (format === this.#format) await this.#save(calculator, entry, shared).catch(() => {});
    }
  }

  /**
   * Changes the job by `change(job, keepFile)`; keepFile keeps a file's bytes and returns the facts of it, or
   * undefined where a note names a file whose bytes were never kept.
   */
  async #write(calculator, change) {
    await this.#upToDate();
    const revision = await this.#within("readwrite", async (transaction) => {
      const job = (await jobIn(transaction)) ?? { format: this.#format, revision: 0, calculators: {}, shared: {} };
      if (job.format !== this.#format) throw new Unkept("newer");
      const files = transaction.objectStore(FILES);
      await change(job, async ({ hash, of, name, media, size, bytes }) => {
        if (!(await files.getKey(hash))) {
          if (!bytes) return undefined;
          await files.put(bytes, hash);
        }
        return { hash, ...(of && { of }), name, media, size };
      });
      job.revision += 1;
      await transaction.objectStore(JOB).put(job, THE_JOB);
      await removeUnused(job, files);
      return job.revision;
    }).catch((error) => {
      throw error instanceof Unkept ? error : new Unkept("failed", error);
    });
    this.#tellTabs({ calculator, revision });
  }

  async #within(mode, work) {
    let transaction;
    try {
      transaction = (await this.#database).transaction([JOB, FILES], mode);
    } catch (error) {
      throw new Unkept("unavailable", error);
    }
    return within(transaction, work);
  }

  /** Brings an older job up to date, which takes the engine and so cannot be done inside a transaction. */
  async #upToDate() {
    const found = await this.#within("readonly", jobIn);
    if (!found || found.format === this.#format) return;
    if (found.format > this.#format) throw new Unkept("newer");
    const migrated = await this.#migrate(found);
    if (!migrated) throw new Unkept("older");
    await this.#within("readwrite", async (transaction) => {
      const present = await jobIn(transaction);
      if (present.format === found.format && present.revision === found.revision) {
        await transaction.objectStore(JOB).put({ ...migrated, revision: found.revision + 1 }, THE_JOB);
      }
    });
    await this.#upToDate();
  }
}

const jobIn = (transaction) => transaction.objectStore(JOB).get(THE_JOB);

async function removeUnused(job, files) {
  const named = Object.values(job.calculators).flatMap(({ files: held }) => Object.values(held ?? {}));
  const shared = Object.values(job.shared).flatMap(({ file }) => file ?? []);
  const used = new Set([...named, ...shared].map(({ hash }) => hash));
  for (const hash of await files.getAllKeys()) if (!used.has(hash)) await files.delete(hash);
}

/**
 * Nothing is kept: the device cannot ("unavailable"), it holds a job of a later format ("newer") or one
 * that could not be brought up to date ("older"), or writing failed ("failed"), say for want of room.
 */
export class Unkept extends Error {
  constructor(why, cause) {
    super(why, { cause });
    this.why = why;
  }
}

/**
 * Returns the SHA-256 of bytes in hexadecimal, or null where the page was not served safely enough
 * for the browser to offer it.
 * @param {ArrayBuffer} bytes
 * @returns {Promise<string | null>}
 */
export async function hashOf(bytes) {
  if (!globalThis.crypto?.subtle) return null;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

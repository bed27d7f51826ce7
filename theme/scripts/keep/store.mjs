/**
 * Stores input on this device only: one versioned job in IndexedDB, and the bytes of chosen files by their SHA-256.
 * calculators/job.py owns the format and its migrations; this module reads and writes it.
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

/** @typedef {{hash: string, of?: string, name: string, media: string, size: number, bytes: ArrayBuffer}} StoredFile */
/** @typedef {{inputs: object, files: Record<string, StoredFile>}} Entry */

/**
 * The store of this tab. Dispatches "changed" (detail: {calculator}) when another tab has written.
 */
export class Store extends EventTarget {
  #format;
  #migrate;
  #database;
  #tellTabs = /** @type {(data: any) => void} */ (() => {});
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
    // Callers get the rejection; a page that never asks must not report one.
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
   * Returns the stored values of a calculator, or null. Rejects with `NotStored` if the device stores nothing or has a
   * newer job.
   * @param {string} calculator id
   * @returns {Promise<Entry | null>}
   */
  async load(calculator) {
    await this.#begun;
    await this.#upToDate();
    return this.#within("readonly", async (transaction) => {
      const entry = (await jobIn(transaction))?.calculators[calculator];
      if (!entry) return null;
      /** @type {Record<string, StoredFile>} */
      const files = {};
      for (const [field, facts] of Object.entries(entry.files ?? {})) {
        const bytes = await transaction.objectStore(FILES).get(facts.hash);
        if (bytes) files[field] = { ...facts, bytes };
      }
      return { inputs: entry.inputs, files };
    });
  }

  /**
   * Returns the shared values of the job by name. Rejects with `NotStored` as `load` does.
   * @returns {Promise<Record<string, import("./sharing.mjs").Shared>>}
   */
  async shared() {
    await this.#begun;
    await this.#upToDate();
    return this.#within("readonly", async (transaction) => {
      /** @type {Record<string, import("./sharing.mjs").Shared>} */
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
   * Stores the input of a calculator, or deletes it (null), and updates shared values that were changed here (see
   * sharing.mjs). Unused files are removed. Rejects with `NotStored` as `load` does.
   * @param {string} calculator id
   * @param {Entry | null} entry
   * @param {ReturnType<typeof import("./sharing.mjs").sharedBy>} [shared]
   */
  save(calculator, entry, shared = {}) {
    const note = { format: this.#format, entry, shared };
    return keepOrNote(calculator, note, () => this.#save(calculator, entry, shared));
  }

  /**
   * @param {string} calculator
   * @param {Entry | null} entry
   * @param {Record<string, any>} shared
   */
  #save(calculator, entry, shared) {
    return this.#write(calculator, async (job, keepFile) => {
      const before = job.calculators[calculator];
      for (const [name, { field, delivered, outlines, text, file, picture }] of Object.entries(shared)) {
        const previous = before?.files[field];
        if (before ? (previous?.hash ?? before.inputs[field]) === (file?.hash ?? text) : delivered) {
          // Typed before there was a picture: it is this one's.
          if (picture && job.shared[name]?.text === text) job.shared[name].picture ??= picture;
          continue;
        }
        const as = nameOf(name, outlines, delivered ? previous : file);
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
      /** @type {Record<string, object>} */
      const files = {};
      for (const [field, file] of Object.entries(entry.files)) {
        const facts = await keepFile(file);
        if (facts) files[field] = facts;
      }
      job.calculators[calculator] = { inputs: entry.inputs, files };
    });
  }

  /**
   * Stores a file made by a calculator as a shared value. Rejects with `NotStored` as `load` does.
   * @param {string} calculator id
   * @param {string} name
   * @param {StoredFile} file
   */
  share(calculator, name, file) {
    return this.#write(calculator, async (job, keepFile) => {
      job.shared[name] = { file: await keepFile(file), at: job.revision + 1, from: calculator };
    });
  }

  /** Stores the values that the previous page had no time to store. */
  async #keepNotes() {
    for (const [calculator, { format, entry, shared }] of takeNotes()) {
      // The page reports an unwritable job when it loads it.
      if (format === this.#format) await this.#save(calculator, entry, shared).catch(() => {});
    }
  }

  /**
   * Changes the job by `change(job, keepFile)`; keepFile stores a file's bytes and returns its record, or undefined if
   * a note names a file whose bytes were never stored.
   * @param {string} calculator
   * @param {(job: any, keepFile: (file: any) => Promise<object | undefined>) => Promise<void>} change
   */
  async #write(calculator, change) {
    await this.#upToDate();
    const revision = await this.#within("readwrite", async (transaction) => {
      const job = (await jobIn(transaction)) ?? { format: this.#format, revision: 0, calculators: {}, shared: {} };
      if (job.format !== this.#format) throw new NotStored("newer");
      const files = transaction.objectStore(FILES);
      await change(job, async (/** @type {any} */ { hash, of, name, media, size, bytes }) => {
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
      throw error instanceof NotStored ? error : new NotStored("failed", error);
    });
    this.#tellTabs({ calculator, revision });
  }

  /**
   * @param {IDBTransactionMode} mode
   * @param {(transaction: any) => Promise<any>} work
   */
  async #within(mode, work) {
    let transaction;
    try {
      transaction = (await this.#database).transaction([JOB, FILES], mode);
    } catch (error) {
      throw new NotStored("unavailable", error);
    }
    return within(transaction, work);
  }

  /** Migrates an older job, which needs the engine and so cannot happen inside a transaction. */
  async #upToDate() {
    const found = await this.#within("readonly", jobIn);
    if (!found || found.format === this.#format) return;
    if (found.format > this.#format) throw new NotStored("newer");
    const migrated = await this.#migrate(found);
    if (!migrated) throw new NotStored("older");
    await this.#within("readwrite", async (transaction) => {
      const present = await jobIn(transaction);
      if (present.format === found.format && present.revision === found.revision) {
        await transaction.objectStore(JOB).put({ ...migrated, revision: found.revision + 1 }, THE_JOB);
      }
    });
    await this.#upToDate();
  }
}

/** @param {any} transaction */
const jobIn = (transaction) => transaction.objectStore(JOB).get(THE_JOB);

/**
 * @param {any} job
 * @param {any} files
 */
async function removeUnused(job, files) {
  const named = Object.values(job.calculators).flatMap(({ files: held }) => Object.values(held ?? {}));
  const shared = Object.values(job.shared).flatMap(({ file }) => file ?? []);
  const used = new Set([...named, ...shared].map(({ hash }) => hash));
  for (const hash of await files.getAllKeys()) if (!used.has(hash)) await files.delete(hash);
}

/**
 * Nothing is stored: the device cannot ("unavailable"), it has a job of a later format ("newer") or one
 * that could not be migrated ("older"), or writing failed ("failed"), for example for lack of space.
 */
export class NotStored extends Error {
  /**
   * @param {string} why
   * @param {unknown} [cause]
   */
  constructor(why, cause) {
    super(why, { cause });
    this.why = why;
  }
}

/**
 * Returns the SHA-256 of bytes in hexadecimal, or null if the page is not in a secure context, where browsers
 * offer no digests.
 * @param {ArrayBuffer} bytes
 * @returns {Promise<string | null>}
 */
export async function hashOf(bytes) {
  if (!globalThis.crypto?.subtle) return null;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/**
 * What is stored on this device, in IndexedDB, layout 2:
 *
 *   jobs       by id: a job of format 3, as plain JSON
 *   summaries  by the same id: {name, changed, markings, bytes, picture, files}, so that a list need not read whole jobs
 *   deleted    by the same id: {job, summary, at}, until the reader can no longer undo it
 *   files      by SHA-256: the bytes of chosen files
 *   facts      by the same: what the engine found in a picture
 *   thumbnails by the same: a small picture
 *   verdicts   by the engine's key: {verdicts, job}
 *   state      "present": {job, marking} that a new tab begins with
 *   job        layout 1 only: the one job of an older format as "present", until it has been migrated
 */

import { openDB } from "idb";
import { within } from "./leaving.mjs";

export const DATABASE = "decalwright";
const LAYOUT = 2;
export const JOBS = "jobs";
export const SUMMARIES = "summaries";
export const DELETED = "deleted";
export const FILES = "files";
export const FACTS = "facts";
export const THUMBNAILS = "thumbnails";
export const VERDICTS = "verdicts";
export const STATE = "state";
export const PRESENT = "present";
/** Of layout 1. */
export const OLD_JOB = "job";
const STORES = [JOBS, SUMMARIES, DELETED, FILES, FACTS, THUMBNAILS, VERDICTS, STATE, OLD_JOB];

/** The database of this device, opened once. */
export class Database {
  #opened;

  constructor() {
    this.#opened = this.#open();
    // Callers get the rejection; a page that never asks must not report one.
    this.#opened.catch(() => {});
  }

  async #open() {
    return openDB(DATABASE, LAYOUT, {
      upgrade(database) {
        for (const name of STORES) if (!database.objectStoreNames.contains(name)) database.createObjectStore(name);
      },
      blocking: (_old, _new, event) => /** @type {IDBDatabase} */ (event.target).close(),
    });
  }

  /**
   * Does `work` in a transaction over everything stored. Rejects with `NotStored`.
   * @template T
   * @param {"readonly" | "readwrite"} mode
   * @param {(transaction: any) => Promise<T>} work
   * @returns {Promise<T>}
   */
  async within(mode, work) {
    let transaction;
    try {
      transaction = (await this.#opened).transaction(STORES, mode);
    } catch (error) {
      throw new NotStored("unavailable", error);
    }
    try {
      return await within(transaction, work);
    } catch (error) {
      throw error instanceof NotStored || mode === "readonly" ? error : new NotStored("failed", error);
    }
  }
}

/**
 * Returns the hashes of the files of a marking, or of what a job has beside its markings.
 * @param {any} part
 * @returns {string[]}
 */
export function filesOf({ files = {}, calculators = {} }) {
  const typed = Object.values(calculators).flatMap((entry) => Object.values(entry.files ?? {}));
  return [...Object.values(files).map(({ file }) => file), ...typed].map(({ hash }) => hash);
}

/** Returns an id of this device for a job. */
export const newJobId = () => `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 8)}`;

/**
 * Writes a job with its summary, and removes what no job uses any more.
 * @param {any} transaction
 * @param {string} id
 * @param {any} job
 */
export async function writeJob(transaction, id, job) {
  const summaries = transaction.objectStore(SUMMARIES);
  const before = await summaries.get(id);
  const files = new Set([job, ...(job.markings ?? [])].flatMap(filesOf));
  await transaction.objectStore(JOBS).put(job, id);
  await summaries.put({ name: job.name ?? "", changed: Date.now(), markings: job.markings?.length ?? 0, picture: pictureOf(job), files }, id);
  if (before && ![...before.files].every((hash) => files.has(hash))) await removeUnused(transaction);
}

/**
 * Removes the files that no job uses, also none that may come back, with what is known of them.
 * @param {any} transaction
 */
export async function removeUnused(transaction) {
  const used = new Set();
  for (const { files } of await transaction.objectStore(SUMMARIES).getAll()) for (const hash of files) used.add(hash);
  for (const { summary } of await transaction.objectStore(DELETED).getAll()) for (const hash of summary.files) used.add(hash);
  for (const name of [FILES, FACTS, THUMBNAILS]) {
    const store = transaction.objectStore(name);
    for (const hash of await store.getAllKeys()) if (!used.has(hash)) await store.delete(hash);
  }
}

/** @param {any} job */
function pictureOf({ markings = [] }) {
  for (const marking of markings) if (fileOf(marking)) return fileOf(marking).hash;
  return null;
}

/**
 * Returns the file that shows a marking: the later of its picture and its outlines.
 * @param {any} marking
 * @returns {{hash: string, name: string, media: string, size: number} | undefined}
 */
export function fileOf({ files = {} }) {
  const found = ["outlines", "picture"].map((name) => files[name]).filter(Boolean);
  return found.sort((one, other) => (other.at ?? 0) - (one.at ?? 0))[0]?.file;
}

/**
 * Nothing is stored: the device cannot ("unavailable"), it has a job of a later format ("newer") or one
 * that could not be migrated ("older"), the job was changed meanwhile ("changed"), or writing failed ("failed"), for
 * example for lack of space.
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

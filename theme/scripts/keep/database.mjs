/** The database of this device; layout.mjs says what is in it. */

import { openDB } from "idb";
import { DELETED, FACTS, FILES, JOBS, OLD_JOB, STATE, SUMMARIES, THUMBNAILS, VERDICTS } from "./layout.mjs";
import { within } from "./leaving.mjs";

export const DATABASE = "decalwright";
const LAYOUT = 2;
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

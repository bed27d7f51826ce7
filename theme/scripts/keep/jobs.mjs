/** The jobs of this device, and what is stored with them: files, what is known of pictures, verdicts. */

import { current, remember } from "./current.mjs";
import { DELETED, FACTS, FILES, JOBS, newJobId, NotStored, PRESENT, removeUnused, STATE, SUMMARIES, THUMBNAILS, VERDICTS, writeJob } from "./database.mjs";
import { byId } from "./markings.mjs";
import { numbered } from "./places.mjs";
import { smallPicture } from "./thumbnails.mjs";

/** For so long a deleted job or marking can come back, if only its page is still open. */
const UNDO_MS = 3_600_000;

/** @typedef {import("./store.mjs").Target} Target */

/** @param {import("./places.mjs").Places} places */
export const emptyJob = ({ format }) => ({ format, revision: 0, markings: /** @type {any[]} */ ([]) });

/** What a store of forms (store.mjs) is built on. */
export class Jobs extends EventTarget {
  /**
   * @param {import("./database.mjs").Database} database
   * @param {import("./places.mjs").Places} places
   */
  constructor(database, places) {
    super();
    this.database = database;
    this.places = places;
  }

  /** Resolves once the store can be used. */
  async ready() {}

  /**
   * Returns the job and the marking that a target means, or those that were current last. Rejects with `NotStored`.
   * @param {any} transaction
   * @param {Target} target
   * @returns {Promise<{id: string | null, job: any, marking: any}>}
   */
  async at(transaction, { job: id, marking }) {
    const jobs = transaction.objectStore(JOBS);
    const last = (await transaction.objectStore(STATE).get(PRESENT)) ?? {};
    for (const each of [{ job: id, marking }, last]) {
      const job = each.job && (await jobs.get(each.job));
      if (!job) continue;
      if (job.format > this.places.format) throw new NotStored("newer");
      if (job.format < this.places.format) throw new NotStored("older");
      return { id: each.job, job, marking: byId(job, each.marking) ?? job.markings?.[0] ?? null };
    }
    return { id: null, job: emptyJob(this.places), marking: null };
  }

  /**
   * Notes what new tabs begin with.
   * @param {any} transaction
   * @param {Target} target
   */
  begin(transaction, target) {
    return transaction.objectStore(STATE).put(target, PRESENT);
  }

  /** @param {Target} target */
  async makeCurrent(target) {
    // Forms store what was typed before, for the marking that was current then.
    this.dispatchEvent(new Event("leaving"));
    remember(target);
    await this.#write((transaction) => this.begin(transaction, target));
    this.dispatchEvent(new CustomEvent("chosen", { detail: target }));
  }

  /** Returns the jobs on this device, the one changed last first. */
  async jobs() {
    return this.#read(async (transaction) => {
      const files = transaction.objectStore(FILES);
      const [ids, summaries] = await Promise.all([transaction.objectStore(SUMMARIES).getAllKeys(), transaction.objectStore(SUMMARIES).getAll()]);
      const found = [];
      for (const [at, { name, changed, markings, picture, files: hashes }] of summaries.entries()) {
        let bytes = 0;
        for (const hash of hashes) bytes += (await files.get(hash))?.byteLength ?? 0;
        found.push({ id: ids[at], name, changed, markings, bytes, picture });
      }
      return found.sort((one, other) => other.changed - one.changed);
    });
  }

  /** @param {string} id */
  async openJob(id) {
    const job = await this.#read((transaction) => transaction.objectStore(JOBS).get(id));
    if (job) await this.makeCurrent({ job: id, marking: job.markings?.[0]?.id ?? null });
  }

  /**
   * Adds a job, empty unless it is passed, and makes it current. Returns its id.
   * @param {any} [job]
   * @param {{hash: string, bytes: ArrayBuffer}[]} [files]
   */
  async newJob(job = emptyJob(this.places), files = []) {
    const id = newJobId();
    await this.#write(async (transaction) => {
      for (const { hash, bytes } of files) await transaction.objectStore(FILES).put(bytes, hash);
      await writeJob(transaction, id, job);
    });
    await this.makeCurrent({ job: id, marking: job.markings?.[0]?.id ?? null });
    return id;
  }

  /**
   * Adds a copy of a job, of which nothing has been made yet, and makes it current. Returns its id.
   * @param {string} id
   */
  async copyJob(id) {
    const [job, summaries] = await this.#read((transaction) => Promise.all([transaction.objectStore(JOBS).get(id), transaction.objectStore(SUMMARIES).getAll()]));
    return this.newJob({ ...job, name: numbered(job.name || "Job", new Set(summaries.map((/** @type {any} */ each) => each.name))) });
  }

  /**
   * Deletes a job. Returns a function that brings it back.
   * @param {string} id
   */
  async deleteJob(id) {
    await this.#write(async (transaction) => {
      const [job, summary] = [await transaction.objectStore(JOBS).get(id), await transaction.objectStore(SUMMARIES).get(id)];
      await transaction.objectStore(DELETED).put({ job, summary, at: Date.now() }, id);
      for (const name of [JOBS, SUMMARIES]) await transaction.objectStore(name).delete(id);
    });
    const was = current();
    if (was.job === id) await this.makeCurrent({ job: null, marking: null });
    return async () => {
      await this.#write(async (transaction) => {
        const { job, summary } = await transaction.objectStore(DELETED).get(id);
        await transaction.objectStore(JOBS).put(job, id);
        await transaction.objectStore(SUMMARIES).put(summary, id);
        await transaction.objectStore(DELETED).delete(id);
      });
      if (was.job === id) await this.makeCurrent(was);
    };
  }

  /** Removes for good what was deleted long ago. */
  async purge() {
    /** @param {any} transaction */
    const old = async (transaction) => {
      const store = transaction.objectStore(DELETED);
      const [ids, all] = await Promise.all([store.getAllKeys(), store.getAll()]);
      return ids.filter((/** @type {any} */ _, /** @type {number} */ at) => Date.now() - all[at].at > UNDO_MS);
    };
    if (!(await this.database.within("readonly", old)).length) return;
    await this.database.within("readwrite", async (transaction) => {
      for (const id of await old(transaction)) await transaction.objectStore(DELETED).delete(id);
      await removeUnused(transaction);
    });
  }

  // -- Files, and what is known of them -----------------------------------------------------------

  /**
   * Returns the bytes of a file, or undefined.
   * @param {string} hash
   * @returns {Promise<ArrayBuffer | undefined>}
   */
  bytes(hash) {
    return this.#read((transaction) => transaction.objectStore(FILES).get(hash));
  }

  /**
   * Stores files, before a job that uses them: a file that no job uses goes when a file is next removed.
   * @param {{hash: string, bytes: ArrayBuffer}[]} files
   */
  putFiles(files) {
    return this.#putAll(FILES, Object.fromEntries(files.map(({ hash, bytes }) => [hash, bytes])));
  }

  /**
   * Returns what is known of the pictures among `hashes`, by hash.
   * @param {string[]} hashes
   */
  facts(hashes) {
    return this.#getAll(FACTS, hashes);
  }

  /** @param {Record<string, any>} facts by hash */
  putFacts(facts) {
    return this.#putAll(FACTS, facts);
  }

  /**
   * Returns the verdicts among those with `keys`, by key.
   * @param {string[]} keys
   */
  async verdicts(keys) {
    const found = await this.#getAll(VERDICTS, keys);
    return Object.fromEntries(Object.entries(found).map(([key, { verdicts }]) => [key, verdicts]));
  }

  /**
   * Stores verdicts by key for the current job. With `used`, every key that the job has now, its other verdicts are removed, and
   * so are those of jobs that are gone.
   * @param {Record<string, any>} verdicts
   * @param {string[]} [used]
   */
  async putVerdicts(verdicts, used) {
    const { job } = current();
    await this.#putAll(VERDICTS, Object.fromEntries(Object.entries(verdicts).map(([key, each]) => [key, { verdicts: each, job }])));
    if (!used) return;
    const wanted = new Set(used);
    await this.#write(async (transaction) => {
      const store = transaction.objectStore(VERDICTS);
      const jobs = new Set(await transaction.objectStore(JOBS).getAllKeys());
      const [keys, all] = await Promise.all([store.getAllKeys(), store.getAll()]);
      for (const [at, key] of keys.entries()) {
        if (all[at].job === job ? !wanted.has(key) : !jobs.has(all[at].job)) await store.delete(key);
      }
    });
  }

  /**
   * Returns a small picture of a file, at most 96 px, or null if it shows nothing. It is made once.
   * @param {string} hash
   * @param {string} [media]
   * @returns {Promise<Blob | null>}
   */
  async thumbnail(hash, media = "") {
    const [made, bytes] = await this.#read((transaction) => Promise.all([transaction.objectStore(THUMBNAILS).get(hash), transaction.objectStore(FILES).get(hash)]));
    if (made !== undefined || !bytes) return made ?? null;
    const small = await smallPicture(bytes, media);
    await this.#putAll(THUMBNAILS, { [hash]: small });
    return small;
  }

  /** @param {string} store @param {string[]} keys */
  #getAll(store, keys) {
    return this.#read(async (transaction) => {
      /** @type {Record<string, any>} */
      const found = {};
      const values = await Promise.all(keys.map((key) => transaction.objectStore(store).get(key)));
      for (const [at, key] of keys.entries()) if (values[at] !== undefined) found[key] = values[at];
      return found;
    });
  }

  /** @param {string} store @param {Record<string, any>} values */
  #putAll(store, values) {
    return this.#write(async (transaction) => {
      for (const [key, value] of Object.entries(values)) await transaction.objectStore(store).put(value, key);
    });
  }

  /**
   * @template T
   * @param {(transaction: any) => Promise<T>} work
   * @returns {Promise<T>}
   */
  async #read(work) {
    await this.ready();
    return this.database.within("readonly", work);
  }

  /**
   * @template T
   * @param {(transaction: any) => Promise<T>} work
   * @returns {Promise<T>}
   */
  async #write(work) {
    await this.ready();
    return this.database.within("readwrite", work);
  }
}

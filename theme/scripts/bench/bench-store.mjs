/**
 * Stores the work at the bench on this device only: running timers and done steps, in a separate IndexedDB, so that
 * the job of the calculators (store.mjs) keeps its format.
 *
 *   timers: id → {id, wait, label, ends, link, started, low, high, rung: {low, high}, missed: {low, high}}
 *   steps:  path of the page below the site's root → {done, of}
 *
 * If the browser stores nothing, everything lasts only for the visit.
 */

import { openDB } from "idb";
import { openChannel } from "../keep/channel.mjs";
import { within } from "../keep/leaving.mjs";

const DATABASE = "decalwright-bench";
const LAYOUT = 1;
const TIMERS = "timers";
const STEPS = "steps";

/** @typedef {{low: boolean, high: boolean}} Ends */
/**
 * @typedef {object} Timer times are milliseconds since 1970 by the device's clock, so that sleep does not stop them
 * @property {string} id
 * @property {string} wait id of the row in drying-times
 * @property {string} label
 * @property {string} ends the test that ends the wait
 * @property {string} link where the row is read
 * @property {number} started
 * @property {number} low when the wait may be over
 * @property {number} high when it usually is
 * @property {Ends} rung which ends have rung, or were reported as missed
 * @property {Ends} missed which ends passed while no page was open to ring
 */
/** @typedef {{done: number, of: number}} Progress steps done, of so many */

/** The bench's store of this tab. Dispatches "changed" when another tab has written timers. */
export class BenchStore extends EventTarget {
  /** The values if the browser stores nothing. */
  #fallback = { timers: /** @type {Map<string, Timer>} */ (new Map()), steps: /** @type {Map<string, Progress>} */ (new Map()) };
  /** @type {Promise<import("idb").IDBPDatabase | null>} */
  #database;
  #tellTabs;

  constructor() {
    super();
    this.#database = this.#open().catch(() => /** @type {null} */ (null));
    this.#tellTabs = openChannel(DATABASE, () => this.dispatchEvent(new Event("changed")));
  }

  async #open() {
    return openDB(DATABASE, LAYOUT, {
      upgrade(fresh) {
        fresh.createObjectStore(TIMERS, { keyPath: "id" });
        fresh.createObjectStore(STEPS);
      },
      blocking: (_old, _new, event) => /** @type {IDBDatabase} */ (event.target).close(),
    });
  }

  /** Whether stored values outlast the visit. */
  async keeps() {
    return (await this.#database) !== null;
  }

  /** @returns {Promise<Timer[]>} all timers in order of starting */
  async timers() {
    const database = await this.#database;
    const found = database ? await read(database, TIMERS, (/** @type {any} */ timers) => timers.getAll()) : [...this.#fallback.timers.values()];
    return found.sort((/** @type {Timer} */ one, /** @type {Timer} */ other) => one.started - other.started);
  }

  /** @param {Timer} timer */
  async putTimer(timer) {
    const database = await this.#database;
    if (database) await write(database, TIMERS, (timers) => timers.put(timer));
    else this.#fallback.timers.set(timer.id, timer);
    this.#tellTabs("timers");
  }

  /** @param {string} id */
  async removeTimer(id) {
    const database = await this.#database;
    if (database) await write(database, TIMERS, (timers) => timers.delete(id));
    else this.#fallback.timers.delete(id);
    this.#tellTabs("timers");
  }

  /**
   * Marks an end of a timer as rung. Of several tabs only one gets true and rings.
   * @param {string} id
   * @param {"low" | "high"} end
   * @param {boolean} missed whether it passed while no page was open
   * @returns {Promise<boolean>}
   */
  async claim(id, end, missed) {
    /** @param {Timer} timer */
    const mark = (timer) => ({ ...timer, rung: { ...timer.rung, [end]: true }, missed: { ...timer.missed, [end]: missed } });
    const database = await this.#database;
    if (!database) {
      const timer = this.#fallback.timers.get(id);
      if (!timer || timer.rung[end]) return false;
      this.#fallback.timers.set(id, mark(timer));
      return true;
    }
    const first = await within(database.transaction(TIMERS, "readwrite"), async ({ store }) => {
      const timer = await store.get(id);
      if (!timer || timer.rung[end]) return false;
      await store.put(mark(timer));
      return true;
    });
    if (first) this.#tellTabs("timers");
    return first;
  }

  /**
   * @param {string} page
   * @returns {Promise<Progress | undefined>}
   */
  async progress(page) {
    const database = await this.#database;
    return database ? read(database, STEPS, (steps) => steps.get(page)) : this.#fallback.steps.get(page);
  }

  /**
   * @param {string} page
   * @param {Progress} progress
   */
  async putProgress(page, progress) {
    const database = await this.#database;
    if (database) await write(database, STEPS, (steps) => steps.put(progress, page));
    else this.#fallback.steps.set(page, progress);
  }
}

/**
 * @param {import("idb").IDBPDatabase} database
 * @param {string} name
 * @param {(store: any) => Promise<any>} act
 */
const read = (database, name, act) => within(database.transaction(name), ({ store }) => act(store));

/**
 * Writes and commits at once, so that leaving the page does not abort the transaction.
 * @param {import("idb").IDBPDatabase} database
 * @param {string} name
 * @param {(store: any) => Promise<any>} act
 */
const write = (database, name, act) =>
  within(database.transaction(name, "readwrite"), async (transaction) => {
    const written = act(transaction.store);
    transaction.commit();
    await written;
  });

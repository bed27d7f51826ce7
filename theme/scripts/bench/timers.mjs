/**
 * Timers of waits. Each has two ends by the device's clock: when the wait may be over, and when it usually is. The
 * remaining time is calculated from the clock, so that it is correct after sleep or after closing the page.
 */

/** @typedef {import("./bench-store.mjs").Timer} Timer */
/** @typedef {"running" | "ready" | "over"} State before the low end, between both, after the high end */

/** A ring this late was missed: no page was open, or the device slept. */
const MISSED_AFTER_MS = 3000;
const LOOK_EVERY_MS = 250;
const UNDO_FOR_MS = 15_000;
const ENDS = /** @type {const} */ (["low", "high"]);

/**
 * Returns the state of a timer.
 * @param {Timer} timer
 * @param {number} now milliseconds since 1970
 * @returns {State}
 */
export function stateOf({ low, high }, now) {
  return now < low ? "running" : now < high ? "ready" : "over";
}

/**
 * The timers of the visit. Dispatches "changed" when the list changes, "looked" after reading the clock, and "rang"
 * (detail: {timer, end, missed}) when an end is reached.
 */
export class Timers extends EventTarget {
  #store;
  /** @type {Timer[]} */
  #all = [];
  /** @type {Timer | null} the last removed timer, while it can be restored */
  #removed = null;
  #forgetting = 0;
  #looking = 0;
  #count = 0;

  /** @param {import("./bench-store.mjs").BenchStore} store */
  constructor(store) {
    super();
    this.#store = store;
    store.addEventListener("changed", () => this.#read());
    // After being hidden or frozen, read the clock at once.
    for (const type of ["visibilitychange", "resume"]) document.addEventListener(type, () => this.#look());
    for (const type of ["pageshow", "focus"]) addEventListener(type, () => this.#look());
    this.#read();
  }

  /** All timers in order of starting. */
  get all() {
    return this.#all;
  }

  /** The last removed timer, while it can be restored. */
  get removed() {
    return this.#removed;
  }

  /**
   * Starts a timer now.
   * @param {{wait: string, label: string, ends: string, link: string, lowMs: number, highMs: number}} wait
   * @returns {Promise<Timer>}
   */
  async start({ wait, label, ends, link, lowMs, highMs }) {
    const started = Date.now();
    // Keeps the order of timers started at the same moment, and makes ids of two tabs differ.
    const id = `${started}-${this.#count++}-${Math.random().toString(36).slice(2, 8)}`;
    // If the range is a single number, ring only once: mark the low end as rung.
    const rung = { low: lowMs === highMs, high: false };
    const timer = { id, wait, label, ends, link, started, low: started + lowMs, high: started + highMs, rung, missed: { low: false, high: false } };
    await this.#store.putTimer(timer);
    await this.#read();
    return timer;
  }

  /**
   * Removes a timer; `undo` restores it.
   * @param {string} id
   */
  async remove(id) {
    const timer = this.#all.find((each) => each.id === id);
    if (!timer) return;
    await this.#store.removeTimer(id);
    this.#removed = timer;
    clearTimeout(this.#forgetting);
    this.#forgetting = setTimeout(() => this.#forget(), UNDO_FOR_MS);
    await this.#read();
  }

  /** Restores the last removed timer. */
  async undo() {
    const timer = this.#removed;
    this.#removed = null;
    if (timer) await this.#store.putTimer(timer);
    await this.#read();
  }

  #forget() {
    this.#removed = null;
    this.dispatchEvent(new Event("changed"));
  }

  async #read() {
    this.#all = await this.#store.timers();
    clearInterval(this.#looking);
    if (this.#all.length) this.#looking = setInterval(() => this.#look(), LOOK_EVERY_MS);
    this.dispatchEvent(new Event("changed"));
    await this.#look();
  }

  async #look() {
    if (!this.#all.length) return;
    const now = Date.now();
    for (const timer of this.#all) {
      for (const end of ENDS) {
        if (now < timer[end] || timer.rung[end]) continue;
        timer.rung[end] = true;
        // If both ends passed unseen, report only the later one.
        const missed = now - timer[end] > MISSED_AFTER_MS;
        const isLatest = end === "high" || now < timer.high;
        if ((await this.#store.claim(timer.id, end, missed)) && isLatest) {
          timer.missed[end] = missed;
          this.dispatchEvent(new CustomEvent("rang", { detail: { timer, end, missed } }));
        }
      }
    }
    this.dispatchEvent(new Event("looked"));
  }
}

/**
 * Returns a length of time as a clock shows it: "0:07", "12:30", "3:05:00", "2 d 4 h".
 * @param {number} ms
 */
export function clockText(ms) {
  const seconds = Math.max(0, Math.ceil(ms / 1000));
  const [days, hours, minutes] = [Math.floor(seconds / 86_400), Math.floor(seconds / 3600) % 24, Math.floor(seconds / 60) % 60];
  /** @param {number} number */
  const two = (number) => String(number).padStart(2, "0");
  if (days) return `${days} d ${hours} h`;
  if (hours) return `${hours}:${two(minutes)}:${two(seconds % 60)}`;
  return `${minutes}:${two(seconds % 60)}`;
}

/**
 * Returns when something is, by the clock: the seconds where the wait is short, the day where it is not today.
 * @param {number} time milliseconds since 1970
 * @param {number} now
 * @param {number} waitMs how long the wait is
 */
export function timeText(time, now, waitMs) {
  const short = waitMs < 5 * 60_000;
  /** @type {Intl.DateTimeFormatOptions} */
  const clock = { hour: "2-digit", minute: "2-digit", hourCycle: "h23", ...(short ? { second: "2-digit" } : {}) };
  const sameDay = new Date(time).toDateString() === new Date(now).toDateString();
  /** @type {Intl.DateTimeFormatOptions} */
  const day = sameDay ? {} : { weekday: "short", day: "numeric", month: "short" };
  return new Intl.DateTimeFormat("en-GB", { ...clock, ...day }).format(time);
}

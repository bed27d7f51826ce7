/**
 * The strip of timers at the lower edge, the same on every page of a visit, and the waits of a page as buttons that start them.
 */

import { canSound, openSound, ring } from "./ring.mjs";
import { clockText, stateOf, timeText } from "./timers.mjs";

/** @typedef {import("./timers.mjs").Timer} Timer */

/** Shows the timers, rings, and announces rings. */
export class TimerStrip {
  #timers;
  #say;
  #part;
  #rows = new Map();

  /**
   * @param {import("./timers.mjs").Timers} timers
   * @param {import("./bench-store.mjs").BenchStore} store
   * @param {(key: string, parts?: object) => string} say
   * @param {HTMLElement} foot the .dw-foot
   */
  constructor(timers, store, say, foot) {
    this.#timers = timers;
    this.#say = say;
    /** @param {string} selector */
    const find = (selector) => foot.querySelector(selector);
    this.#part = {
      strip: find(".dw-timers"),
      list: find(".dw-timers ul"),
      note: find(".dw-timers-note"),
      undo: find(".dw-timers-undo"),
      spoken: find(".dw-timers-spoken"),
      row: find("#dw-timer"),
    };
    this.#part.undo.querySelector("button").addEventListener("click", () => this.#undo());
    timers.addEventListener("changed", () => this.#show());
    timers.addEventListener("looked", () => this.#tick());
    timers.addEventListener("rang", (event) => this.#rang(/** @type {CustomEvent} */ (event).detail));
    for (const touched of ["pointerdown", "keydown"]) addEventListener(touched, () => timers.all.length && openSound());
    store.keeps().then((keeps) => (this.#part.strip.dataset.stored = String(keeps)));
    this.#show();
  }

  /**
   * Turns the waits of a page into buttons that start timers.
   * @param {ParentNode} page
   */
  mount(page) {
    for (const wait of page.querySelectorAll(".dw-wait:not([data-mounted])")) {
      wait.dataset.mounted = "";
      const link = wait.querySelector("a")?.href ?? "";
      const range = wait.textContent;
      const button = Object.assign(document.createElement("button"), { type: "button", className: "dw-wait-start" });
      button.textContent = range;
      button.title = this.#say("timer_start", { label: wait.dataset.label, range });
      button.setAttribute("aria-label", button.title);
      button.addEventListener("click", () => this.#start(wait.dataset, link));
      wait.replaceChildren(button);
    }
  }

  /**
   * @param {DOMStringMap} wait
   * @param {string} link
   */
  async #start({ wait = "", label = "", ends = "", lowS, highS }, link) {
    openSound();
    const timer = await this.#timers.start({ wait, label, ends, link, lowMs: 1000 * Number(lowS), highMs: 1000 * Number(highS) });
    this.#speak("timer_started", { label, when: this.#when(timer, Date.now()) });
  }

  /** @param {string} id */
  async #take(id) {
    const timer = this.#timers.all.find((each) => each.id === id);
    await this.#timers.remove(id);
    if (timer) this.#speak("timer_removed", { label: timer.label });
    this.#part.undo.querySelector("button").focus();
  }

  async #undo() {
    const { id, label } = this.#timers.removed ?? {};
    await this.#timers.undo();
    this.#rows.get(id)?.querySelector("button").focus();
    if (label) this.#speak("timer_back", { label });
  }

  /** @param {{timer: Timer, end: "low" | "high", missed: boolean}} ring */
  #rang({ timer, end, missed }) {
    ring(end);
    const sentence = this.#say(end === "low" ? "timer_ready" : "timer_over", { ends: timer.ends });
    const away = missed ? this.#say("timer_away", { time: this.#time(timer, timer[end], Date.now()) }) : "";
    this.#part.spoken.textContent = `${timer.label}. ${sentence} ${away}`.trim();
  }

  /**
   * @param {string} key
   * @param {object} [parts]
   */
  #speak(key, parts) {
    this.#part.spoken.textContent = this.#say(key, parts);
  }

  #show() {
    const { all, removed } = this.#timers;
    const { strip, list, undo } = this.#part;
    strip.hidden = !all.length && !removed;
    undo.hidden = !removed;
    if (removed) undo.querySelector("span").textContent = this.#say("timer_removed", { label: removed.label });
    for (const [id, row] of this.#rows) {
      if (all.some((timer) => timer.id === id)) continue;
      row.remove();
      this.#rows.delete(id);
    }
    for (const timer of all) {
      if (!this.#rows.has(timer.id)) this.#rows.set(timer.id, this.#rowOf(timer));
      list.append(this.#rows.get(timer.id));
    }
    this.#tick();
  }

  /** @param {Timer} timer */
  #rowOf({ id, label, link }) {
    const row = this.#part.row.content.cloneNode(true).firstElementChild;
    const name = row.querySelector(".dw-timer-name");
    name.textContent = label;
    if (link) name.href = link;
    row.querySelector("button").addEventListener("click", () => this.#take(id));
    return row;
  }

  #tick() {
    const now = Date.now();
    for (const timer of this.#timers.all) {
      const row = this.#rows.get(timer.id);
      if (row) this.#write(row, timer, now);
    }
    this.#note();
  }

  /**
   * @param {HTMLElement} row
   * @param {Timer} timer
   * @param {number} now
   */
  #write(row, timer, now) {
    const state = stateOf(timer, now);
    const left = { running: timer.low - now, ready: timer.high - now, over: 0 }[state];
    row.dataset.state = state;
    write(row.querySelector(".dw-timer-left"), state === "over" ? this.#say("timer_rings") : clockText(left));
    write(row.querySelector(".dw-timer-when"), this.#stateText(timer, state, now));
    const button = row.querySelector("button");
    write(button, this.#say(state === "running" ? "timer_cancel" : "timer_done"));
    button.setAttribute("aria-label", `${button.textContent}: ${timer.label}`);
  }

  /**
   * The text of a timer: when it ends, or the test that ends the wait.
   * @param {Timer} timer
   * @param {import("./timers.mjs").State} state
   * @param {number} now
   */
  #stateText(timer, state, now) {
    if (state === "running") return this.#when(timer, now);
    const sentence = this.#say(state === "ready" ? "timer_ready" : "timer_over", { ends: timer.ends });
    const end = state === "ready" ? "low" : "high";
    return timer.missed[end] ? `${sentence} ${this.#say("timer_away", { time: this.#time(timer, timer[end], now) })}` : sentence;
  }

  /**
   * @param {Timer} timer
   * @param {number} now
   */
  #when(timer, now) {
    const [low, high] = [timer.low, timer.high].map((end) => this.#time(timer, end, now));
    return low === high ? this.#say("timer_ends", { time: low }) : this.#say("timer_ends_from", { low, high });
  }

  /**
   * @param {Timer} timer
   * @param {number} time
   * @param {number} now
   */
  #time(timer, time, now) {
    return timeText(time, now, timer.high - timer.started);
  }

  /** A note if rings would be inaudible, or timers would not outlast the visit. */
  #note() {
    const { strip, note } = this.#part;
    const waiting = this.#timers.all.some(({ high }) => high > Date.now());
    const notes = [];
    if (waiting && globalThis.AudioContext && !canSound()) notes.push(this.#say("timer_silent"));
    if (waiting && strip.dataset.stored === "false") notes.push(this.#say("timers_unstored"));
    note.hidden = !notes.length;
    write(note, notes.join(" "));
  }
}

/**
 * Writes a text only if it changed, so that screen readers do not repeat it.
 * @param {Element} element
 * @param {string} text
 */
function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

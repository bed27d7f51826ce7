/**
 * Bench mode of a how-to: one step at a time, by tap, swipe, key or screen reader. The page's own steps are
 * displayed one by one; passed steps are ticked and remembered, and going back removes the tick.
 */

import { base } from "../../engine/visit.mjs";
import { Awake } from "./awake.mjs";
import { swipes } from "./swipe.mjs";

const HASH = "#bench";
const READING = "dw-benching";
const VISIBLE = "data-bench-visible";

/** @typedef {{kind: "caution", step: number, parts: HTMLElement[]} | {kind: "step", step: number, part: HTMLElement} | {kind: "end", step: number}} Card */

/**
 * Mounts bench mode if the page is a how-to.
 * @param {{benchStore: import("./bench-store.mjs").BenchStore, say: (key: string, parts?: object) => string, foot: HTMLElement}} visit
 * @returns {Bench[]}
 */
export function mount({ benchStore, say, foot }) {
  const article = document.querySelector(".dw-article:has(> .dw-bench-open)");
  const page = location.pathname.slice(base.pathname.length);
  return article ? [new Bench(article, { page, store: benchStore, say, foot })] : [];
}

/** One how-to page, from loading until another page replaces it. */
class Bench {
  #article;
  #page;
  #store;
  #say;
  #part;
  #bar;
  /** @type {HTMLElement[]} */
  #steps;
  /** @type {Card[]} */
  #cards;
  #at = 0;
  #reading = false;
  #speaking = false;
  #awake = new Awake();
  #ending = new AbortController();

  /**
   * @param {HTMLElement} article the page's .dw-article, with .dw-bench-open in it
   * @param {{page: string, store: import("./bench-store.mjs").BenchStore, say: (key: string, parts?: object) => string, foot: HTMLElement}} visit
   *   page: the page's path below the site's root
   */
  constructor(article, { page, store, say, foot }) {
    this.#article = article;
    this.#page = page;
    this.#store = store;
    this.#say = say;
    this.#steps = [...article.querySelectorAll(":scope > ol:not([class]) > li")];
    this.#cards = this.#deal();
    /** @param {string} name */
    const find = (name) => article.querySelector(`.dw-bench-${name}`);
    const names = ["open", "begin", "progress", "top", "place", "speak", "leave", "ticks", "awake", "spoken", "reminder", "end"];
    this.#part = Object.fromEntries(names.map((name) => [name, find(name)]));
    this.#bar = foot.querySelector(".dw-bench-bar");
    this.#part.ticks.replaceChildren(...this.#steps.map(() => document.createElement("span")));
    this.#listen();
    this.#begin();
  }

  /** Ends with its page. */
  end() {
    if (this.#reading) this.#close();
    this.#ending.abort();
  }

  /**
   * The cards in order: before each step the cautions that no earlier step had, and finally the end.
   * @returns {Card[]}
   */
  #deal() {
    const entries = [...this.#article.querySelectorAll(".dw-cautions [data-hazard]")];
    const governing = this.#article.querySelector(".dw-cautions > p:last-child");
    /** @param {HTMLElement} entry */
    const first = (entry) => Number(entry.dataset.steps?.split(" ")[0] ?? 1);
    const cards = this.#steps.flatMap((part, index) => {
      const step = index + 1;
      const parts = entries.filter((entry) => first(entry) === step);
      /** @type {Card} */
      const caution = { kind: "caution", step, parts: [...parts, governing] };
      /** @type {Card} */
      const card = { kind: "step", step, part };
      return parts.length ? [caution, card] : [card];
    });
    return [...cards, { kind: "end", step: this.#steps.length + 1 }];
  }

  #listen() {
    const { signal } = this.#ending;
    /** @type {Listen} */
    const on = (target, event, act) => target.addEventListener(event, act, { signal });
    const { begin, leave, speak } = this.#part;
    on(begin, "click", () => this.#enter());
    on(leave, "click", () => this.#leave());
    on(speak, "click", () => this.#speakOrNot());
    for (const again of this.#article.querySelectorAll(".dw-bench-again")) on(again, "click", () => this.#again());
    on(this.#bar.querySelector(".dw-bench-next"), "click", () => this.#next());
    on(this.#bar.querySelector(".dw-bench-back"), "click", () => this.#back());
    on(globalThis, "hashchange", () => this.#follow());
    on(document, "keydown", (event) => this.#key(event));
    on(this.#awake, "change", () => this.#showAwake());
    swipes(this.#article, (way) => this.#reading && (way === "left" ? this.#next() : this.#back()), signal);
  }

  async #begin() {
    const saved = await this.#store.progress(this.#page);
    if (this.#ending.signal.aborted) return;
    // A how-to that has changed since starts from the beginning.
    const done = saved?.of === this.#steps.length ? saved.done : 0;
    this.#at = this.#cards.findIndex(({ step }) => step === done + 1);
    this.#tick(done);
    this.#follow();
  }

  // -- Opening and leaving

  #follow() {
    const wanted = location.hash === HASH;
    if (wanted && !this.#reading) this.#open();
    else if (!wanted && this.#reading) this.#close();
  }

  #open() {
    this.#reading = true;
    document.documentElement.classList.add(READING);
    const { top, speak } = this.#part;
    top.hidden = this.#bar.hidden = false;
    speak.hidden = !globalThis.speechSynthesis;
    this.#part.awake.textContent = "";
    this.#awake.begin();
    this.#show();
    this.#bar.querySelector(".dw-bench-next").focus();
  }

  /** Opens at a separate address, so that the browser's "back" leaves it. */
  #enter() {
    // Setting location.hash would make the theme's instant navigation fetch the page again.
    history.pushState(null, "", HASH);
    this.#follow();
  }

  #leave() {
    history.replaceState(history.state, "", location.pathname + location.search);
    this.#close();
  }

  #close() {
    this.#reading = false;
    document.documentElement.classList.remove(READING);
    const { top, reminder, end, begin } = this.#part;
    top.hidden = this.#bar.hidden = reminder.hidden = end.hidden = true;
    for (const each of this.#article.querySelectorAll(`[${VISIBLE}]`)) each.removeAttribute(VISIBLE);
    globalThis.speechSynthesis?.cancel();
    this.#awake.end();
    begin.focus();
  }

  #showAwake() {
    this.#part.awake.textContent = this.#say(this.#awake.holds ? "bench_awake" : "bench_sleeps");
  }

  // -- Navigation between cards

  #next() {
    if (this.#at === this.#cards.length - 1) this.#leave();
    else this.#go(this.#at + 1);
  }

  #back() {
    if (this.#at > 0) this.#go(this.#at - 1);
  }

  #again() {
    this.#go(0);
    if (!this.#reading) this.#part.begin.focus();
  }

  /** @param {number} at */
  #go(at) {
    this.#at = at;
    const done = this.#cards[at].step - 1;
    this.#tick(done);
    this.#store.putProgress(this.#page, { done, of: this.#steps.length });
    if (this.#reading) this.#show();
  }

  /**
   * Marks done steps, on the page and in bench mode.
   * @param {number} done
   */
  #tick(done) {
    const { progress, ticks } = this.#part;
    this.#steps.forEach((step, index) => step.toggleAttribute("data-done", index < done));
    [...ticks.children].forEach((tick, index) => tick.toggleAttribute("data-done", index < done));
    progress.hidden = !done;
    progress.querySelector("span").textContent = this.#say("bench_done", { done, of: this.#steps.length });
  }

  #show() {
    const card = this.#cards[this.#at];
    const { place, reminder, end, spoken } = this.#part;
    for (const each of this.#article.querySelectorAll(`[${VISIBLE}]`)) each.removeAttribute(VISIBLE);
    const visible = card.kind === "caution" ? card.parts : card.kind === "step" ? [card.part] : [end];
    for (const part of visible) {
      part.setAttribute(VISIBLE, "");
      part.closest(".dw-article > *").setAttribute(VISIBLE, "");
    }
    end.hidden = card.kind !== "end";
    place.textContent = this.#say(`bench_${card.kind}`, { step: card.step, of: this.#steps.length });
    const reminded = card.kind === "step" ? this.#reminders(card.step) : [];
    reminder.textContent = reminded.map((entry) => entry.textContent).join(" ");
    reminder.hidden = !reminded.length;
    const last = card.kind === "end" ? "bench_close" : card.kind === "caution" ? "bench_understood" : "bench_next";
    this.#bar.querySelector(".dw-bench-next").textContent = this.#say(last);
    this.#bar.querySelector(".dw-bench-back").disabled = this.#at === 0;
    const words = [place.textContent, reminder.textContent, ...visible.map(wordsOf)].filter(Boolean).join(". ");
    spoken.textContent = words;
    if (this.#speaking) this.#speak(words);
    scrollTo(0, 0);
  }

  /**
   * The cautions of a step that an earlier step already had on a card.
   * @param {number} step
   */
  #reminders(step) {
    return [...this.#article.querySelectorAll(".dw-cautions [data-steps]")].filter((entry) => entry.dataset.steps.split(" ").slice(1).includes(String(step)));
  }

  // -- Keys and speech

  /** @param {KeyboardEvent & {target: any}} event */
  #key(event) {
    if (!this.#reading || event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    const onControl = event.target.closest?.("a, button, input, select, textarea, summary");
    const act = {
      ArrowRight: () => this.#next(),
      ArrowLeft: () => this.#back(),
      PageDown: () => this.#next(),
      PageUp: () => this.#back(),
      " ": () => (event.shiftKey ? this.#back() : this.#next()),
      Escape: () => this.#leave(),
    }[event.key];
    if (!act || (event.key === " " && onControl)) return;
    // Scroll to the end of a step that is longer than the screen first.
    const page = document.documentElement;
    const rest = page.scrollHeight - page.clientHeight - page.scrollTop;
    if ((event.key === "PageDown" && rest > 1) || (event.key === "PageUp" && page.scrollTop > 1)) return;
    event.preventDefault();
    act();
  }

  #speakOrNot() {
    this.#speaking = !this.#speaking;
    this.#part.speak.setAttribute("aria-pressed", String(this.#speaking));
    if (this.#speaking) this.#speak(this.#part.spoken.textContent);
    else speechSynthesis.cancel();
  }

  /** @param {string} words */
  #speak(words) {
    speechSynthesis.cancel();
    speechSynthesis.speak(Object.assign(new SpeechSynthesisUtterance(words), { lang: "en" }));
  }
}

/**
 * The text of a part, without text inside drawings.
 * @param {Element} part
 */
function wordsOf(part) {
  const copy = /** @type {Element} */ (part.cloneNode(true));
  for (const each of copy.querySelectorAll("svg, .headerlink")) each.remove();
  return copy.textContent.replace(/\s+/g, " ").trim();
}

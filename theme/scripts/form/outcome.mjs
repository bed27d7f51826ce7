/**
 * The state of the answer: an example, starting, working, answered or out of date; and the card for a question that could
 * not be answered.
 */

import { megabytes } from "./loading.mjs";

/** Outcomes with a card; any other is displayed as a fault. */
/** @type {Record<string, string>} */
const CARDS = { "no-engine": "no_engine", "no-wasm": "no_wasm", "too-long": "too_long", stopped: "stopped", fault: "fault" };

/** The line above the answer, the progress below it, and the text for screen readers. */
export class Status {
  #answer;
  #line;
  #spoken;
  #progress;
  #say;
  #isExamples = false;

  /**
   * @param {HTMLElement} root the .dw-calculator
   * @param {(key: string, parts?: object) => string} say
   */
  constructor(root, say) {
    this.#answer = root.querySelector(".dw-answer");
    this.#line = root.querySelector(".dw-state");
    this.#spoken = root.querySelector(".dw-spoken");
    this.#progress = root.querySelector(".dw-progress");
    this.#say = say;
  }

  /** @param {"idle" | "loading" | "ready" | "failed"} state the engine's */
  engine(state) {
    this.#answer.dataset.engine = state;
    this.#answer.setAttribute("aria-busy", String(state === "loading"));
    if (state === "loading" && this.#answer.dataset.state === "example") this.#showLine("starting");
  }

  /** Shows how much of the engine has loaded. @param {import("../../engine/engine.mjs").Engine} engine */
  starting({ state, received, expected }) {
    if (state === "loading" && expected && this.#answer.dataset.state === "example") this.#showLine("starting_share", megabytes(received, expected));
  }

  /** @param {string} [verdict] the verdict's title, read aloud */
  answered(verdict = "") {
    this.#answer.dataset.state = "answered";
    this.#isExamples = false;
    this.#line.hidden = true;
    this.#speak(verdict);
  }

  /**
   * Marks the displayed answer as older than the input, or as that of the worked example.
   * @param {string} [why] read aloud; undefined if nothing could be calculated, and the worked example stays as it is
   */
  stale(why) {
    const isExample = this.#answer.dataset.state === "example";
    this.#isExamples ||= isExample;
    const isLeft = isExample && why === undefined;
    if (!isLeft) this.#answer.dataset.state = "stale";
    this.#showLine(isLeft ? "worked_example" : this.#isExamples ? "examples_answer" : "older_answer");
    this.#speak(why ?? "");
  }

  /**
   * @param {number | null} share 0 to 1, null if unknown
   * @param {string | null} words
   */
  working(share, words) {
    this.#answer.setAttribute("aria-busy", "true");
    this.#answer.dataset.working = "";
    this.#progress.hidden = false;
    const bar = this.#progress.querySelector("progress");
    if (share === null || share === undefined) bar.removeAttribute("value");
    else bar.value = share;
    this.#write(this.#progress.querySelector("span"), words || this.#say("working"));
  }

  idle() {
    this.#answer.setAttribute("aria-busy", "false");
    delete this.#answer.dataset.working;
    this.#progress.hidden = true;
  }

  /**
   * @param {string} key
   * @param {object} [parts]
   */
  #showLine(key, parts) {
    this.#write(this.#line, this.#say(key, parts));
    this.#line.hidden = false;
  }

  /** @param {string} text */
  #speak(text) {
    this.#write(this.#spoken, text);
  }

  /**
   * Writes a text only if it differs: the browser would lay it out again, and a screen reader might read it again.
   * @param {HTMLElement} element
   * @param {string} text
   */
  #write(element, text) {
    if (element.textContent !== text) element.textContent = text;
  }
}

/**
 * Shows the card for a question that could not be answered, or hides it.
 * @param {HTMLElement} root the .dw-calculator
 * @param {null | {outcome: string, text?: string, trace?: string}} envelope
 * @param {(key: string, parts?: object) => string} say
 */
export function showOutcome(root, envelope, say) {
  const card = root.querySelector(".dw-outcome");
  card.hidden = !envelope;
  if (!envelope) return;
  const key = CARDS[envelope.outcome] ?? "fault";
  card.dataset.outcome = envelope.outcome;
  card.querySelector(".dw-outcome-title").textContent = say(`${key}_title`);
  card.querySelector(".dw-outcome-text").textContent = say(`${key}_text`, { limit: Number(root.dataset.limitS) });
  const details = card.querySelector("details");
  const report = [envelope.text, envelope.trace].filter(Boolean).join("\n\n");
  details.hidden = !report;
  details.querySelector("pre").textContent = report;
}

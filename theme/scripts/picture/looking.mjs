/**
 * The loupe over a picture in a figure: it follows the mouse, a held or tapped finger, or keys from a button above the
 * figure.
 */

import { Loupe } from "./loupe.mjs";

const HELD_AFTER_MS = 350;
const STILL_PX = 10;
/** How far an arrow key moves the loupe on the screen; with Shift five times as far. */
const KEY_STEP_PX = 4;
/** This far from the edge of the screen, the whole loupe is visible. */
const SIGHT_PX = 100;
/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** The loupe of one figure. */
export class Looking {
  #figure;
  #loupe;
  #tools = /** @type {HTMLElement} */ (null);
  #toggle;
  #image = /** @type {SVGImageElement | null} */ (null);
  #decode = /** @type {(() => Promise<import("./pictures.mjs").Bitmaps | null>) | null} */ (null);
  #bitmaps = /** @type {import("./pictures.mjs").Bitmaps | null} */ (null);
  #share = [0.5, 0.5];
  #wanted = /** @type {number[] | null} */ (null);
  #pinned = false;
  #beside = false;

  /**
   * @param {HTMLElement} figure
   * @param {(key: string, parts?: object) => string} say
   * @param {AbortSignal} signal ends it
   */
  constructor(figure, say, signal) {
    this.#figure = figure;
    this.#loupe = new Loupe(figure, say);
    signal.addEventListener("abort", () => {
      this.#hide();
      this.#loupe.remove();
      this.#tools.replaceChildren();
    });
    /**
     * @param {string} className
     * @param {string} text
     */
    const button = (className, text) =>
      Object.assign(document.createElement("button"), { type: "button", className, textContent: text });
    this.#toggle = button("dw-loupe-toggle", say("loupe"));
    this.#toggle.title = say("loupe_keys");
    const times = button("dw-loupe-times", "");
    this.#tools = figure.querySelector(".dw-loupe-tools") ?? Object.assign(document.createElement("div"), { className: "dw-loupe-tools", hidden: true });
    this.#tools.replaceChildren(this.#toggle, times);
    figure.prepend(this.#tools);
    this.#loupe.stepBy(times, signal, "loupe_times");
    this.#listen(signal);
    this.#pressed();
  }

  /**
   * @param {SVGImageElement | null} image the picture under the loupe, or null for none
   * @param {(() => Promise<import("./pictures.mjs").Bitmaps | null>) | null} decode
   */
  at(image, decode) {
    const wasVisible = this.#loupe.isVisible && image;
    this.#hide();
    this.#image = image;
    this.#decode = decode;
    this.#bitmaps = null;
    this.#tools.hidden = !image;
    if (wasVisible) this.#show(this.#share);
  }

  /** @param {AbortSignal} signal */
  #listen(signal) {
    /** @type {Listen} */
    const on = (target, type, act, options) => target.addEventListener(type, act, { signal, ...options });
    let hold = 0;
    let held = false;
    let start = /** @type {{x: number, y: number} | null} */ (null);
    const release = () => {
      clearTimeout(hold);
      held = false;
    };
    on(this.#figure, "pointermove", (event) => {
      if (event.pointerType === "mouse") return this.#hover(event);
      if (held) this.#show(this.#shareAt(event), true);
      else if (start && Math.hypot(event.clientX - start.x, event.clientY - start.y) > STILL_PX) clearTimeout(hold);
    });
    on(this.#figure, "pointerleave", ({ pointerType }) => pointerType === "mouse" && !this.#pinned && this.#hide());
    on(this.#figure, "pointerdown", (event) => {
      if (event.pointerType === "mouse" || !this.#isOver(event)) return;
      start = { x: event.clientX, y: event.clientY };
      hold = setTimeout(() => {
        held = true;
        this.#show(this.#shareAt(event), true);
      }, HELD_AFTER_MS);
    });
    // While a finger holds the loupe, the page does not scroll.
    on(this.#figure, "touchmove", (event) => held && event.preventDefault(), { passive: false });
    on(this.#figure, "contextmenu", (event) => (held || start) && this.#isOver(event) && event.preventDefault());
    on(this.#figure, "pointerup", (event) => {
      if (event.pointerType === "mouse") return;
      const tapped = !held && start && Math.hypot(event.clientX - start.x, event.clientY - start.y) <= STILL_PX;
      if (held) this.#hide();
      else if (tapped && this.#loupe.isVisible) this.#hide();
      else if (tapped && this.#isOver(event)) this.#show(this.#shareAt(event), true);
      release();
      start = null;
    });
    on(this.#figure, "pointercancel", () => (release(), (start = null)));
    on(this.#toggle, "click", () => (this.#loupe.isVisible ? this.#hide() : this.#pin()));
    on(this.#tools, "focusout", ({ relatedTarget }) => {
      if (this.#pinned && !this.#tools.contains(relatedTarget)) this.#hide();
    });
    on(this.#tools, "keydown", (event) => this.#keyed(event));
    // The loupe has a fixed position on the screen, so it must follow when the page scrolls.
    const scrolled = () => this.#loupe.isVisible && !held && this.#show(this.#share, this.#beside);
    on(globalThis, "scroll", scrolled, { passive: true });
  }

  #pin() {
    this.#pinned = true;
    const { top, bottom } = this.#image.getBoundingClientRect();
    const middle = (top + bottom) / 2;
    const inSight = middle > SIGHT_PX && middle < document.documentElement.clientHeight - SIGHT_PX;
    if (!inSight) this.#image.scrollIntoView({ block: "center", behavior: "instant" });
    this.#show(this.#share);
  }

  #hide() {
    this.#pinned = false;
    this.#wanted = null;
    this.#loupe.hide();
    this.#pressed();
  }

  #pressed() {
    this.#toggle.setAttribute("aria-pressed", String(this.#pinned));
  }

  /** @param {PointerEvent} event */
  #hover(event) {
    if (this.#isOver(event)) this.#show(this.#shareAt(event));
    else if (!this.#pinned) this.#hide();
  }

  /** @param {KeyboardEvent} event */
  #keyed(event) {
    if (event.key === "Escape") return this.#hide();
    const way = ARROWS[event.key];
    if (!way || !this.#loupe.isVisible) return;
    event.preventDefault();
    const { width, height } = this.#image.getBoundingClientRect();
    const by = event.shiftKey ? 5 * KEY_STEP_PX : KEY_STEP_PX;
    const moved = [this.#share[0] + (way[0] * by) / width, this.#share[1] + (way[1] * by) / height];
    this.#show(moved.map((each) => Math.min(Math.max(each, 0), 1)));
  }

  /** @param {{clientX: number, clientY: number}} position */
  #isOver({ clientX, clientY }) {
    if (!this.#image) return false;
    return this.#shareAt({ clientX, clientY }).every((each) => each >= 0 && each <= 1);
  }

  /**
   * Converts a position on the screen to shares of the picture's width and height.
   * @param {{clientX: number, clientY: number}} position
   */
  #shareAt({ clientX, clientY }) {
    const { x, y, width, height } = boxOf(this.#image);
    const there = new DOMPoint(clientX, clientY).matrixTransform(this.#image.getScreenCTM().inverse());
    return [(there.x - x) / width, (there.y - y) / height];
  }

  /** @param {number[]} share */
  async #show(share, beside = false) {
    this.#wanted = this.#share = share;
    this.#beside = beside;
    const image = this.#image;
    this.#bitmaps ??= await this.#decode?.();
    if (!this.#bitmaps || image !== this.#image || share !== this.#wanted) return;
    const { x, y, width, height } = boxOf(image);
    const onScreen = image.getScreenCTM();
    const [across, down] = share;
    const { x: clientX, y: clientY } = new DOMPoint(x + across * width, y + down * height).matrixTransform(onScreen);
    const { a, b, c, d } = onScreen;
    const [unitX, unitY] = [width / this.#bitmaps.width, height / this.#bitmaps.height];
    /** @type {[number, number]} */
    const at = [across * this.#bitmaps.width, down * this.#bitmaps.height];
    /** @type {[number, number, number, number]} */
    const scale = [a * unitX, b * unitX, c * unitY, d * unitY];
    this.#loupe.show({ clientX, clientY, bitmaps: this.#bitmaps, at, scale, beside });
    this.#pressed();
  }
}

/**
 * Returns the box of a picture in the units of its drawing.
 * @param {SVGImageElement} image
 */
function boxOf(image) {
  const { x, y, width, height } = image;
  return { x: x.baseVal.value, y: y.baseVal.value, width: width.baseVal.value, height: height.baseVal.value };
}

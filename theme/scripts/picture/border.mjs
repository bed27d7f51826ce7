/**
 * A picture on two paints: a slider between two views of it, and the border of the paints, which the reader drags,
 * turns, moves by keys or types. The engine sends complete pictures; this module only composes them.
 */

import { borderAt, cornersOf, sidesOf } from "./border-line.mjs";
import { controlOf, everyField } from "../form/fields.mjs";
import { meantBy, write } from "../form/meant.mjs";
import { numberText } from "../form/texts.mjs";

/** Margin of paint around the picture, and half the marked band along the border, as shares of the picture's width. */
const AROUND = 0.1;
const BAND = 0.06;
/** Steps of the arrow keys: alone, with Shift, with Alt. */
const STEPS = { percent: [1, 10, 0.1], degrees: [1, 15, 0.1] };
/** Distance of the turning grip from the middle, along the border, as a share of the frame's shorter side. */
const TURNING_AT = 0.4;
/** Where each kind of mark applies: everywhere, on the first or second paint only, or along the border. */
/** @type {Record<string, string>} */
const WHERE = { bare: "all", "lost-a": "a", "lost-b": "b", border: "band" };
const SVG = "http://www.w3.org/2000/svg";

/** @typedef {"percent" | "degrees"} Moves */
/** @typedef {{width: number, height: number, paints: string[], first: number, scenes: any[]}} View */

/** The pictures of one result. */
export class Scenes {
  #card;
  #say;
  #frame;
  #canvas;
  #fields;
  #grips;
  #view = /** @type {View | null} */ (null);
  #pictures = /** @type {ImageData[][]} */ ([]);
  /** @type {Map<number, Promise<ImageBitmap[]> & {bitmaps?: ImageBitmap[]}>} */
  #bitmaps = new Map();
  #clips = /** @type {Record<string, any>} */ ({});
  #at = { percent: 50, degrees: 0 };
  #due = 0;

  /**
   * @param {HTMLElement} card the .dw-scenes
   * @param {HTMLFormElement} form whose fields hold the border
   * @param {(key: string, parts?: object) => string} say
   * @param {AbortSignal} signal ends it
   */
  constructor(card, form, say, signal) {
    this.#card = card;
    this.#say = say;
    this.#frame = card.querySelector(".dw-scenes-frame");
    this.#canvas = card.querySelector("canvas");
    const fields = everyField(form);
    this.#fields = { percent: fields.get(card.dataset.percent), degrees: fields.get(card.dataset.degrees) };
    this.#grips = Object.fromEntries([...card.querySelectorAll(".dw-border-grip")].map((grip) => [grip.dataset.moves, grip]));
    /** @type {Listen} */
    const on = (target, type, act) => target.addEventListener(type, act, { signal });
    for (const [moves, grip] of /** @type {[Moves, HTMLElement][]} */ (Object.entries(this.#grips))) {
      on(grip, "pointerdown", (event) => this.#startDrag(moves, event));
      on(grip, "keydown", (event) => this.#keyed(moves, event));
    }
    on(form, "input", () => this.#read());
    on(form, "read", () => this.#read());
    on(card, "input", (event) => this.#chosen(event));
    const resized = new ResizeObserver(() => this.#resized());
    resized.observe(this.#frame);
    signal.addEventListener("abort", () => {
      resized.disconnect();
      this.#forget();
    });
  }

  /**
   * Shows the pictures of an answer.
   * @param {View} view
   * @param {ArrayBuffer[]} buffers RGBA pixels that the scenes point into
   */
  show(view, buffers) {
    this.#forget();
    this.#view = view;
    const { width, height } = view;
    this.#pictures = view.scenes.map(({ over }) =>
      over.map((/** @type {number} */ at) => new ImageData(new Uint8ClampedArray(buffers[at]), width, height)),
    );
    const [left, right] = this.#card.querySelectorAll("select");
    for (const [select, wanted] of [[left, view.first === 0 ? 1 : 0], [right, view.first]]) {
      const before = select.selectedIndex;
      select.replaceChildren(...view.scenes.map(({ label }, place) => new Option(label, String(place))));
      select.selectedIndex = before < 0 ? wanted : Math.min(before, view.scenes.length - 1);
    }
    const [across, down] = this.#size();
    this.#frame.style.setProperty("--dw-ratio", across / down);
    this.#drawMarks();
    this.#read();
    this.#resized();
  }

  #forget() {
    this.#view = null;
    this.#pictures = [];
    for (const made of this.#bitmaps.values()) made.then((each) => each.forEach((bitmap) => bitmap.close()));
    this.#bitmaps.clear();
  }

  // -- Drawing ------------------------------------------------------------------------------------

  /** Width and height of the picture with its margin of paint, in its pixels. */
  #size() {
    const { width, height } = this.#view;
    return [width * (1 + 2 * AROUND), height + 2 * AROUND * width];
  }

  get #sides() {
    return [...this.#card.querySelectorAll("select")].map(({ selectedIndex }) => selectedIndex);
  }

  get #wipe() {
    return Number(this.#card.querySelector(".dw-scenes-wipe").value) / 100;
  }

  #chosen(/** @type {any} */ { target }) {
    if (target.matches("select, .dw-scenes-marks")) this.#drawMarks();
    this.#draw();
  }

  #resized() {
    const { clientWidth, clientHeight } = this.#frame;
    const [width, height] = [clientWidth, clientHeight].map((each) => Math.round(each * devicePixelRatio));
    if (!this.#view || !width || !height) return;
    if (this.#canvas.width !== width || this.#canvas.height !== height) {
      Object.assign(this.#canvas, { width, height });
      for (const made of this.#bitmaps.values()) made.then((each) => each.forEach((bitmap) => bitmap.close()));
      this.#bitmaps.clear();
    }
    this.#patterns();
    this.#draw();
  }

  /** Returns both pictures of a scene at their displayed size, or null until they are ready. */
  #bitmapsOf(/** @type {number} */ scene) {
    if (!this.#bitmaps.has(scene)) {
      const share = this.#canvas.width / this.#size()[0];
      const side = (/** @type {number} */ length) => Math.max(1, Math.round(length * share));
      const { width, height } = this.#view;
      /** @type {ImageBitmapOptions} */
      const size = { resizeWidth: side(width), resizeHeight: side(height), resizeQuality: "high" };
      /** @type {Promise<ImageBitmap[]> & {bitmaps?: ImageBitmap[]}} */
      const made = Promise.all(this.#pictures[scene].map((/** @type {ImageData} */ each) => createImageBitmap(each, size)));
      this.#bitmaps.set(scene, made);
      made.then((bitmaps) => {
        made.bitmaps = bitmaps;
        if (this.#bitmaps.get(scene) === made) this.#draw();
      });
    }
    return this.#bitmaps.get(scene).bitmaps ?? null;
  }

  #draw() {
    this.#due ||= requestAnimationFrame(() => {
      this.#due = 0;
      if (this.#view && this.#canvas.width) this.#paint();
    });
  }

  #paint() {
    const pen = this.#canvas.getContext("2d");
    const { width, height } = this.#canvas;
    const share = width / this.#size()[0];
    const wipe = this.#wipe * width;
    const [first, second] = this.#regions().map((polygon) => polygon.map(([x, y]) => this.#onFrame(x, y, share)));
    const around = AROUND * this.#view.width * share;
    const size = [this.#view.width * share, this.#view.height * share];
    pen.clearRect(0, 0, width, height);
    for (const [paint, polygon] of /** @type {[number, number[][]][]} */ ([[0, first], [1, second]])) {
      if (polygon.length < 3) continue;
      pen.save();
      // Paint the second over the first: if they only met, the background would show through as a hairline.
      if (paint) {
        pen.beginPath();
        polygon.forEach(([x, y]) => pen.lineTo(x, y));
        pen.clip();
      }
      pen.fillStyle = this.#view.paints[paint];
      pen.fillRect(0, 0, width, height);
      this.#sides.forEach((scene, side) => {
        const bitmaps = this.#bitmapsOf(scene);
        if (!bitmaps) return;
        pen.save();
        pen.beginPath();
        pen.rect(side ? wipe : 0, 0, side ? width - wipe : wipe, height);
        pen.clip();
        // Give the size again, since some browsers ignore the size asked of createImageBitmap.
        pen.drawImage(bitmaps[paint], around, around, ...size);
        pen.restore();
      });
      pen.restore();
    }
    this.#place(share);
  }

  /** Positions the grips, the clip paths and the slider's line. */
  #place(/** @type {number} */ share) {
    const ratio = devicePixelRatio;
    const [across, down] = this.#size();
    const around = AROUND * this.#view.width;
    const [first, second, band] = this.#regions();
    const whole = cornersOf(this.#box());
    for (const [name, polygon] of Object.entries({ a: first, b: second, band, all: whole })) {
      this.#clips[name]?.setAttribute("points", polygon.map((point) => point.join(",")).join(" "));
    }
    const wipe = this.#wipe * across - around;
    const [left, right] = this.#clips.wipe ?? [];
    left?.setAttribute("width", Math.max(0, wipe + around));
    right?.setAttribute("x", wipe);
    right?.setAttribute("width", Math.max(0, across - around - wipe));
    this.#clips.divider?.setAttribute("d", `M${wipe} ${-around}V${down - around}`);
    const middle = this.#middle();
    const { normal } = borderAt(this.#view, this.#at);
    const reach = TURNING_AT * Math.min(across, down);
    const turning = [middle[0] + normal[1] * reach, middle[1] - normal[0] * reach];
    for (const [moves, point] of /** @type {[Moves, number[]][]} */ ([["percent", middle], ["degrees", turning]])) {
      const [x, y] = this.#onFrame(point[0], point[1], share / ratio);
      this.#grips[moves].style.transform = `translate(${x}px, ${y}px)`;
    }
  }

  /** The point of the border nearest to the middle of the picture. */
  #middle() {
    const { width, height } = this.#view;
    const { normal, limit } = borderAt(this.#view, this.#at);
    const off = limit - (normal[0] * width + normal[1] * height) / 2;
    return [width / 2 + normal[0] * off, height / 2 + normal[1] * off];
  }

  #onFrame(/** @type {number} */ x, /** @type {number} */ y, /** @type {number} */ share) {
    const around = AROUND * this.#view.width;
    return [(x + around) * share, (y + around) * share];
  }

  /** Left, top, right and bottom of the picture with its margin of paint. */
  #box() {
    const [across, down] = this.#size();
    const around = AROUND * this.#view.width;
    return [-around, -around, across - around, down - around];
  }

  #regions() {
    return sidesOf(this.#view, this.#at, this.#box(), BAND * this.#view.width);
  }

  // -- Marks ----------------------------------------------------------------------------------------

  /** Draws the marks of the two visible scenes, each on its side of the slider. */
  #drawMarks() {
    if (!this.#view) return;
    const drawn = this.#card.querySelector(".dw-scenes-drawn");
    const around = AROUND * this.#view.width;
    const [across, down] = this.#size();
    drawn.setAttribute("viewBox", `${-around} ${-around} ${across} ${down}`);
    for (const old of drawn.querySelectorAll(":scope > g, :scope > path, clipPath")) old.remove();
    const name = this.#card.dataset.result;
    const make = (/** @type {string} */ kind, /** @type {Record<string, any>} */ attributes, /** @type {Element} */ into) => {
      const made = document.createElementNS(SVG, kind);
      for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
      into.append(made);
      return made;
    };
    const defs = drawn.querySelector("defs");
    const clip = (/** @type {string} */ id, /** @type {string} */ kind, attributes = {}) => make(kind, attributes, make("clipPath", { id: `${name}-clip-${id}` }, defs));
    this.#clips = Object.fromEntries(["a", "b", "band", "all"].map((each) => [each, clip(each, "polygon")]));
    const tall = { y: -around, height: down };
    this.#clips.wipe = [clip("left", "rect", { ...tall, x: -around }), clip("right", "rect", tall)];
    const areMarksVisible = this.#card.querySelector(".dw-scenes-marks").checked;
    const used = new Set();
    this.#sides.forEach((scene, side) => {
      const half = make("g", { "clip-path": `url(#${name}-clip-${side ? "right" : "left"})` }, drawn);
      for (const [kind, path] of Object.entries(this.#view.scenes[scene].marks)) {
        if (!path || !areMarksVisible) continue;
        const pattern = kind.split("-")[0];
        used.add(pattern);
        const where = make("g", { "clip-path": `url(#${name}-clip-${WHERE[kind]})` }, half);
        make("path", { d: path, fill: `url(#${name}-${pattern})`, transform: `scale(${this.#view.width / 1000})` }, where);
      }
    });
    this.#clips.divider = make("path", { class: "dw-scenes-divider" }, drawn);
    for (const item of this.#card.querySelectorAll(".dw-scenes-key > li")) item.hidden = !used.has(item.dataset.kind);
    this.#patterns();
  }

  /** Scales the patterns so that their size on the screen does not depend on the picture. */
  #patterns() {
    const unit = (this.#frame.clientWidth / this.#size()[0]) * (this.#view.width / 1000);
    if (!unit) return;
    for (const pattern of this.#card.querySelectorAll("pattern")) pattern.setAttribute("patternTransform", `scale(${1 / unit})`);
  }

  // -- The border -----------------------------------------------------------------------------------

  /** Takes the border from the fields. A text that is invalid, or not read yet, leaves the border where it is. */
  #read() {
    for (const [name, field] of /** @type {[Moves, HTMLElement][]} */ (Object.entries(this.#fields))) {
      this.#at[name] = /** @type {number | undefined} */ (meantBy(field)) ?? this.#at[name];
    }
    this.#announce();
    this.#draw();
  }

  #announce() {
    for (const [name, grip] of /** @type {[Moves, HTMLElement][]} */ (Object.entries(this.#grips))) {
      const value = String(this.#at[name]);
      grip.setAttribute("aria-valuenow", value);
      grip.setAttribute("aria-valuetext", this.#say(name === "percent" ? "border_at" : "border_turned", { value }));
    }
    this.#card.querySelector(".dw-scenes-status").textContent = this.#say("border_status", this.#at);
  }

  /** Moves the border and writes it into its field. Asks for an answer only when the border `rests`. */
  #move(/** @type {Moves} */ name, /** @type {number} */ to, /** @type {boolean} */ rests) {
    const { text, value } = numberText(within(name, to));
    this.#at[name] = value;
    write(this.#fields[name], text, value);
    if (rests) controlOf(this.#fields[name]).dispatchEvent(new Event("input", { bubbles: true }));
    else this.#announce();
    this.#draw();
  }

  #keyed(/** @type {Moves} */ name, /** @type {KeyboardEvent} */ event) {
    /** @type {Record<string, number>} */
    const ways = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };
    const { key, shiftKey, altKey, ctrlKey, metaKey } = event;
    const end = { Home: -Infinity, End: Infinity }[key];
    if ((!ways[key] && end === undefined) || ctrlKey || metaKey) return;
    event.preventDefault();
    const [plain, large, small] = STEPS[name];
    if (end !== undefined) this.#move(name, within(name, end), true);
    else this.#move(name, this.#at[name] + ways[key] * (shiftKey ? large : altKey ? small : plain), true);
  }

  #startDrag(/** @type {Moves} */ name, /** @type {PointerEvent} */ event) {
    if (event.button !== 0 || !this.#view) return;
    event.preventDefault();
    const grip = this.#grips[name];
    const before = this.#at[name];
    const ending = new AbortController();
    /** @type {ListenHere} */
    const on = (type, act) => grip.addEventListener(type, act, { signal: ending.signal });
    grip.setPointerCapture(event.pointerId);
    grip.focus({ preventScroll: true, focusVisible: false });
    on("pointermove", (moved) => {
      if (moved.pointerId === event.pointerId) this.#move(name, this.#valueAt(name, moved), false);
    });
    const end = () => {
      ending.abort();
      this.#move(name, this.#at[name], true);
    };
    for (const type of ["pointerup", "pointercancel"]) on(type, end);
    on("keydown", ({ key }) => {
      if (key !== "Escape") return;
      this.#at[name] = before;
      end();
    });
  }

  /** Converts a position on the screen to the border's position in percent, or to its angle in degrees. */
  #valueAt(/** @type {Moves} */ name, /** @type {MouseEvent} */ { clientX, clientY }) {
    const { left, top, width } = this.#frame.getBoundingClientRect();
    const share = width / this.#size()[0];
    const around = AROUND * this.#view.width;
    const [x, y] = [(clientX - left) / share - around, (clientY - top) / share - around];
    if (name === "percent") {
      const { normal, low, high } = borderAt(this.#view, this.#at);
      return (100 * (x * normal[0] + y * normal[1] - low)) / (high - low);
    }
    const middle = this.#middle();
    return (Math.atan2(y - middle[1], x - middle[0]) * 180) / Math.PI;
  }
}

const within = (/** @type {Moves} */ name, /** @type {number} */ value) =>
  name === "percent" ? Math.min(100, Math.max(0, value)) : Math.min(180, Math.max(-180, value));

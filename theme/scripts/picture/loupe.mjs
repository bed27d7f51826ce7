/**
 * A round loupe that magnifies the pixels of a picture.
 */

const ACROSS_PX = 180;
/** Distance from the finger, so that it does not cover the loupe. */
const BESIDE_PX = 150;
const EDGE_PX = 6;
/** Space along the top edge, where the line of the verdict may be. */
const TOP_PX = 64;
const STEPS = [2, 4, 8];
/** From this many screen pixels per pixel, pixels are drawn with sharp edges. */
const PIXELS_SEEN_FROM = 1.5;

/** The magnification, which all loupes of a visit share. */
let times = 4;

/**
 * The spot under the loupe.
 * @typedef {object} Spot
 * @property {number} clientX where on the screen
 * @property {number} clientY
 * @property {import("./pictures.mjs").Bitmaps} bitmaps
 * @property {[number, number]} at the pixel there, from the picture's top left corner
 * @property {[number, number, number, number]} scale as a matrix (a, b, c, d): screen pixels per pixel of the picture
 * @property {boolean} [beside] place the loupe beside the finger
 * @property {boolean} [cross] draw a cross on the spot
 */

/** One loupe. It is hidden from screen readers, which get the same in words elsewhere. */
export class Loupe {
  #glass;
  #canvas;
  #mark;
  #say;
  #spot = /** @type {Spot | null} */ (null);
  #buttons = /** @type {[HTMLElement, string][]} */ ([]);

  /**
   * @param {HTMLElement} host parent element of the loupe
   * @param {(key: string, parts?: object) => string} say
   */
  constructor(host, say) {
    this.#say = say;
    this.#glass = Object.assign(document.createElement("div"), { className: "dw-glass-round", hidden: true });
    this.#glass.setAttribute("aria-hidden", "true");
    this.#canvas = document.createElement("canvas");
    this.#mark = Object.assign(document.createElement("span"), { className: "dw-glass-mark" });
    this.#glass.append(this.#canvas, this.#mark);
    host.append(this.#glass);
  }

  get isVisible() {
    return this.#spot !== null;
  }

  /** The magnification, relative to the picture on the screen. */
  get times() {
    return times;
  }

  /**
   * Makes a button step through the magnifications and show the current one.
   * @param {HTMLButtonElement} button
   * @param {AbortSignal} signal
   * @param {string} [key] of the button's sentence
   */
  stepBy(button, signal, key = "loupe_step") {
    this.#buttons.push([button, key]);
    button.addEventListener("click", () => this.step(1), { signal });
    this.#name();
  }

  /**
   * @param {1 | -1} by to the next larger or smaller magnification, from the last to the first
   */
  step(by) {
    times = STEPS.at((STEPS.indexOf(times) + by) % STEPS.length);
    this.#name();
    if (this.#spot) this.show(this.#spot);
  }

  /** @param {Spot} spot */
  show(spot) {
    this.#spot = spot;
    this.#glass.hidden = false;
    this.#name();
    const [left, top] = spot.beside ? clearOf(spot) : [spot.clientX - ACROSS_PX / 2, spot.clientY - ACROSS_PX / 2];
    this.#glass.style.transform = `translate(${Math.round(left)}px, ${Math.round(top)}px)`;
    this.#draw(spot);
  }

  hide() {
    this.#spot = null;
    this.#glass.hidden = true;
  }

  /** Removes the loupe for good. */
  remove() {
    this.hide();
    this.#glass.remove();
  }

  #name() {
    this.#mark.textContent = this.#say("loupe_times", { times });
    for (const [button, key] of this.#buttons) {
      button.textContent = this.#say(key, { times });
      button.hidden = false; // It is hidden until it has a name.
    }
  }

  /** @param {Spot} spot */
  #draw({ bitmaps: { full }, at, scale, cross }) {
    const dots = devicePixelRatio;
    const across = Math.round(ACROSS_PX * dots);
    if (this.#canvas.width !== across) this.#canvas.width = this.#canvas.height = across;
    const pen = this.#canvas.getContext("2d");
    const [a, b, c, d] = scale.map((each) => each * times * dots);
    const pixel = Math.hypot(a, b);
    // Draw only the part under the loupe, since a photograph is large.
    const reach = Math.ceil(across / Math.min(pixel, Math.hypot(c, d)) / Math.SQRT2) + 1;
    const [left, top] = at.map((each) => Math.max(0, Math.floor(each - reach)));
    const wide = Math.min(full.width, Math.ceil(at[0] + reach)) - left;
    const high = Math.min(full.height, Math.ceil(at[1] + reach)) - top;
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, across, across);
    pen.setTransform(a, b, c, d, across / 2, across / 2);
    pen.imageSmoothingEnabled = pixel < PIXELS_SEEN_FROM * dots;
    pen.imageSmoothingQuality = "high";
    if (wide > 0 && high > 0) pen.drawImage(full, left, top, wide, high, left - at[0], top - at[1], wide, high);
    if (cross) drawCross(pen, across, dots, getComputedStyle(this.#glass));
  }
}

/**
 * Returns a position for the loupe where neither the finger nor the edge of the screen covers it: above, else at a side.
 * @param {Spot} spot
 */
function clearOf({ clientX, clientY }) {
  const { clientWidth: width, clientHeight: height } = document.documentElement;
  const half = ACROSS_PX / 2;
  /**
   * @param {number} place
   * @param {number} most
   */
  const within = (place, most, least = EDGE_PX) => Math.min(Math.max(place - half, least), most - ACROSS_PX - EDGE_PX);
  if (clientY - BESIDE_PX - half >= TOP_PX) return [within(clientX, width), clientY - BESIDE_PX - half];
  const side = clientX > width / 2 ? clientX - BESIDE_PX : clientX + BESIDE_PX;
  return [within(side, width), within(clientY, height, TOP_PX)];
}

/**
 * @param {CanvasRenderingContext2D} pen
 * @param {number} across
 * @param {number} dots
 * @param {CSSStyleDeclaration} style
 */
function drawCross(pen, across, dots, { color, backgroundColor }) {
  const middle = across / 2;
  const [near, far] = [4 * dots, 26 * dots];
  pen.setTransform(1, 0, 0, 1, middle, middle);
  for (const [width, colour] of /** @type {[number, string][]} */ ([[4, backgroundColor], [1.5, color]])) {
    pen.lineWidth = width * dots;
    pen.strokeStyle = colour;
    pen.beginPath();
    for (const [x, y] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
      pen.moveTo(x * near, y * near);
      pen.lineTo(x * far, y * far);
    }
    pen.stroke();
  }
}

/**
 * A picture in a frame, zoomed and panned by buttons, wheel, mouse and two fingers. One finger scrolls the page.
 */

/** Room around the picture, so that a point on its edge can be grabbed. */
const MARGIN_PX = 44;
/** The highest zoom, in screen pixels per pixel of the picture. */
const LARGEST = 24;
/** From this many screen dots per pixel, pixels are drawn with sharp edges. */
const PIXELS_SEEN_FROM = 3;

/** One framed picture. */
export class Stage {
  #frame;
  #canvas;
  #changed;
  #bitmaps = /** @type {import("./pictures.mjs").Bitmaps | null} */ (null);
  #scale = 1;
  #left = 0;
  #top = 0;
  #fitted = true;
  #width = 0;
  #height = 0;
  #due = 0;

  /**
   * @param {HTMLElement} frame with a canvas in it
   * @param {object} to
   * @param {AbortSignal} to.signal ends it
   * @param {() => void} to.changed called when points have moved on the screen
   * @param {() => boolean} to.inHand whether the wheel zooms the picture without Ctrl
   */
  constructor(frame, { signal, changed, inHand }) {
    this.#frame = frame;
    this.#canvas = frame.querySelector("canvas");
    this.#changed = changed;
    /** @type {ListenHere} */
    const on = (type, act, options) => frame.addEventListener(type, act, { signal, ...options });
    on("wheel", (event) => this.#wheeled(event, inHand()), { passive: false });
    on("pointerdown", (event) => this.#startPan(event));
    on("touchstart", (event) => this.#startPinch(event), { passive: false });
    const resized = new ResizeObserver(() => this.#resized());
    resized.observe(frame);
    signal.addEventListener("abort", () => resized.disconnect());
  }

  /** @param {import("./pictures.mjs").Bitmaps | null} bitmaps */
  set bitmaps(bitmaps) {
    this.#bitmaps = bitmaps;
    this.#frame.toggleAttribute("data-alive", Boolean(bitmaps));
    if (!bitmaps) return;
    this.#frame.style.setProperty("--dw-ratio", String(bitmaps.width / bitmaps.height));
    this.#resized();
    this.fit();
  }

  get bitmaps() {
    return this.#bitmaps;
  }

  /** Width and height of the frame, in screen pixels. @returns {[number, number]} */
  get size() {
    return [this.#width, this.#height];
  }

  /** Screen pixels per pixel of the picture. */
  get scale() {
    return this.#scale;
  }

  /**
   * Returns where a point of the picture lies in the frame, in screen pixels.
   * @param {number[]} point
   * @returns {[number, number]}
   */
  placeOf([x, y]) {
    return [(x - this.#left) * this.#scale, (y - this.#top) * this.#scale];
  }

  /**
   * Returns the point of the picture at a position on the screen.
   * @param {number} clientX
   * @param {number} clientY
   */
  pointAt(clientX, clientY) {
    const { left, top } = this.#frame.getBoundingClientRect();
    return [(clientX - left) / this.#scale + this.#left, (clientY - top) / this.#scale + this.#top];
  }

  /**
   * Returns the position of a picture's point on the screen.
   * @param {number[]} point
   */
  onScreen(point) {
    const { left, top } = this.#frame.getBoundingClientRect();
    const [x, y] = this.placeOf(point);
    return [left + x, top + y];
  }

  /** Shows the whole picture. */
  fit() {
    if (!this.#bitmaps || !this.#width) return;
    this.#fitted = true;
    this.#scale = this.#smallest();
    this.#settle();
  }

  /**
   * Zooms the picture around one of its points, which stays in place in the frame.
   * @param {number} factor
   * @param {number[]} [around] the point; by default the middle of the frame
   */
  zoom(factor, around = this.#middle()) {
    const [x, y] = this.placeOf(around);
    const smallest = this.#smallest();
    this.#scale = Math.min(Math.max(this.#scale * factor, smallest), Math.max(LARGEST, smallest));
    this.#fitted = this.#scale <= smallest;
    this.#left = around[0] - x / this.#scale;
    this.#top = around[1] - y / this.#scale;
    this.#settle();
  }

  /**
   * Moves the picture in its frame, by screen pixels.
   * @param {number} right
   * @param {number} down
   */
  moveBy(right, down) {
    this.#left -= right / this.#scale;
    this.#top -= down / this.#scale;
    this.#settle();
  }

  /**
   * Pans the picture just far enough to bring a point of it into view.
   * @param {number[]} point
   */
  reveal(point) {
    const [x, y] = this.placeOf(point);
    /**
     * @param {number} place
     * @param {number} size
     */
    const beyond = (place, size) => Math.min(0, size - MARGIN_PX - place) + Math.max(0, MARGIN_PX - place);
    const [right, down] = [beyond(x, this.#width), beyond(y, this.#height)];
    if (right || down) this.moveBy(right, down);
  }

  #middle() {
    return [this.#left + this.#width / 2 / this.#scale, this.#top + this.#height / 2 / this.#scale];
  }

  #smallest() {
    const { width, height } = this.#bitmaps;
    return Math.min((this.#width - 2 * MARGIN_PX) / width, (this.#height - 2 * MARGIN_PX) / height);
  }

  /** Limits the pan so that the picture fills the frame as far as it can, then redraws. */
  #settle() {
    const { width, height } = this.#bitmaps;
    this.#left = this.#settled(this.#left, width, this.#width);
    this.#top = this.#settled(this.#top, height, this.#height);
    this.#changed();
    this.#due ||= requestAnimationFrame(() => this.#draw());
  }

  /**
   * @param {number} first
   * @param {number} size
   * @param {number} frame
   */
  #settled(first, size, frame) {
    const [seen, margin] = [frame / this.#scale, MARGIN_PX / this.#scale];
    if (size + 2 * margin <= seen) return (size - seen) / 2;
    return Math.min(Math.max(first, -margin), size + margin - seen);
  }

  #resized() {
    const { clientWidth: width, clientHeight: height } = this.#frame;
    if (!width || !this.#bitmaps) return;
    const middle = this.#middle();
    const first = !this.#width;
    [this.#width, this.#height] = [width, height];
    this.#canvas.width = Math.round(width * devicePixelRatio);
    this.#canvas.height = Math.round(height * devicePixelRatio);
    if (this.#fitted || first) return this.fit();
    this.#left = middle[0] - width / 2 / this.#scale;
    this.#top = middle[1] - height / 2 / this.#scale;
    this.zoom(1);
  }

  #draw() {
    this.#due = 0;
    if (!this.#bitmaps) return;
    const { width, height, full, small } = this.#bitmaps;
    const dots = this.#scale * devicePixelRatio;
    const source = dots * width > small.width ? full : small;
    const share = source.width / width;
    const left = Math.max(0, Math.floor(this.#left));
    const top = Math.max(0, Math.floor(this.#top));
    const wide = Math.min(width, Math.ceil(this.#left + this.#width / this.#scale)) - left;
    const high = Math.min(height, Math.ceil(this.#top + this.#height / this.#scale)) - top;
    const pen = this.#canvas.getContext("2d");
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, this.#canvas.width, this.#canvas.height);
    pen.setTransform(dots, 0, 0, dots, -this.#left * dots, -this.#top * dots);
    pen.imageSmoothingEnabled = dots < PIXELS_SEEN_FROM;
    pen.imageSmoothingQuality = "high";
    if (wide > 0 && high > 0) {
      pen.drawImage(source, left * share, top * share, wide * share, high * share, left, top, wide, high);
    }
  }

  // -- Wheel, mouse and fingers ---------------------------------------------------------------------

  /**
   * @param {WheelEvent} event
   * @param {boolean} inHand
   */
  #wheeled(event, inHand) {
    if (!this.#bitmaps || !(event.ctrlKey || event.metaKey || inHand)) return;
    const before = this.#scale;
    this.zoom(2 ** (-event.deltaY / (event.deltaMode ? 10 : 400)), this.pointAt(event.clientX, event.clientY));
    // At the lowest zoom the wheel scrolls the page. With Ctrl the browser would zoom the page instead of the picture.
    if (this.#scale !== before || event.ctrlKey || event.metaKey) event.preventDefault();
  }

  /**
   * Starts panning with the mouse.
   * @param {PointerEvent} event
   */
  #startPan(event) {
    if (event.pointerType !== "mouse" || event.button !== 0 || event.target !== this.#canvas || this.#fitted) return;
    this.#frame.setPointerCapture(event.pointerId);
    const ending = new AbortController();
    /** @type {ListenHere} */
    const on = (type, act) => this.#frame.addEventListener(type, act, { signal: ending.signal });
    this.#frame.toggleAttribute("data-moved", true);
    on("pointermove", ({ movementX, movementY }) => this.moveBy(movementX, movementY));
    for (const type of ["pointerup", "pointercancel"]) {
      on(type, () => (ending.abort(), this.#frame.removeAttribute("data-moved")));
    }
  }

  /**
   * Starts a pinch: two fingers zoom and pan, and their midpoint stays on the same spot of the picture.
   * @param {TouchEvent} event
   */
  #startPinch(event) {
    if (event.touches.length !== 2 || !this.#bitmaps) return;
    event.preventDefault();
    let last = between(event.touches);
    const ending = new AbortController();
    /** @type {ListenHere} */
    const on = (type, act) => this.#frame.addEventListener(type, act, { passive: false, signal: ending.signal });
    on("touchmove", (moved) => {
      if (moved.touches.length !== 2) return;
      moved.preventDefault();
      const now = between(moved.touches);
      this.moveBy(now.x - last.x, now.y - last.y);
      this.zoom(now.apart / last.apart, this.pointAt(now.x, now.y));
      last = now;
    });
    for (const type of ["touchend", "touchcancel", "touchstart"]) on(type, () => ending.abort());
  }
}

/** @param {Iterable<Touch>} touches */
function between([one, other]) {
  const apart = Math.max(1, Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY));
  return { x: (one.clientX + other.clientX) / 2, y: (one.clientY + other.clientY) / 2, apart };
}

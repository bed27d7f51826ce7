/**
 * Points on a picture: markers that the reader drags, moves by arrow keys or types. The field holds the point; a marker
 * only displays it and writes to the field.
 */

import { controlOf, differsFromDelivered, everyField, writeDefault, writeText } from "../form/fields.mjs";
import { directions, endOf } from "./labels.mjs";
import { Loupe } from "./loupe.mjs";
import { meantBy, write } from "../form/meant.mjs";
import { bitmapsAt } from "./pictures.mjs";
import { Stage } from "./stage.mjs";
import { pointText } from "../form/texts.mjs";

const ZOOM_STEP = 1.6;
/** A touch grabs the nearest marker within this distance, so that two close markers can both be grabbed. */
const REACH_PX = 24;
/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** @typedef {import("../form/files.mjs").HeldFile} HeldFile */
/** @typedef {{field: any, group: number, element: any, sign: any, control: any, point: [number, number] | null, turn?: number}} Marker */

/** The points on the picture of one field. */
export class Points {
  #card;
  #form;
  #say;
  #pictures;
  #note;
  #stage;
  #loupe;
  #markers;
  #lines;
  #file = /** @type {HeldFile | null | undefined} */ (undefined);
  #chosen = /** @type {HeldFile | null} */ (null);
  #example = /** @type {import("./pictures.mjs").Bitmaps | null} */ (null);
  #last = /** @type {Marker | null} */ (null);

  /**
   * @param {HTMLElement} card the .dw-points
   * @param {HTMLFormElement} form
   * @param {object} to
   * @param {(key: string, parts?: object) => string} to.say
   * @param {import("./pictures.mjs").Pictures} to.pictures
   * @param {(text: string, actions?: object[]) => void} to.note shows a note to the reader
   * @param {AbortSignal} to.signal ends it
   */
  constructor(card, form, { say, pictures, note, signal }) {
    this.#card = card;
    this.#form = form;
    this.#say = say;
    this.#pictures = pictures;
    this.#note = note;
    const frame = card.querySelector(".dw-points-frame");
    this.#stage = new Stage(frame, {
      signal,
      changed: () => this.#place(),
      inHand: () => frame.contains(document.activeElement),
    });
    this.#loupe = new Loupe(card, say);
    signal.addEventListener("abort", () => {
      this.#loupe.remove();
      this.#file = this.#stage.bitmaps = null;
      this.#example?.full.close();
    });
    this.#listen(frame, signal);
    const fields = [...everyField(form).values()].filter(({ dataset }) => dataset.of === this.of);
    const groups = [...new Set(fields.map(({ dataset }) => dataset.group))];
    this.#markers = fields.map((field) => this.#marker(field, groups.indexOf(field.dataset.group), signal));
    this.#lines = groups.map((_, order) => this.#line(this.#markers.filter(({ group }) => group === order)));
    this.show(null);
  }

  /** The address of the picture's field. */
  get of() {
    return this.#card.dataset.of;
  }

  /**
   * Sets the field "points are in place" as soon as a picture is chosen, so that the reader's own choice made while the
   * picture loads is not overwritten.
   * @param {HeldFile} file
   */
  choose(file) {
    this.#chosen = file;
    this.#sayPlaced(this.#anyPlaced());
  }

  #anyPlaced() {
    return this.#markers.some(({ field }) => differsFromDelivered(field));
  }

  /**
   * Shows the picture with its points, or nothing (null). On a newly chosen picture, points that the reader has never
   * placed are spread over it.
   * @param {HeldFile | null} file
   */
  async show(file) {
    if (file === this.#file) return;
    const fresh = file?.fresh;
    this.#file = file;
    this.#loupe.hide();
    this.#stage.bitmaps = null;
    this.sync();
    if (!file) return this.#showExample();
    const placed = this.#anyPlaced();
    if (fresh && file !== this.#chosen) this.#sayPlaced(placed);
    const bitmaps = await this.#pictures.bitmapsOf(file);
    if (file !== this.#file) return;
    this.#card.hidden = !bitmaps;
    if (!bitmaps) return this.#note(this.#say("points_unseen"));
    this.#stage.bitmaps = bitmaps;
    this.sync();
    if (fresh) this.#fit(placed);
  }

  /** Shows the picture of the worked example, if the page has one. */
  async #showExample() {
    const still = this.#card.querySelector("img.dw-points-still");
    this.#card.hidden = !still;
    if (!still) return;
    this.#example ??= await bitmapsAt(still.src);
    if (this.#file) return;
    this.#stage.bitmaps = this.#example;
    this.sync();
  }

  /** Updates markers and lines from the fields. */
  sync() {
    const counting = this.#markers.filter(({ field }) => !field.hidden);
    for (const marker of this.#markers) {
      const number = counting.indexOf(marker) + 1;
      marker.sign.toggleAttribute("hidden", !number || !this.#stage.bitmaps);
      for (const each of [marker.element, marker.sign]) each.querySelector("text").textContent = number;
      marker.point = /** @type {[number, number] | undefined} */ (meantBy(marker.field)) ?? marker.point;
      marker.element.hidden = !number || !marker.point;
      this.#announce(marker);
    }
    for (const { markers, key } of this.#lines) key.hidden = markers.every(({ element }) => element.hidden);
    this.#place();
  }

  // -- Making ---------------------------------------------------------------------------------------

  #marker(/** @type {any} */ field, /** @type {number} */ group, /** @type {AbortSignal} */ signal) {
    const template = this.#card.querySelector(".dw-point-template").content;
    const element = document.importNode(template, true).querySelector(".dw-point");
    const ownSign = element.querySelector(".dw-point-sign");
    const sign = ownSign.cloneNode(true);
    const label = field.querySelector(".dw-label");
    const name = label.textContent.trim();
    for (const each of [element, ownSign, sign]) each.dataset.group = group;
    element.setAttribute("aria-label", name);
    element.setAttribute("aria-valuemin", "0");
    label.prepend(sign);
    this.#card.querySelector(".dw-points-frame").append(element);
    /** @type {Marker} */
    const marker = { field, group, element, sign, control: controlOf(field), point: null };
    /** @type {Listen} */
    const on = (target, type, act) => target.addEventListener(type, act, { signal });
    on(marker.control, "focus", () => this.#inHand(marker));
    on(element, "focus", () => this.#inHand(marker));
    on(element, "blur", () => this.#loupe.hide());
    on(element, "keydown", (event) => this.#keyed(marker, event));
    return marker;
  }

  #line(/** @type {Marker[]} */ markers) {
    const kind = markers.length > 2 ? "polygon" : "polyline";
    const make = (/** @type {string} */ className) => {
      const line = document.createElementNS("http://www.w3.org/2000/svg", kind);
      line.setAttribute("class", className);
      line.dataset.group = String(markers[0].group);
      this.#card.querySelector(".dw-points-lines").append(line);
      return line;
    };
    return { markers, drawn: [make("dw-points-casing"), make("dw-points-line")], key: this.#addKey(markers[0]) };
  }

  /** Adds a sign to the key, explained by the words that the labels of its points begin with. */
  #addKey(/** @type {Marker} */ { sign, element }) {
    const item = document.createElement("li");
    const symbol = sign.cloneNode(true);
    symbol.removeAttribute("hidden");
    symbol.querySelector("text").textContent = "";
    item.append(symbol, element.getAttribute("aria-label").split(",")[0]);
    this.#card.querySelector(".dw-points-key").append(item);
    return item;
  }

  #listen(/** @type {HTMLElement} */ frame, /** @type {AbortSignal} */ signal) {
    /** @type {Listen} */
    const on = (target, type, act) => target.addEventListener(type, act, { signal });
    const button = (/** @type {string} */ name, /** @type {() => void} */ act) => on(this.#card.querySelector(name), "click", act);
    button(".dw-points-larger", () => this.#stage.zoom(ZOOM_STEP, this.#around()));
    button(".dw-points-smaller", () => this.#stage.zoom(1 / ZOOM_STEP, this.#around()));
    button(".dw-points-whole", () => this.#stage.fit());
    this.#loupe.stepBy(this.#card.querySelector(".dw-loupe-times"), signal);
    on(frame, "pointerdown", (event) => this.#startDrag(event));
    on(this.#form, "input", () => this.sync());
    on(this.#form, "change", () => this.sync());
    on(this.#form, "read", () => this.sync());
  }

  // -- Showing --------------------------------------------------------------------------------------

  #place() {
    const { bitmaps } = this.#stage;
    if (!bitmaps) return;
    for (const { element, point } of this.#markers) {
      if (!point) continue;
      const [x, y] = this.#stage.placeOf(point);
      element.style.transform = `translate(${x}px, ${y}px)`;
    }
    this.#label();
    for (const { markers, drawn } of this.#lines) {
      const seen = markers.every(({ element, point }) => !element.hidden && point);
      const ends = seen ? markers.map(({ point }) => this.#stage.placeOf(point).join(",")).join(" ") : "";
      for (const line of drawn) line.setAttribute("points", ends);
    }
  }

  /** Places each label where it covers nothing, with a leader to its point. */
  #label() {
    const seen = this.#markers.filter(({ element, point }) => point && !element.hidden);
    const points = seen.map(({ point, group, turn }) => ({ at: this.#stage.placeOf(point), group, turn }));
    const turns = directions(points, this.#stage.size);
    const leaders = this.#card.querySelector(".dw-points-leaders");
    leaders.setAttribute("d", points.map(({ at }, place) => `M${at.join(" ")}L${endOf(at, turns[place]).join(" ")}`).join(""));
    for (const [place, marker] of seen.entries()) {
      marker.turn = turns[place];
      const [right, down] = endOf([0, 0], turns[place]);
      marker.element.querySelector(".dw-point-sign").style.transform = `translate(${right}px, ${down}px)`;
    }
  }

  #announce(/** @type {Marker} */ { element, point }) {
    if (!point) return;
    const [x, y] = pointText(point).text.split(", ");
    if (element.hasAttribute("data-in-hand")) {
      const at = this.#say("point_at", { x, y });
      this.#card.querySelector(".dw-points-status").textContent = this.#say("points_status", { name: element.getAttribute("aria-label"), at });
    }
    element.setAttribute("aria-valuenow", x);
    element.setAttribute("aria-valuetext", this.#say("point_at", { x, y }));
    if (this.#stage.bitmaps) element.setAttribute("aria-valuemax", this.#stage.bitmaps.width);
  }

  #inHand(/** @type {Marker} */ marker) {
    this.#last = marker;
    for (const { element } of this.#markers) element.toggleAttribute("data-in-hand", element === marker.element);
    this.#announce(marker);
    if (this.#stage.bitmaps && marker.point) this.#stage.reveal(marker.point);
  }

  /** The centre of a zoom by button: the marker that was last in hand, or the middle of the frame. */
  #around() {
    return this.#last && !this.#last.element.hidden ? (this.#last.point ?? undefined) : undefined;
  }

  #magnify(/** @type {Marker} */ { point }, /** @type {boolean} */ beside) {
    const [clientX, clientY] = this.#stage.onScreen(point);
    const { bitmaps, scale } = this.#stage;
    this.#loupe.show({ clientX, clientY, bitmaps, at: point, scale: [scale, 0, 0, scale], beside, cross: true });
  }

  // -- Moving ---------------------------------------------------------------------------------------

  #move(/** @type {Marker} */ marker, /** @type {number[]} */ [x, y]) {
    const { width, height } = this.#stage.bitmaps;
    const within = (/** @type {number} */ value, /** @type {number} */ most) => Math.min(Math.max(value, 0), most);
    this.#write(marker, pointText([within(x, width), within(y, height)]));
  }

  #write(/** @type {Marker} */ { field, control }, /** @type {{text: string, value: any}} */ { text, value }) {
    if (control.value === text) return;
    write(field, text, value);
    control.dispatchEvent(new Event("input", { bubbles: true }));
  }

  #startDrag(/** @type {PointerEvent & {target: any}} */ event) {
    if (event.button !== 0 || !event.target.closest(".dw-point")) return;
    event.preventDefault();
    const marker = this.#nearest(event);
    const { element, point: start } = marker;
    const [x, y] = this.#stage.onScreen(start);
    const [right, down] = [event.clientX - x, event.clientY - y];
    const before = marker.control.value;
    const ending = new AbortController();
    /** @type {ListenHere} */
    const on = (type, act) => element.addEventListener(type, act, { signal: ending.signal });
    element.setPointerCapture(event.pointerId);
    element.focus({ preventScroll: true, focusVisible: false });
    element.toggleAttribute("data-dragged", true);
    this.#magnify(marker, true);
    on("pointermove", (moved) => {
      if (moved.pointerId !== event.pointerId) return;
      this.#move(marker, this.#stage.pointAt(moved.clientX - right, moved.clientY - down));
      this.#stage.reveal(marker.point);
      this.#magnify(marker, true);
    });
    const end = () => {
      ending.abort();
      element.removeAttribute("data-dragged");
      this.#loupe.hide();
    };
    for (const type of ["pointerup", "pointercancel", "lostpointercapture"]) on(type, end);
    on("keydown", ({ key }) => {
      if (key !== "Escape") return;
      this.#write(marker, { text: before, value: start });
      end();
    });
  }

  #nearest(/** @type {MouseEvent & {target: any}} */ { clientX, clientY, target }) {
    const away = (/** @type {Marker} */ { element, point }) => {
      if (element.hidden || !point) return Infinity;
      const [x, y] = this.#stage.onScreen(point);
      return Math.hypot(clientX - x, clientY - y);
    };
    const nearest = this.#markers.reduce((best, each) => (away(each) < away(best) ? each : best));
    const under = this.#markers.find(({ element }) => element === target.closest(".dw-point"));
    return away(nearest) <= REACH_PX ? nearest : under;
  }

  #keyed(/** @type {Marker} */ marker, /** @type {KeyboardEvent} */ event) {
    const { key, shiftKey, altKey } = event;
    if (key === "Escape") return this.#loupe.hide();
    if (key === "+" || key === "=") return this.#stage.zoom(ZOOM_STEP, marker.point);
    if (key === "-") return this.#stage.zoom(1 / ZOOM_STEP, marker.point);
    const way = ARROWS[key];
    if (!way || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const by = shiftKey ? 10 : altKey ? 0.1 : 1;
    this.#move(marker, [marker.point[0] + way[0] * by, marker.point[1] + way[1] * by]);
    this.#stage.reveal(marker.point);
    this.#magnify(marker, true);
  }

  // -- A picture of another size --------------------------------------------------------------------

  /** Sets the field "points are in place", since its value for the previous picture does not hold for a new one. */
  #sayPlaced(/** @type {boolean} */ before) {
    const { placed, notPlaced } = this.#card.dataset;
    const field = placed && everyField(this.#form).get(placed);
    if (!field) return;
    // writeText wants a unit, though this value is no length.
    if (before) writeText(field, notPlaced, "mm");
    else writeDefault(field, "mm");
    controlOf(field).dispatchEvent(new Event("change", { bubbles: true }));
  }

  /**
   * Fits the points to a newly chosen picture: spreads the example's points, but offers to bring in points that the
   * reader had placed.
   * @param {boolean} placed whether the reader had placed any
   */
  #fit(placed) {
    const { width, height } = this.#stage.bitmaps;
    const [fitX, fitY] = this.#card.dataset.fit.split(" ").map(Number);
    if (!placed) {
      if (width === fitX && height === fitY) return;
      this.#scale(width / fitX, height / fitY);
      this.#note(this.#say("points_spread"));
      return;
    }
    const known = this.#markers.filter(({ point }) => point);
    const farthest = (/** @type {number} */ axis) => Math.max(...known.map(({ point }) => point[axis]));
    const outside = (/** @type {Marker} */ { element, point: [x, y] }) => !element.hidden && (x > width || y > height);
    if (!known.some(outside)) return;
    const share = Math.min(1, width / farthest(0), height / farthest(1));
    const bringIn = { label: this.#say("points_bring_in"), act: () => this.#scale(share, share) };
    this.#note(this.#say("points_outside"), [bringIn]);
  }

  #scale(/** @type {number} */ across, /** @type {number} */ down) {
    for (const marker of this.#markers) {
      if (marker.point) this.#move(marker, [marker.point[0] * across, marker.point[1] * down]);
    }
  }
}

/**
 * Filling the answer's slots. All texts come from Python; here they are only put in place.
 */

import { Scenes } from "../picture/border.mjs";
import { sizeText } from "../frame/words.mjs";

/** The answer of one calculator on the page. */
export class Answer {
  #root;
  #say;
  #rows = new Map();
  #addresses = [];
  #files = new Map();
  #scenes = new Map();
  #ending = new AbortController();

  /**
   * @param {HTMLElement} root the .dw-answer
   * @param {(key: string, parts?: object) => string} say
   */
  constructor(root, say) {
    this.#root = root;
    this.#say = say;
    const form = root.closest(".dw-calculator").querySelector(".dw-form");
    for (const card of root.querySelectorAll(".dw-scenes")) {
      this.#scenes.set(card, new Scenes(card, form, say, this.#ending.signal));
    }
    for (const table of root.querySelectorAll(":is(.dw-table, .dw-cards)[data-result]")) {
      this.#rows.set(table, table.querySelector("template").content.firstElementChild);
    }
  }

  /**
   * Shows a result.
   * @param {Record<string, object>} view by result name, as calculators/answer.py describes it
   * @param {ArrayBuffer[]} buffers those that the view's files point into
   */
  show(view, buffers) {
    for (const address of this.#addresses.splice(0)) URL.revokeObjectURL(address);
    for (const slot of this.#root.querySelectorAll("[data-result]")) {
      const part = view[slot.dataset.result];
      slot.hidden = !part || isEmpty(part);
      const frame = slot.closest(".dw-table-frame");
      if (frame) frame.hidden = slot.hidden;
      const keep = slot.parentElement.querySelector(`.dw-keep[data-keeps="${slot.dataset.result}"]`);
      if (keep) keep.hidden = slot.hidden;
      if (!slot.hidden) this.#fill(slot, part, buffers);
    }
    for (const group of this.#root.querySelectorAll(".dw-measures, .dw-files")) {
      group.hidden = [...group.querySelectorAll("[data-result]")].every((slot) => slot.hidden);
    }
  }

  /**
   * Returns a file of the result that is shown.
   * @param {string} result its name
   * @returns {{name: string, media: string, bytes: ArrayBuffer}}
   */
  file(result) {
    return this.#files.get(result);
  }

  /** Frees what the answer holds. */
  forget() {
    this.#ending.abort();
    for (const address of this.#addresses.splice(0)) URL.revokeObjectURL(address);
  }

  #fill(slot, part, buffers) {
    const put = (name, text) => (partOf(slot, name).textContent = text);
    switch (part.kind) {
      case "verdict":
        slot.dataset.level = part.level;
        put("title", part.title);
        partOf(slot, "reasons").replaceChildren(...part.reasons.map(paragraph));
        break;
      case "measure":
        put("shown", part.shown);
        put("unit", part.unit);
        break;
      case "words":
        put("shown", part.shown);
        break;
      case "colour":
        put("shown", part.shown);
        paint(slot.querySelector(".dw-swatch"), part.shown);
        break;
      case "table":
        slot.querySelector("tbody, ol").replaceChildren(...part.rows.map((row) => this.#row(slot, row)));
        break;
      case "figure":
        partOf(slot, "svg").replaceChildren(drawing(part.svg));
        put("alt", part.alt);
        break;
      case "prose":
        partOf(slot, "html").replaceChildren(...pageOf(part.html));
        break;
      case "scenes":
        this.#scenes.get(slot).show(part, buffers);
        break;
      case "file":
        this.#offer(slot, part, buffers);
        break;
      default:
        throw new Error(`no way to show a result of kind ${part.kind}`);
    }
  }

  #row(table, row) {
    const shown = document.importNode(this.#rows.get(table), true);
    for (const cell of shown.querySelectorAll("[data-part]")) {
      const value = row[cell.dataset.part];
      const unit = cell.querySelector(".dw-unit");
      cell.querySelector(".dw-shown").replaceChildren(value?.href ? linkTo(value) : (value?.shown ?? ""));
      if (unit) unit.textContent = value?.shown ? (value.unit ?? "") : "";
      const swatch = cell.querySelector(".dw-swatch");
      if (swatch) paint(swatch, value?.shown);
      if (value?.level) cell.dataset.level = value.level;
      if (cell.matches("dl > *")) cell.hidden = !value?.shown;
    }
    return shown;
  }

  #offer(link, { name, media, buffer, size }, buffers) {
    link.href = URL.createObjectURL(new Blob([buffers[buffer]], { type: media }));
    this.#addresses.push(link.href);
    this.#files.set(link.dataset.result, { name, media, bytes: buffers[buffer] });
    link.download = name;
    link.querySelector("[data-part=name]").textContent = this.#say("save_file", { name, size: sizeText(size) });
  }
}

const partOf = (slot, name) => slot.querySelector(`[data-part=${name}]`);

const isEmpty = (part) =>
  ("shown" in part && part.shown === null) ||
  (part.kind === "file" && part.buffer === null) ||
  (part.kind === "table" && !part.rows.length) ||
  part.svg === null;

const paint = (swatch, colour) => swatch.firstElementChild.setAttribute("fill", colour ?? "none");

const linkTo = ({ href, shown }) => Object.assign(document.createElement("a"), { href, textContent: shown });

/** Returns the nodes of a page that Python made. No script in it would run: it is parsed apart. */
function pageOf(html) {
  const parsed = new DOMParser().parseFromString(html, "text/html");
  return [...parsed.body.childNodes].map((node) => document.importNode(node, true));
}

const paragraph = (text) => Object.assign(document.createElement("p"), { textContent: text });

/**
 * Returns the element of a drawing. Its words stand in the caption, so it is silent itself.
 * @param {string} svg
 * @returns {Element}
 */
function drawing(svg) {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml");
  if (parsed.querySelector("parsererror")) throw new Error("a drawing is not well-formed");
  const root = document.importNode(parsed.documentElement, true);
  root.setAttribute("aria-hidden", "true");
  return root;
}

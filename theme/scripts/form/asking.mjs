/**
 * One question at a time to the engine, always with the newest of what is typed.
 */

import { everyField, fieldsOf, readInputs } from "./fields.mjs";
import { filesOf } from "./files.mjs";
import { takeMeant } from "./meant.mjs";
import { pixelsOf } from "../picture/pixels.mjs";

/** Work that takes longer shows its progress. */
const SHOW_PROGRESS_AFTER_MS = 300;

/**
 * Returns what to send of a form. Fields that do not count are left out, and those that a picture just
 * chosen gives values to are left to it.
 * @param {HTMLElement} form
 * @param {"mm" | "in"} unit
 * @returns {{inputs: object, aside: object, files: Map<string, object>}} `aside` what is typed where it does not count
 */
export function questionOf(form, unit) {
  const inputs = readInputs(form, unit, (field) => field.hidden);
  const aside = readInputs(form, unit, (field) => !field.hidden);
  const fields = everyField(form);
  const files = new Map([...filesOf(form)].filter(([address]) => !fields.get(address).closest("[data-field][hidden]")));
  for (const [address, file] of files) {
    if (!file.fresh) continue;
    const { within, names } = filledBy(form, address);
    for (const name of names) delete inputsAt(inputs, within)[name];
  }
  return { inputs, aside, files };
}

/**
 * Returns the fields that a picture's header gives values to.
 * @param {HTMLElement} form
 * @param {string} address the picture's
 * @returns {{within: string, names: string[], fields: Map<string, HTMLElement>}}
 */
export function filledBy(form, address) {
  const field = [...form.querySelectorAll("[data-fills]")].find((each) => each.dataset.field === address);
  const names = field?.dataset.fills.split(" ").filter(Boolean) ?? [];
  const within = address.slice(0, address.lastIndexOf(".") + 1);
  const beside = field ? fieldsOf(field.parentElement.closest(".dw-row, .dw-form")) : new Map();
  return { within, names, fields: new Map(names.map((name) => [within + name, beside.get(name)])) };
}

function inputsAt(inputs, within) {
  let at = inputs;
  for (const [, name, place] of within.matchAll(/([^.[\]]+)\[(\d+)\]\./g)) at = at[name][place];
  return at;
}

/** The way from one form to the engine. */
export class Asking {
  #engine;
  #form;
  #calculator;
  #limitMs;
  #flight = null;

  /**
   * @param {object} engine
   * @param {HTMLElement} root the .dw-calculator
   * @param {object} on
   * @param {(share: number | null, words: string | null) => void} on.progress after 0.3 s and then as it comes
   * @param {() => void} on.quiet the work is over
   */
  constructor(engine, root, on) {
    this.#engine = engine;
    this.#form = root.querySelector(".dw-form");
    this.#calculator = root.dataset.calculator;
    this.#limitMs = Number(root.dataset.limitS) * 1000;
    this.on = on;
  }

  /** Tells whether a question is on its way. */
  get busy() {
    return this.#flight !== null;
  }

  /** Tells whether the question on its way has been slow enough for its progress to show. */
  get slow() {
    return this.#flight?.slow ?? false;
  }

  /** Stops the question on its way. */
  stop() {
    this.#flight?.controller.abort();
  }

  /**
   * Asks, and always comes back with an envelope. The form learns what was read before the work on it begins.
   * @param {{inputs: object, aside: object, files: Map<string, object>}} question
   * @param {"mm" | "in"} units
   * @returns {Promise<{envelope: object, buffers: Uint8Array[]}>}
   */
  async ask(question, units) {
    const { inputs, aside, files } = question;
    const takeRead = ({ parsed }) => parsed && takeMeant(this.#form, parsed, question, units);
    const flight = { controller: new AbortController(), slow: false, share: null, words: null };
    this.#flight = flight;
    const timer = setTimeout(() => {
      flight.slow = true;
      this.on.progress(flight.share, flight.words);
    }, SHOW_PROGRESS_AFTER_MS);
    const options = {
      limitMs: this.#limitMs,
      signal: flight.controller.signal,
      onProgress: (envelope) => {
        if (envelope.parsed) return takeRead(envelope);
        const { share, words } = envelope;
        Object.assign(flight, { share, words });
        if (flight.slow) this.on.progress(share, words);
      },
    };
    try {
      const trouble = await this.#inspect(files, options);
      if (trouble) return trouble;
      const sent = await filesToSend(files);
      const request = { do: "answer", calculator: this.#calculator, inputs, aside, files: sent, units, read_first: true };
      const reply = await this.#engine.ask(request, options);
      takeRead(reply.envelope);
      return reply;
    } finally {
      clearTimeout(timer);
      this.#flight = null;
      this.on.quiet();
    }
  }

  /** Asks whether the headers of pictures allow decoding them. Returns a reply only where they do not. */
  async #inspect(files, options) {
    const unseen = [...files].filter(([, file]) => file.decoded && !file.inspected);
    if (!unseen.length) return null;
    const sent = Object.fromEntries(unseen.map(([address, { name, hash, bytes }]) => [address, { name, hash, bytes }]));
    const reply = await this.#engine.ask({ do: "inspect", calculator: this.#calculator, files: sent }, options);
    if (reply.envelope.outcome !== "inspected") return reply;
    if (reply.envelope.problems.length) {
      return { envelope: { outcome: "problems", problems: reply.envelope.problems, fills: {} }, buffers: [] };
    }
    for (const [address, file] of unseen) {
      file.inspected = true;
      file.header = reply.envelope.headers[address];
    }
    return null;
  }

  /**
   * Returns the lengths among typed texts as they read in another unit.
   * @param {object} inputs
   * @param {"mm" | "in"} units
   * @returns {Promise<object>}
   */
  async restate(inputs, units) {
    const request = { do: "restate", calculator: this.#calculator, inputs, units };
    const { envelope } = await this.#engine.ask(request, { limitMs: this.#limitMs });
    return envelope.outcome === "restated" ? envelope.inputs : {};
  }
}

async function filesToSend(files) {
  const all = [...files.values()];
  const decoded = await Promise.all(all.map((file) => (file.decoded && !file.header.outlines ? decodedOf(file) : null)));
  const sent = all.map(({ name, hash, bytes }, place) => {
    const pixels = decoded[place];
    // None where they were let go in between: another file has taken its place, and will be asked about.
    return { name, hash, bytes, ...(pixels?.rgba.byteLength && { pixels }) };
  });
  return Object.fromEntries([...files.keys()].map((address, place) => [address, sent[place]]));
}

async function decodedOf(file) {
  const decode = () => (file.pixels = pixelsOf(file.bytes, file.media, file.header));
  const made = await (file.pixels ?? decode());
  return made?.rgba.byteLength === 0 ? decode() : made;
}

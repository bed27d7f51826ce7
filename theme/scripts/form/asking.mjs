/**
 * Asks the engine one question at a time, always with the newest input.
 */

import { everyField, fieldsOf, readInputs } from "./fields.mjs";
import { filesOf } from "./files.mjs";
import { takeMeant } from "./meant.mjs";

/** Longer work shows its progress. */
const SHOW_PROGRESS_AFTER_MS = 300;

/**
 * Returns what to send. Leaves out fields that do not apply, and fields that a newly chosen picture fills.
 * @param {HTMLElement} form
 * @param {"mm" | "in"} unit
 * @returns {Question} `aside`: the input in fields that do not apply
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
 * Returns the fields that a picture's header fills.
 * @param {HTMLElement} form
 * @param {string} address the picture's
 * @returns {{within: string, names: string[], fields: Map<string, HTMLElement>}}
 */
export function filledBy(form, address) {
  const field = [...form.querySelectorAll("[data-fills]")].find((each) => each.dataset.field === address);
  const names = field?.dataset.fills.split(" ").filter(Boolean) ?? [];
  const within = address.slice(0, address.lastIndexOf(".") + 1);
  const beside = field ? fieldsOf(field.parentElement.closest(".dw-row, .dw-form")) : new Map();
  return { within, names, fields: new Map(names.map((/** @type {string} */ name) => [within + name, beside.get(name)])) };
}

/**
 * @param {Record<string, any>} inputs
 * @param {string} within
 */
function inputsAt(inputs, within) {
  let at = inputs;
  for (const [, name, place] of within.matchAll(/([^.[\]]+)\[(\d+)\]\./g)) at = at[name][place];
  return at;
}

/** @typedef {{controller: AbortController, slow: boolean, share: number | null, words: string | null}} Flight */

/** Asks the questions of one form. */
export class Asking {
  #engine;
  #form;
  #calculator;
  #limitMs;
  #flight = /** @type {Flight | null} */ (null);

  /**
   * @param {import("../../engine/engine.mjs").Engine} engine
   * @param {HTMLElement} root the .dw-calculator
   * @param {object} on
   * @param {(share: number | null, words: string | null) => void} on.progress called after 0.3 s and at each further step
   * @param {() => void} on.quiet called when the work is over
   */
  constructor(engine, root, on) {
    this.#engine = engine;
    this.#form = root.querySelector(".dw-form");
    this.#calculator = root.dataset.calculator;
    this.#limitMs = Number(root.dataset.limitS) * 1000;
    this.on = on;
  }

  /** Whether a question is being answered. */
  get busy() {
    return this.#flight !== null;
  }

  /** Whether the current question takes long enough to show its progress. */
  get slow() {
    return this.#flight?.slow ?? false;
  }

  /** Stops the current question. */
  stop() {
    this.#flight?.controller.abort();
  }

  /**
   * Asks, and always resolves with an envelope. The form gets the parsed input before the calculation begins.
   * @param {Question} question
   * @param {"mm" | "in"} units
   * @returns {Promise<Reply>}
   */
  async ask(question, units) {
    const { inputs, aside, files } = question;
    /** @param {Envelope} envelope */
    const takeRead = ({ parsed }) => parsed && takeMeant(this.#form, parsed, question, units);
    /** @type {Flight} */
    const flight = { controller: new AbortController(), slow: false, share: null, words: null };
    this.#flight = flight;
    const timer = setTimeout(() => {
      flight.slow = true;
      this.on.progress(flight.share, flight.words);
    }, SHOW_PROGRESS_AFTER_MS);
    const options = {
      limitMs: this.#limitMs,
      signal: flight.controller.signal,
      onProgress: (/** @type {Envelope} */ envelope) => {
        if (envelope.parsed) return takeRead(envelope);
        const { share, words } = envelope;
        Object.assign(flight, { share, words });
        if (flight.slow) this.on.progress(share, words);
      },
      onWanted: async (/** @type {any} */ { media, header }, /** @type {ArrayBuffer[]} */ [bytes]) =>
        (await import("alone-pixels")).pixelsOf(bytes, media, header),
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

  /**
   * Checks the headers of pictures before they are decoded. Returns a reply only if one must not be.
   * @param {Map<string, any>} files
   * @param {object} options
   */
  async #inspect(files, options) {
    const uninspected = [...files].filter(([, file]) => file.decoded && !file.inspected);
    if (!uninspected.length) return null;
    const sent = Object.fromEntries(uninspected.map(([address, { name, hash, bytes }]) => [address, { name, hash, bytes }]));
    const reply = await this.#engine.ask({ do: "inspect", calculator: this.#calculator, files: sent }, options);
    if (reply.envelope.outcome !== "inspected") return reply;
    if (reply.envelope.problems.length) {
      return { envelope: { outcome: "problems", problems: reply.envelope.problems, fills: {} }, buffers: [] };
    }
    for (const [address, file] of uninspected) {
      file.inspected = true;
      file.header = reply.envelope.headers[address];
    }
    return null;
  }

  /**
   * Returns the typed lengths, converted to another unit.
   * @param {object} inputs
   * @param {"mm" | "in"} units
   * @returns {Promise<Record<string, any>>}
   */
  async restate(inputs, units) {
    const request = { do: "restate", calculator: this.#calculator, inputs, units };
    const { envelope } = await this.#engine.ask(request, { limitMs: this.#limitMs });
    return envelope.outcome === "restated" ? envelope.inputs : {};
  }
}

/** @param {Map<string, any>} files */
async function filesToSend(files) {
  const all = [...files.values()];
  const decoded = await Promise.all(all.map((file) => (file.decoded && !file.header.outlines ? decodedOf(file) : null)));
  const sent = all.map(({ name, hash, bytes }, place) => {
    const pixels = decoded[place];
    // Pixels were freed if another file replaced this one meanwhile; the next question is about that file.
    return { name, hash, bytes, ...(pixels?.rgba.byteLength && { pixels }) };
  });
  return Object.fromEntries([...files.keys()].map((address, place) => [address, sent[place]]));
}

/** @param {any} file */
async function decodedOf(file) {
  const { pixelsOf } = await import("alone-pixels");
  const decode = () => (file.pixels = pixelsOf(file.bytes, file.media, file.header));
  const made = await (file.pixels ?? decode());
  return made?.rgba.byteLength === 0 ? decode() : made;
}

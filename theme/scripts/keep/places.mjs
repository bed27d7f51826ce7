/**
 * Where the values that calculators share by name lie in a job of format 3 (calculators/jobs/model.py). `config.job` has what
 * the declarations say of it (builder/job_places.py).
 *
 * A value is stored twice: as typed, among the `values` of the marking, with where it came from and the picture that it
 * describes; and in the attribute that is declared for it, once Python has read it without a problem (settling.mjs).
 *
 * @typedef {object} Places
 * @property {number} format
 * @property {number} most markings of a job
 * @property {Record<"marking" | "model" | "available", Record<string, string>>} attributes by the names that fields share
 * @property {Record<string, string>} first_of lists of what there is, by the name of the value that is the first of them unless another is decided
 * @property {Record<string, string>} areas of paints, by the names that fields share
 * @property {{choice: string, size: string, of: Record<string, {name: string, as: string}>}} widths
 * @property {Record<string, string>} kinds of marking, by the name of the shared file
 * @property {string[]} own what a partner has for itself
 * @property {Record<string, string>} partners labels of the kinds of partner
 * @property {{id: string, name: string, model: string}} first
 * @property {string[]} aside ids of the calculators that are not about a marking
 *
 * @typedef {import("./sharing.mjs").Shared} Shared
 */

/** Longer texts are no value of a job (SharedText of model.py); the calculator's own input has them. */
const LONGEST = 4000;

const PARTS = /** @type {const} */ (["available", "model", "marking"]);

/** The values of one marking of a job, which is plain JSON and is changed in place. */
export class Values {
  /**
   * @param {Places} places
   * @param {any} job
   * @param {any} marking one of the job's, not one that follows another
   */
  constructor(places, job, marking) {
    this.places = places;
    this.job = job;
    this.marking = marking;
  }

  /** Returns all values by name; files without their bytes. */
  all() {
    /** @type {Record<string, Shared>} */
    const found = {};
    for (const [name, text] of this.#decided()) if (text) found[name] = { text };
    for (const [name, { text, origin, picture }] of Object.entries(this.marking.values ?? {})) {
      found[name] = { text, ...(origin && { from: origin }), ...(picture && { picture }) };
    }
    for (const [name, { file, origin, at }] of Object.entries(this.marking.files ?? {})) {
      found[name] = { file, ...(at && { at }), ...(origin && { from: origin }) };
    }
    return found;
  }

  /**
   * Stores a text or a file.
   * @param {string} name
   * @param {Shared} value
   */
  put(name, { text = "", file, at, from, picture }) {
    const origin = from && { origin: from };
    if (file) {
      (this.marking.files ??= {})[name] = { file, at, ...origin };
      this.marking.kind = this.places.kinds[name] ?? this.marking.kind;
      return;
    }
    for (const each of this.#sharers(name)) delete each.values?.[name];
    if (text.length <= LONGEST) (this.marking.values ??= {})[name] = { text, ...origin, ...(picture && { picture: lineOf(picture, 200) }) };
  }

  /** @param {string} name */
  remove(name) {
    if (this.marking.files) delete this.marking.files[name];
    for (const each of this.#sharers(name)) delete each.values?.[name];
    const { attributes, widths } = this.places;
    for (const part of PARTS) if (name in attributes[part]) delete this.part(part)?.[attributes[part][name]];
    if (Object.values(widths.of).some((each) => each.name === name)) for (const attribute of ["width", "width_of"]) delete this.marking[attribute];
  }

  /** Yields [name, text] of every attribute. */
  *#decided() {
    const { attributes, areas, widths } = this.places;
    for (const [name, attribute] of Object.entries(this.places.first_of)) yield [name, this.job.available?.[attribute]?.[0]];
    for (const part of PARTS) {
      const holder = this.part(part) ?? {};
      for (const [name, attribute] of Object.entries(attributes[part])) yield [name, holder[attribute]];
    }
    const paints = this.paints();
    for (const [place, name] of Object.keys(areas).entries()) yield [name, paints[Math.min(place, paints.length - 1)]?.colour];
    const { width, width_of, size = widths.size } = this.marking;
    if (!width || size !== widths.size) return;
    const own = Object.values(widths.of).at(-1)?.as;
    for (const [choice, { name, as }] of Object.entries(widths.of)) {
      if (as === (width_of ?? own)) yield* [[widths.choice, choice], [name, width]];
    }
  }

  paints() {
    const { paints = [] } = this.part("model") ?? {};
    const colours = new Map(paints.map((/** @type {any} */ each) => [each.area, each]));
    return (this.marking.paints ?? []).map((/** @type {string} */ area) => colours.get(area)).filter(Boolean);
  }

  others() {
    return this.job.markings.filter((/** @type {any} */ each) => each !== this.marking && each.model === this.marking.model);
  }

  /**
   * Returns the markings that have a value in common.
   * @param {string} name
   */
  #sharers(name) {
    const { attributes, areas } = this.places;
    if (name in attributes.available) return this.job.markings;
    return name in attributes.model || name in areas ? [this.marking, ...this.others()] : [this.marking];
  }

  /**
   * @param {"marking" | "model" | "available"} part
   * @param {boolean} [isNeeded] whether to make it
   */
  part(part, isNeeded = false) {
    if (part === "marking") return this.marking;
    if (part === "available") return isNeeded ? (this.job.available ??= {}) : this.job.available;
    const found = this.job.models?.find((/** @type {any} */ each) => each.id === this.marking.model);
    if (found || !isNeeded) return found;
    const model = newModel(this.places, this.job);
    this.marking.model = model.id;
    return model;
  }
}

/** @param {any} job @param {string | null} id */
export const byId = (job, id) => job.markings?.find((/** @type {any} */ each) => each.id === id);

/**
 * Returns the marking that holds the values of one: that which it follows, or itself.
 * @param {any} job
 * @param {any} marking
 */
export const holderOf = (job, marking) => (marking?.partner && marking.partner.follows !== false && byId(job, marking.partner.of)) || marking;

/**
 * Adds a marking that nothing is known of yet, and returns it.
 * @param {Places} places
 * @param {any} job
 * @param {string | null} [id]
 */
export function plainMarking(places, job, id) {
  const markings = (job.markings ??= []);
  const name = nameAfter(places.first.name, markings, markings.length + 1);
  const marking = { id: id ?? newId(name, markings), name, model: (job.models?.[0] ?? newModel(places, job)).id };
  markings.push(marking);
  return marking;
}

/**
 * Adds a model to a job, and returns it.
 * @param {Places} places
 * @param {any} job
 */
export function newModel(places, job) {
  const models = (job.models ??= []);
  const name = nameAfter(places.first.model, models, 1);
  const model = { id: newId(name, models), name };
  models.push(model);
  return model;
}

/**
 * Returns the name of a further marking or model: that of the first with another number.
 * @param {string} name of the first
 * @param {{name: string}[]} others
 * @param {number} number the least to take
 */
export const nameAfter = (name, others, number) => numbered(name.replace(/ \d+$/, ""), new Set(others.map((each) => each.name)), number);

/**
 * Returns a text on one line, without characters that cannot be shown, as calculators/jobs/shape.py takes it.
 * @param {string} text
 * @param {number} most
 */
export const lineOf = (text, most) => text.replace(/[\p{Cc}\p{Cs}\p{Co}\p{Cn}\p{Zl}\p{Zp}]|[^\P{Cf}\u200c\u200d]/gu, "").slice(0, most);

/**
 * Returns `name`, or the first of "name 2", "name 3" and so on that is not taken. From `first` on, each has a number.
 * @param {string} name
 * @param {Set<string>} taken
 * @param {number} [first]
 * @param {string} [between] what stands before the number
 */
export function numbered(name, taken, first, between = " ") {
  if (!first && !taken.has(name)) return name;
  let number = first ?? 2;
  while (taken.has(name + between + number)) number += 1;
  return name + between + number;
}

/**
 * Returns an id made of a name, as new_id of calculators/jobs/model.py does.
 * @param {string} name
 * @param {{id: string}[]} others
 */
export function newId(name, others) {
  const letters = name.toLowerCase().normalize("NFKD").replace(/\p{M}/gu, "");
  const base = letters.replace(/[^a-z0-9]+/g, "-").slice(0, 33).replace(/^-/, "").slice(0, 32).replace(/-$/, "") || "marking";
  return numbered(base, new Set(others.map(({ id }) => id)), undefined, "-");
}

/**
 * Returns the name under which a file is shared.
 * @param {string} name the name that its field shares
 * @param {string | undefined} outlines the name to use instead if it holds outlines
 * @param {{media: string, name: string} | undefined} file
 * @returns {string}
 */
export const nameOf = (name, outlines, file) => (outlines && file && /svg/.test(`${file.media}${file.name}`) ? outlines : name);

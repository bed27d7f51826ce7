/**
 * Where the values that calculators share by name lie in a job of format 3 (calculators/jobs/model.py). `config.job` has what
 * the declarations say of it (builder/job_places.py).
 *
 * A value is stored twice: as typed, among the `values` of the marking, with where it came from and the picture that it
 * describes; and in the attribute that is declared for it, once Python has read it without a problem (`settle`).
 *
 * @typedef {object} Places
 * @property {number} format
 * @property {number} most markings of a job
 * @property {Record<"marking" | "model" | "available", Record<string, string>>} attributes by the names that fields share
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

/** The values of one marking of a job, which is plain JSON and is changed in place. */
export class Values {
  #places;
  #job;
  #marking;

  /**
   * @param {Places} places
   * @param {any} job
   * @param {any} marking one of the job's, not one that follows another
   */
  constructor(places, job, marking) {
    this.#places = places;
    this.#job = job;
    this.#marking = marking;
  }

  /** Returns all values by name; files without their bytes. */
  all() {
    /** @type {Record<string, Shared>} */
    const found = {};
    for (const [name, text] of this.#decided()) if (text) found[name] = { text };
    for (const [name, { text, origin, picture }] of Object.entries(this.#marking.values ?? {})) {
      found[name] = { text, ...(origin && { from: origin }), ...(picture && { picture }) };
    }
    for (const [name, { file, origin, at }] of Object.entries(this.#marking.files ?? {})) {
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
      (this.#marking.files ??= {})[name] = { file, at, ...origin };
      this.#marking.kind = this.#places.kinds[name] ?? this.#marking.kind;
      return;
    }
    for (const each of this.#sharers(name)) delete each.values?.[name];
    if (text.length <= LONGEST) (this.#marking.values ??= {})[name] = { text, ...origin, ...(picture && { picture: lineOf(picture, 200) }) };
  }

  /** @param {string} name */
  remove(name) {
    if (this.#marking.files) delete this.#marking.files[name];
    for (const each of this.#sharers(name)) delete each.values?.[name];
    this.#decide(name, "");
  }

  /**
   * Takes over into the attributes what Python has read, and empties those whose text it could not read.
   * @param {Record<string, {text: string, isRead: boolean}>} typed by name
   */
  settle(typed) {
    for (const [name, { text, isRead }] of Object.entries(typed)) {
      if (this.#marking.values?.[name]?.text === text) this.#decide(name, isRead ? text : "");
    }
  }

  /** Yields [name, text] of every attribute. */
  *#decided() {
    const { attributes, areas, widths } = this.#places;
    for (const part of /** @type {const} */ (["available", "model", "marking"])) {
      const holder = this.#part(part) ?? {};
      for (const [name, attribute] of Object.entries(attributes[part])) yield [name, holder[attribute]];
    }
    const paints = this.#paints();
    for (const [place, name] of Object.keys(areas).entries()) yield [name, paints[Math.min(place, paints.length - 1)]?.colour];
    const { width, width_of, size = widths.size } = this.#marking;
    if (!width || size !== widths.size) return;
    const own = Object.values(widths.of).at(-1)?.as;
    for (const [choice, { name, as }] of Object.entries(widths.of)) {
      if (as === (width_of ?? own)) yield* [[widths.choice, choice], [name, width]];
    }
  }

  /**
   * @param {string} name
   * @param {string} text "": undecided
   */
  #decide(name, text) {
    const { attributes, areas, widths } = this.#places;
    for (const part of /** @type {const} */ (["marking", "model", "available"])) {
      if (!(name in attributes[part])) continue;
      const holder = this.#part(part, Boolean(text));
      if (text) holder[attributes[part][name]] = text;
      else if (holder) delete holder[attributes[part][name]];
    }
    if (name in areas && text) this.#paint(Object.keys(areas).indexOf(name), areas[name], text);
    if (name === widths.choice || Object.values(widths.of).some((each) => each.name === name)) this.#decideWidth(name, text);
  }

  /**
   * The width that the reader gives decides that of the marking; the other one, if it is given too, stays among the values.
   * @param {string} name of the value that was read, or that could not be read
   * @param {string} text
   */
  #decideWidth(name, text) {
    const { widths } = this.#places;
    const values = this.#marking.values ?? {};
    const [whole, own] = Object.values(widths.of);
    const chosen = widths.of[values[widths.choice]?.text] ?? whole;
    const used = [chosen, own, whole].find((each) => values[each.name]?.text) ?? chosen;
    if (name !== widths.choice && name !== used.name) return;
    const width = name === used.name ? text : values[used.name]?.text;
    if (width) Object.assign(this.#marking, { width, width_of: used.as, size: widths.size });
    else for (const attribute of ["width", "width_of"]) delete this.#marking[attribute];
  }

  /**
   * Sets the colour of the first or second paint that the marking lies on.
   * @param {number} place
   * @param {string} usual the name of the area, if it has none yet
   * @param {string} colour
   */
  #paint(place, usual, colour) {
    const model = this.#part("model", true);
    const lies = (this.#marking.paints ??= []);
    const paints = (model.paints ??= []);
    // On one paint only, both fields hold it.
    if (place >= lies.length && lies.length && this.#paints()[0]?.colour === colour) return;
    const at = Math.min(place, lies.length);
    const there = paints.find((/** @type {any} */ each) => each.area === lies[at]);
    if (there?.colour === colour) return;
    const same = paints.find((/** @type {any} */ each) => each.colour === colour && !lies.includes(each.area));
    if (same) lies[at] = same.area;
    else if (there && !this.#others().some((/** @type {any} */ each) => each.paints?.includes(there.area))) there.colour = colour;
    else {
      // Another marking lies on that paint too: what is typed here does not change it there.
      const areas = new Set(paints.map((/** @type {any} */ each) => each.area));
      const area = numbered(usual, areas);
      paints.push({ area, colour });
      lies[at] = area;
    }
  }

  #paints() {
    const { paints = [] } = this.#part("model") ?? {};
    const colours = new Map(paints.map((/** @type {any} */ each) => [each.area, each]));
    return (this.#marking.paints ?? []).map((/** @type {string} */ area) => colours.get(area)).filter(Boolean);
  }

  #others() {
    return this.#job.markings.filter((/** @type {any} */ each) => each !== this.#marking && each.model === this.#marking.model);
  }

  /**
   * Returns the markings that have a value in common.
   * @param {string} name
   */
  #sharers(name) {
    const { attributes, areas } = this.#places;
    if (name in attributes.available) return this.#job.markings;
    return name in attributes.model || name in areas ? [this.#marking, ...this.#others()] : [this.#marking];
  }

  /**
   * @param {"marking" | "model" | "available"} part
   * @param {boolean} [isNeeded] whether to make it
   */
  #part(part, isNeeded = false) {
    if (part === "marking") return this.#marking;
    if (part === "available") return isNeeded ? (this.#job.available ??= {}) : this.#job.available;
    const found = this.#job.models?.find((/** @type {any} */ each) => each.id === this.#marking.model);
    if (found || !isNeeded) return found;
    const model = newModel(this.#places, this.#job);
    this.#marking.model = model.id;
    return model;
  }
}

/**
 * Adds a model to a job, and returns it.
 * @param {Places} places
 * @param {any} job
 */
export function newModel(places, job) {
  const models = (job.models ??= []);
  const name = numbered(places.first.model.replace(/ \d+$/, ""), new Set(models.map((/** @type {any} */ each) => each.name)), 1);
  const model = { id: newId(name, models), name };
  models.push(model);
  return model;
}

/**
 * Forgets what was typed for attributes that have changed since: the attribute counts. A width that was worked out of
 * the typed one, without the margins, leaves that.
 * @param {Places} places
 * @param {any} before
 * @param {any} after
 */
export function forgetTyped(places, before, after) {
  const { attributes, areas, widths } = places;
  /** @param {any} job @param {any} marking */
  const model = (job, marking) => job.models?.find((/** @type {any} */ each) => each.id === marking.model);
  /** @param {any} job @param {any} marking */
  const facts = (job, marking) => {
    const parts = /** @type {const} */ ([["marking", marking], ["model", model(job, marking)], ["available", job.available]]);
    const found = new Map(parts.flatMap(([part, holder]) => Object.entries(attributes[part]).map(([name, attribute]) => [name, holder?.[attribute] ?? ""])));
    const paints = JSON.stringify([marking.paints ?? [], model(job, marking)?.paints ?? []]);
    for (const name of Object.keys(areas)) found.set(name, paints);
    const width = JSON.stringify([marking.width ?? "", marking.size ?? widths.size]);
    for (const { name } of [{ name: widths.choice }, ...Object.values(widths.of)]) found.set(name, width);
    return found;
  };
  const [whole, own] = Object.values(widths.of);
  const earlier = new Map((before.markings ?? []).map((/** @type {any} */ each) => [each.id, each]));
  for (const marking of after.markings ?? []) {
    const was = earlier.get(marking.id);
    if (!was || !marking.values) continue;
    const isConverted = was.width_of === whole.as && (marking.width_of ?? own.as) === own.as;
    const [then, now] = [facts(before, was), facts(after, marking)];
    for (const [name, fact] of now) {
      const isWidth = name === widths.choice || name === whole.name || name === own.name;
      if (fact !== then.get(name) && !(isWidth && isConverted)) delete marking.values[name];
    }
  }
}

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
 */
export function numbered(name, taken, first) {
  if (first === undefined && !taken.has(name)) return name;
  let number = first ?? 2;
  while (taken.has(`${name} ${number}`)) number += 1;
  return `${name} ${number}`;
}

/**
 * Returns an id made of a name, as new_id of calculators/jobs/model.py does.
 * @param {string} name
 * @param {{id: string}[]} others
 */
export function newId(name, others) {
  const letters = name.toLowerCase().normalize("NFKD").replace(/\p{M}/gu, "");
  const base = letters.replace(/[^a-z0-9]+/g, "-").slice(0, 33).replace(/^-/, "").slice(0, 32).replace(/-$/, "") || "marking";
  const taken = new Set(others.map(({ id }) => id));
  let id = base;
  for (let number = 2; taken.has(id); number += 1) id = `${base}-${number}`;
  return id;
}

/**
 * Returns the name under which a file is shared.
 * @param {string} name the name that its field shares
 * @param {string | undefined} outlines the name to use instead if it holds outlines
 * @param {{media: string, name: string} | undefined} file
 * @returns {string}
 */
export const nameOf = (name, outlines, file) => (outlines && file && /svg/.test(`${file.media}${file.name}`) ? outlines : name);

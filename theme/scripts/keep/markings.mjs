/** Changes of the markings in a job, which is plain JSON: act in Store.change. calculators/jobs/partners.py adds partners for the command line. */

import { byId, holderOf, nameAfter, newId, newModel, numbered } from "./places.mjs";

export { byId, holderOf };

/** @typedef {import("./places.mjs").Places} Places */

/** What a new marking takes over from the one before it: what it lies on and is made of, not what it shows. */
const TAKEN_OVER = ["model", "paints", "film", "printer", "white"];

/**
 * Returns a marking with everything that it takes over from the one that it follows.
 * @param {Places} places
 * @param {any} job
 * @param {any} marking
 */
export function asUsed(places, job, marking) {
  const twin = holderOf(job, marking);
  if (twin === marking) return marking;
  const own = Object.fromEntries(places.own.filter((name) => name in marking).map((name) => [name, marking[name]]));
  return { ...without(uncounted(twin), places.own), ...own };
}

/**
 * Returns a marking of whose series nothing has been done yet.
 * @param {any} marking
 */
function uncounted(marking) {
  return marking.rows ? { ...marking, rows: marking.rows.map((/** @type {any} */ row) => without(row, ["bench"])) } : marking;
}

/** @param {Record<string, any>} of @param {string[]} names */
const without = (of, names) => Object.fromEntries(Object.entries(of).filter(([name]) => !names.includes(name)));

/**
 * Adds a marking after that with the id `after`, or as the last. Returns it.
 * @param {Places} places
 * @param {any} job
 * @param {string | null} [after]
 * @param {any} [parts] of the marking, such as its name
 */
export function addMarking(places, job, after = null, parts = {}) {
  const markings = (job.markings ??= []);
  if (markings.length >= places.most) throw new RangeError("too many markings");
  const before = byId(job, after);
  const name = parts.name ?? nameAfter(places.first.name, markings, markings.length + 1);
  const like = asUsed(places, job, before ?? {});
  const taken = Object.fromEntries(TAKEN_OVER.filter((each) => like[each]).map((each) => [each, structuredClone(like[each])]));
  const model = taken.model ?? (job.models?.[0] ?? newModel(places, job)).id;
  const marking = { model, ...taken, ...parts, name, id: newId(name, markings) };
  markings.splice(before ? markings.indexOf(before) + 1 : markings.length, 0, marking);
  return marking;
}

/**
 * Adds a copy of a marking after it, which nothing has been made of yet. Returns it.
 * @param {Places} places
 * @param {any} job
 * @param {string} id
 */
export function duplicate(places, job, id) {
  const marking = byId(job, id);
  const copy = without(structuredClone(uncounted(asUsed(places, job, marking))), ["id", "partner", "bench"]);
  copy.name = numbered(marking.name, new Set(job.markings.map((/** @type {any} */ each) => each.name)));
  return addMarking(places, job, id, copy);
}

/**
 * Adds a partner of a marking, which follows it. Returns it. A partner of a partner is one of the same twin.
 * @param {Places} places
 * @param {any} job
 * @param {string} id
 * @param {string} how
 * @param {string} name
 */
export function addPartner(places, job, id, how, name) {
  const of = byId(job, id).partner?.of ?? id;
  const markings = job.markings;
  if (markings.length >= places.most) throw new RangeError("too many markings");
  const marking = { id: newId(name, markings), name, partner: { of, how } };
  markings.splice(markings.indexOf(byId(job, of)) + 1, 0, marking);
  return marking;
}

/**
 * Makes a partner independent: it keeps what it has taken over.
 * @param {Places} places
 * @param {any} job
 * @param {string} id
 */
export function separate(places, job, id) {
  const at = job.markings.findIndex((/** @type {any} */ each) => each.id === id);
  const alone = structuredClone(asUsed(places, job, job.markings[at]));
  job.markings[at] = { ...alone, partner: { ...alone.partner, follows: false } };
}

/**
 * Removes a marking; its partners keep what they have taken over.
 * @param {Places} places
 * @param {any} job
 * @param {string} id
 */
export function removeMarking(places, job, id) {
  job.markings = job.markings.flatMap((/** @type {any} */ each) => {
    if (each.id === id) return [];
    return each.partner?.of === id ? [without(structuredClone(asUsed(places, job, each)), ["partner"])] : [each];
  });
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

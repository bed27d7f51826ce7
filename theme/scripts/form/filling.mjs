/** Fills other fields from a picture, for example with its size in pixels. */

import { filledBy } from "./asking.mjs";
import { controlOf, markFilled, unmarkFilled, writeText } from "./fields.mjs";

/**
 * Writes the values that come from the picture at an address.
 * @param {HTMLElement} form
 * @param {string} address
 * @param {Record<string, string>} fills texts by the name of the field
 * @param {"mm" | "in"} unit the unit that the form shows
 */
export function writeFills(form, address, fills, unit) {
  for (const [name, target] of filledBy(form, address).fields) {
    if (target && name in fills) writeText(target, fills[name], unit);
  }
}

/**
 * Marks, in these `words`, each field that still has the value that the picture filled in; unmarks the others.
 * @param {HTMLElement} form
 * @param {string} address
 * @param {Record<string, string>} fills
 * @param {string} [words]
 */
export function markFills(form, address, fills, words) {
  for (const [name, target] of filledBy(form, address).fields) {
    if (!target) continue;
    if (fills[name] !== undefined && controlOf(target).value === fills[name]) markFilled(target, words);
    else unmarkFilled(target);
  }
}

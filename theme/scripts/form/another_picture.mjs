/** Asks again for values that belonged to the previous picture. */

import { fieldsOf, labelOf, readInputs, writeText } from "./fields.mjs";

/**
 * Returns an identifier of the picture that a file shows. Traced outlines have that of their source picture.
 * @param {{of?: string, hash?: string | null, name: string, size: number} | undefined} file
 */
export const sourceOf = (file) => file && (file.of ?? file.hash ?? `${file.name} ${file.size}`);

/**
 * Empties the fields whose values belong to the picture in a field.
 * @param {HTMLElement} form
 * @param {string} picture the name of its field
 * @param {"mm" | "in"} unit the unit that the form shows
 * @param {boolean} keepsShared whether values stay that other calculators share, such as the marking's width
 * @returns {{labels: string[], undo: () => void}} the labels of the visible ones, and a function that restores the values
 */
export function askAgain(form, picture, unit, keepsShared) {
  const typed = readInputs(form, unit);
  const emptied = [...fieldsOf(form)].filter(
    ([name, { dataset }]) => dataset.belongsTo === picture && typed[name] && !(keepsShared && dataset.shares),
  );
  for (const [, field] of emptied) {
    writeText(field, "", unit);
    field.toggleAttribute("data-unfilled", !("optional" in field.dataset));
  }
  const undo = () => emptied.forEach(([name, field]) => writeText(field, String(typed[name]), unit));
  return { labels: emptied.filter(([, field]) => !field.hidden).map(([, field]) => labelOf(field)), undo };
}

/** Lists of rows with fields. */

import { rowsOf, setRowCount } from "../rows.mjs";

/** @type {import("../kinds.mjs").FieldKind} */
export const field = { holdsFields: true, read, write, restate, empty };

/** @param {HTMLElement} field */
const delivered = ({ dataset }) => JSON.parse(dataset.default);

/**
 * @param {HTMLElement} field
 * @param {(row: Element) => object} inner
 */
function read(field, inner) {
  return rowsOf(field).map(inner);
}

/**
 * @param {HTMLElement} field
 * @param {any} value
 * @param {(row: Element, inputs: any) => string[]} inner
 */
function write(field, value, inner) {
  const list = Array.isArray(value) ? value : delivered(field);
  setRowCount(field, list.length);
  const unknown = rowsOf(field).flatMap((row, place) =>
    inner(row, list[place]).map((name) => `${field.dataset.field}[${place}].${name}`),
  );
  if (Array.isArray(value)) return unknown;
  return typeof value === "string" ? [field.dataset.field.split(".").at(-1)] : [];
}

/**
 * @param {HTMLElement} field
 * @param {any} asked
 * @param {any} restated
 * @param {Function} inner
 */
function restate(field, asked, restated, inner) {
  for (const [place, row] of rowsOf(field).entries()) {
    if (asked?.[place] && restated?.[place]) inner(row, asked[place], restated[place]);
  }
}

/**
 * @param {HTMLElement} field
 * @param {(row: Element) => void} inner
 */
function empty(field, inner) {
  setRowCount(field, delivered(field).length);
  rowsOf(field).forEach((row) => inner(row));
}

/** Lists of rows with fields. */

import { rowsOf, setRowCount } from "../rows.mjs";

export const field = { holdsFields: true, read, write, restate, empty };

const delivered = ({ dataset }) => JSON.parse(dataset.default);

function read(field, inner) {
  return rowsOf(field).map(inner);
}

function write(field, value, inner) {
  const list = Array.isArray(value) ? value : delivered(field);
  setRowCount(field, list.length);
  const unknown = rowsOf(field).flatMap((row, place) =>
    inner(row, list[place]).map((name) => `${field.dataset.field}[${place}].${name}`),
  );
  if (Array.isArray(value)) return unknown;
  return typeof value === "string" ? [field.dataset.field.split(".").at(-1)] : [];
}

function restate(field, asked, restated, inner) {
  for (const [place, row] of rowsOf(field).entries()) {
    if (asked?.[place] && restated?.[place]) inner(row, asked[place], restated[place]);
  }
}

function empty(field, inner) {
  setRowCount(field, delivered(field).length);
  rowsOf(field).forEach((row) => inner(row));
}

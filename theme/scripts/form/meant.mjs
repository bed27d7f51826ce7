/**
 * What the texts in a form mean. Python reads what is typed, and its reply tells what it read; the page itself knows
 * only what it writes. A meaning belongs to a text: once the field holds another, it is not known until the next reply.
 */

import { controlOf, fieldsOf, isFile, readInputs } from "./fields.mjs";
import { fieldKind } from "./kinds.mjs";
import { rowsOf } from "./rows.mjs";

/** Per control: {text, value} as the last reply had it, and as the page last wrote it. */
const read = new WeakMap();
const written = new WeakMap();

/**
 * Returns what the text in a field means; undefined where that is not known, or not yet.
 * @param {HTMLElement} field
 * @returns {number | string | boolean | Array | null | undefined}
 */
export function meantBy(field) {
  const control = controlOf(field);
  return [written, read].map((each) => each.get(control)).find((each) => each?.text === control.value)?.value;
}

/**
 * Writes a text of which the page knows what it means.
 * @param {HTMLElement} field
 * @param {string} text
 * @param {number | string | Array} value
 */
export function write(field, text, value) {
  const control = controlOf(field);
  control.value = text;
  written.set(control, { text, value });
}

/**
 * Takes what a reply says was read, where the same text still stands. The form then says "read".
 * @param {HTMLFormElement} form
 * @param {Record<string, object>} parsed values by field name
 * @param {{inputs: object, aside: object}} question the texts that were sent
 * @param {"mm" | "in"} unit the unit that the fields showed when it was asked
 */
export function takeMeant(form, parsed, { inputs, aside }, unit) {
  takeWithin(form, parsed, { ...aside, ...inputs }, readInputs(form, unit));
  form.dispatchEvent(new Event("read"));
}

function takeWithin(container, parsed, asked, now) {
  for (const [name, field] of fieldsOf(container)) {
    const value = parsed[name];
    if (value === undefined || isFile(field)) continue;
    if (fieldKind(field).holdsFields) {
      const rows = rowsOf(field);
      for (const [place, row] of rows.entries()) {
        if (value[place] && asked[name]?.[place]) takeWithin(row, value[place], asked[name][place], now[name][place]);
      }
    } else if (asked[name] !== undefined && asked[name] === now[name]) {
      const control = controlOf(field);
      read.set(control, { text: control.value, value });
      fieldKind(field).takeRead?.(field, value);
    }
  }
}

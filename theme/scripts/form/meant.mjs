/**
 * The values that the texts in a form stand for. Python parses typed texts and replies with the values; the page itself
 * only knows the values of texts that it wrote. When a text changes, its value is unknown until the next reply.
 */

import { controlOf, fieldsOf, isFile, readInputs } from "./fields.mjs";
import { fieldKind } from "./kinds.mjs";
import { rowsOf } from "./rows.mjs";

/** Per control: {text, value} from the last reply, and as last written by the page. */
const read = new WeakMap();
const written = new WeakMap();

/**
 * Returns the value of the text in a field, or undefined if it is invalid or not read yet.
 * @param {HTMLElement} field
 * @returns {number | string | boolean | any[] | null | undefined}
 */
export function meantBy(field) {
  const control = controlOf(field);
  return [written, read].map((each) => each.get(control)).find((each) => each?.text === control.value)?.value;
}

/**
 * Writes a text whose value is known.
 * @param {HTMLElement} field
 * @param {string} text
 * @param {number | string | any[]} value
 */
export function write(field, text, value) {
  const control = controlOf(field);
  control.value = text;
  written.set(control, { text, value });
}

/**
 * Records the values in a reply, for fields whose text is still the same. The form then dispatches "read".
 * @param {HTMLFormElement} form
 * @param {Record<string, object>} parsed values by field name
 * @param {{inputs: object, aside: object}} question the texts that were sent
 * @param {"mm" | "in"} unit the display unit of the question
 */
export function takeMeant(form, parsed, { inputs, aside }, unit) {
  takeWithin(form, parsed, { ...aside, ...inputs }, readInputs(form, unit));
  form.dispatchEvent(new Event("read"));
}

/**
 * @param {Element} container
 * @param {Record<string, any>} parsed
 * @param {Record<string, any>} asked
 * @param {Record<string, any>} now
 */
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

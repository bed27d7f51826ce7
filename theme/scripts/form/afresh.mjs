/**
 * A form that was emptied, to be filled from the start: what is still to be filled is no problem until the reader
 * has been there.
 */

import { controlOf, everyField, fieldsOf, labelOf, writeDefault, writeText } from "./fields.mjs";
import { fieldKind } from "./kinds.mjs";

/**
 * Empties the fields of a form or row but for its files; rows stay as many as are delivered.
 * @param {Element} container
 * @param {"mm" | "in"} unit the unit that the fields show
 */
export function emptyFields(container, unit) {
  for (const field of fieldsOf(container).values()) {
    const kind = fieldKind(field);
    if (kind.holdsFile) continue;
    if (kind.empty) kind.empty(field, (row) => emptyFields(row, unit));
    else if (kind.alwaysFilled) writeDefault(field, unit);
    else {
      writeText(field, "", unit);
      field.toggleAttribute("data-unfilled", true);
    }
  }
}

/**
 * Marks the empty fields of a form that was filled with what is kept: nobody has been in them since.
 * @param {HTMLElement} form
 * @param {(field: Element) => boolean} leave fields that the reader has in hand already
 */
export function awaitFilling(form, leave) {
  for (const field of everyField(form).values()) {
    const control = controlOf(field);
    if (!control || "optional" in field.dataset || fieldKind(field).alwaysFilled || leave(field)) continue;
    field.toggleAttribute("data-unfilled", !control.value.trim());
  }
}

/**
 * Tells that the reader has been in a field, or in all of a form: its problems are shown from now on.
 * @param {Element} container
 */
export function begun(container) {
  for (const each of [container, ...container.querySelectorAll("[data-unfilled]")]) each.removeAttribute("data-unfilled");
}

/**
 * Parts problems into those to be shown, and the labels of the fields that are only still to be filled.
 * @param {HTMLElement} form
 * @param {{field: string, text: string, hint?: string}[]} problems
 */
export function unfilledAmong(form, problems) {
  const fields = everyField(form);
  const waits = ({ field }) => fields.get(field)?.hasAttribute("data-unfilled");
  const labels = problems.filter(waits).map(({ field }) => labelOf(fields.get(field)));
  return { shown: problems.filter((problem) => !waits(problem)), labels: [...new Set(labels)] };
}

/**
 * A form that the reader emptied to fill it in from the start: an empty field is not a problem until the reader has
 * been in it.
 */

import { controlOf, everyField, fieldsOf, labelOf, writeDefault, writeText } from "./fields.mjs";
import { fieldKind } from "./kinds.mjs";

/**
 * Empties the fields of a form or row, except files. Lists return to their default number of rows.
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
 * Marks the empty fields of a form that was filled from stored values, since the reader has not been in them yet.
 * @param {HTMLElement} form
 * @param {Leave} leave whether the reader is already editing a field
 */
export function awaitFilling(form, leave) {
  for (const field of everyField(form).values()) {
    const control = controlOf(field);
    if (!control || "optional" in field.dataset || fieldKind(field).alwaysFilled || leave(field)) continue;
    field.toggleAttribute("data-unfilled", !control.value.trim());
  }
}

/**
 * Records that the reader has been in a field, or in all fields of a form, so that its problems are shown from now on.
 * @param {Element} container
 */
export function begun(container) {
  for (const each of [container, ...container.querySelectorAll("[data-unfilled]")]) each.removeAttribute("data-unfilled");
}

/**
 * Splits problems into those to show, and the labels of fields that are merely not filled in yet.
 * @param {HTMLElement} form
 * @param {{field: string, text: string, hint?: string}[]} problems
 */
export function unfilledAmong(form, problems) {
  const fields = everyField(form);
  /** @param {{field: string}} problem */
  const isUnfilled = ({ field }) => fields.get(field)?.hasAttribute("data-unfilled");
  const labels = problems.filter(isUnfilled).map(({ field }) => labelOf(fields.get(field)));
  return { visible: problems.filter((problem) => !isUnfilled(problem)), labels: [...new Set(labels)] };
}

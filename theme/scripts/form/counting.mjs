/**
 * Fields that apply only for some values of a field before them that applies itself. While one does not apply, it is
 * hidden and not sent, but keeps its text.
 */

import { controlOf, everyField, fieldsOf } from "./fields.mjs";

/**
 * Shows the fields that apply and hides the others.
 * @param {HTMLElement} form
 */
export function showApplying(form) {
  for (const field of everyField(form).values()) {
    if ("onlyWhen" in field.dataset) field.hidden = !applies(field);
  }
}

/** @param {HTMLElement} field */
function applies(field) {
  const { onlyWhen, onlyValue } = field.dataset;
  const before = fieldsOf(field.parentElement.closest(".dw-row, .dw-form")).get(onlyWhen);
  if (before.hidden) return false;
  /** @type {any} */
  const other = controlOf(before);
  const text = other.type === "checkbox" ? (other.checked ? "yes" : "no") : other.value.trim();
  return onlyValue === undefined ? text !== "" : onlyValue.split(" ").includes(text);
}

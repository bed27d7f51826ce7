/**
 * Fields that count only with what another one holds. Where they do not count they are hidden and not
 * asked about; what is typed in them is kept.
 */

import { controlOf, everyField, fieldsOf } from "./fields.mjs";

/**
 * Shows the fields that count and hides the others.
 * @param {HTMLElement} form
 */
export function showCounting(form) {
  for (const field of everyField(form).values()) {
    if ("onlyWhen" in field.dataset) field.hidden = !counts(field);
  }
}

function counts(field) {
  const { onlyWhen, onlyValue } = field.dataset;
  /** @type {any} */
  const other = controlOf(fieldsOf(field.parentElement.closest(".dw-row, .dw-form")).get(onlyWhen));
  const text = other.type === "checkbox" ? (other.checked ? "yes" : "no") : other.value.trim();
  return onlyValue === undefined ? text !== "" : text === onlyValue;
}

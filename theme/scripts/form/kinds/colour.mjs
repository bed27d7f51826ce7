/** Colours: a field has a picker beside its text, a result a swatch. */

import { partOf } from "../kinds.mjs";
import { hexColour } from "../texts.mjs";

/** @type {import("../kinds.mjs").FieldKind} */
export const field = { match, takeRead };

/**
 * Synchronises picker and text. For a name, the picker follows once Python has read it: see takeRead.
 * @param {HTMLElement} field
 * @param {EventTarget} changed
 */
function match(field, changed) {
  const picker = pickerOf(field);
  const typed = field.querySelector(".dw-typed");
  if (changed === picker) typed.value = picker.value;
  else picker.value = hexColour(typed.value) ?? picker.value;
}

/**
 * Shows the colour that Python read.
 * @param {HTMLElement} field
 * @param {any} value
 */
function takeRead(field, value) {
  pickerOf(field).value = value;
}

/** @param {Element} field */
const pickerOf = (field) => field.querySelector("input[type=color]");

/** @type {import("../kinds.mjs").ResultKind} */
export const result = {
  rendererFor: (slot) => ({
    show({ shown }) {
      partOf(slot, "shown").textContent = shown;
      paint(slot, shown);
    },
  }),
  fillCell(cell, value) {
    cell.querySelector(".dw-shown").textContent = value?.shown ?? "";
    paint(cell, value?.shown);
  },
};

/**
 * @param {Element} place
 * @param {string | null | undefined} colour
 */
const paint = (place, colour) => place.querySelector(".dw-swatch").firstElementChild.setAttribute("fill", colour ?? "none");

/** Colours: a picker beside the text of one that is asked, a swatch beside one that is answered. */

import { partOf } from "../kinds.mjs";
import { hexColour } from "../texts.mjs";

export const field = { match, takeRead };

/** Keeps a colour's picker and its text alike. A name is followed once it has been read: see takeRead. */
function match(field, changed) {
  const picker = pickerOf(field);
  const typed = field.querySelector(".dw-typed");
  if (changed === picker) typed.value = picker.value;
  else picker.value = hexColour(typed.value) ?? picker.value;
}

/** Shows the colour that Python read. */
function takeRead(field, value) {
  pickerOf(field).value = value;
}

const pickerOf = (field) => field.querySelector("input[type=color]");

export const result = {
  shownIn: (slot) => ({
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

const paint = (place, colour) => place.querySelector(".dw-swatch").firstElementChild.setAttribute("fill", colour ?? "none");

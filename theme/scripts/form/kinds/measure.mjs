/** Numbers as results. */

/** @type {import("../kinds.mjs").ResultKind} */
export const result = {
  fillCell(cell, value) {
    cell.querySelector(".dw-shown").textContent = value?.shown ?? "";
    cell.querySelector(".dw-unit").textContent = value?.shown ? (value.unit ?? "") : "";
  },
};

/** Numbers as results. */

export const result = {
  fillCell(cell, value) {
    cell.querySelector(".dw-shown").textContent = value?.shown ?? "";
    cell.querySelector(".dw-unit").textContent = value?.shown ? (value.unit ?? "") : "";
  },
};

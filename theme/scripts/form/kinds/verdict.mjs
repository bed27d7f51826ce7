/** Verdicts with their reasons. */

import { partOf } from "../kinds.mjs";

/** @type {import("../kinds.mjs").ResultKind} */
export const result = {
  rendererFor: (slot) => ({
    show({ level, title, brief, more }) {
      slot.dataset.level = level;
      partOf(slot, "title").textContent = title;
      partOf(slot, "brief").textContent = brief.join(" ");
      partOf(slot, "more").replaceChildren(...more.map(paragraph));
      slot.querySelector("details").hidden = !more.length;
    },
  }),
  fillCell(cell, value) {
    cell.querySelector(".dw-shown").textContent = value?.shown ?? "";
    if (value?.level) cell.dataset.level = value.level;
  },
};

/** @param {string} text */
const paragraph = (text) => Object.assign(document.createElement("p"), { textContent: text });

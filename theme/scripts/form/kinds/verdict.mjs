/** Judgements, and the reasons for them. */

import { partOf } from "../kinds.mjs";

export const result = {
  shownIn: (slot) => ({
    show({ level, title, reasons }) {
      slot.dataset.level = level;
      partOf(slot, "title").textContent = title;
      partOf(slot, "reasons").replaceChildren(...reasons.map(paragraph));
    },
  }),
  fillCell(cell, value) {
    cell.querySelector(".dw-shown").textContent = value?.shown ?? "";
    if (value?.level) cell.dataset.level = value.level;
  },
};

const paragraph = (text) => Object.assign(document.createElement("p"), { textContent: text });

/** Tables, and lists of cards. */

import { resultKind } from "../kinds.mjs";

/** @type {import("../kinds.mjs").ResultKind} */
export const result = {
  rendererFor(table) {
    const blank = table.querySelector("template").content.firstElementChild;
    return {
      isEmpty: ({ rows }) => !rows.length,
      show: ({ rows }) => table.querySelector("tbody, ol").replaceChildren(...rows.map((/** @type {Record<string, any>} */ row) => filled(blank, row))),
      hide(hidden) {
        table.hidden = hidden;
        const frame = table.closest(".dw-table-frame");
        if (frame) frame.hidden = hidden;
      },
    };
  },
};

/**
 * @param {Element} blank
 * @param {Record<string, any>} row
 */
function filled(blank, row) {
  const element = document.importNode(blank, true);
  for (const cell of element.querySelectorAll("[data-part]")) {
    const value = row[cell.dataset.part];
    resultKind(cell.dataset.kind).fillCell(cell, value);
    if (cell.matches("dl > *")) cell.hidden = !value?.shown;
  }
  return element;
}

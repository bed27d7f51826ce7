/** Links to pages of the site. */

import { partOf } from "../kinds.mjs";

/** @type {import("../kinds.mjs").ResultKind} */
export const result = {
  rendererFor: (slot) => ({ show: (part) => partOf(slot, "shown").replaceChildren(linkTo(part)) }),
  fillCell: (cell, value) => cell.querySelector(".dw-shown").replaceChildren(value?.href ? linkTo(value) : ""),
};

/** @param {{href: string, shown: string}} part */
const linkTo = ({ href, shown }) => Object.assign(document.createElement("a"), { href, textContent: shown });

/** Links to pages of the site. */

import { partOf } from "../kinds.mjs";

export const result = {
  rendererFor: (slot) => ({ show: (part) => partOf(slot, "shown").replaceChildren(linkTo(part)) }),
  fillCell: (cell, value) => cell.querySelector(".dw-shown").replaceChildren(value?.href ? linkTo(value) : ""),
};

const linkTo = ({ href, shown }) => Object.assign(document.createElement("a"), { href, textContent: shown });

/** Pages, or parts of them. */

import { partOf } from "../kinds.mjs";

export const result = {
  shownIn: (slot) => ({ show: ({ html }) => partOf(slot, "html").replaceChildren(...pageOf(html)) }),
};

/** Returns the nodes of a page that Python made. No script in it would run: it is parsed apart. */
function pageOf(html) {
  const parsed = new DOMParser().parseFromString(html, "text/html");
  return [...parsed.body.childNodes].map((node) => document.importNode(node, true));
}

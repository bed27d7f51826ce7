/** Pages or parts of pages. */

import { partOf } from "../kinds.mjs";

/** @type {import("../kinds.mjs").ResultKind} */
export const result = {
  rendererFor: (slot) => ({ show: ({ html }) => partOf(slot, "html").replaceChildren(...pageOf(html)) }),
};

/**
 * Parses a page that Python wrote. It becomes a separate document, in which scripts do not run.
 * @param {string} html
 */
function pageOf(html) {
  const parsed = new DOMParser().parseFromString(html, "text/html");
  return [...parsed.body.childNodes].map((node) => document.importNode(node, true));
}

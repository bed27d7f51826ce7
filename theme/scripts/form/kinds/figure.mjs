/** Drawings. */

import { partOf } from "../kinds.mjs";

/** @type {import("../kinds.mjs").ResultKind} */
export const result = {
  rendererFor: (slot) => ({
    show({ svg, alt }) {
      partOf(slot, "svg").replaceChildren(drawing(svg));
      partOf(slot, "alt").textContent = alt;
    },
  }),
};

/**
 * Parses a drawing. Its caption has the words, so it is hidden from screen readers.
 * @param {string} svg
 * @returns {Element}
 */
function drawing(svg) {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml");
  if (parsed.querySelector("parsererror")) throw new Error("a drawing is not well-formed");
  const root = document.importNode(parsed.documentElement, true);
  root.setAttribute("aria-hidden", "true");
  return root;
}

/** Drawings. */

import { partOf } from "../kinds.mjs";

export const result = {
  shownIn: (slot) => ({
    show({ svg, alt }) {
      partOf(slot, "svg").replaceChildren(drawing(svg));
      partOf(slot, "alt").textContent = alt;
    },
  }),
};

/**
 * Returns the element of a drawing. Its words stand in the caption, so it is silent itself.
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

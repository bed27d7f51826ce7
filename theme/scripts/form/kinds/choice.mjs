/** A choice of one among several. */

/** @type {import("../kinds.mjs").FieldKind} */
export const field = { alwaysFilled: true, match };

/**
 * Shows the chosen option in full below the list, since a closed list may cut it off.
 * @param {HTMLElement} field
 */
function match(field) {
  const { options, selectedIndex } = field.querySelector("select");
  field.querySelector(".dw-chosen").textContent = options[selectedIndex]?.textContent ?? "";
}

/** One of a few. */

export const field = { alwaysFilled: true, match };

/** Shows what is chosen in full: a list that is closed would cut it off. */
function match(field) {
  const { options, selectedIndex } = field.querySelector("select");
  field.querySelector(".dw-chosen").textContent = options[selectedIndex]?.textContent ?? "";
}

/** Yes or no: a box to tick. */

/** @type {import("../kinds.mjs").FieldKind} */
export const field = {
  alwaysFilled: true,
  textOf: ({ checked }) => (checked ? "yes" : "no"),
  put: (control, text) => (control.checked = text === "yes"),
};

/** Pictures. To the form they are files. */

/** @type {import("../kinds.mjs").FieldKind} */
export const field = { holdsFile: true, ask: "choose_picture" };

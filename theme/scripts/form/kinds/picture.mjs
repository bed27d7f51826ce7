/** Pictures: files, as far as the form is concerned. */

export const field = { holdsFile: true, ask: "choose_picture" };

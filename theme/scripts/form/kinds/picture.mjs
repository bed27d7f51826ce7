/** Pictures. To the form they are files. */

export const field = { holdsFile: true, ask: "choose_picture" };

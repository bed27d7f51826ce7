/** Several views of a picture on two paints. */

import { Scenes } from "../../picture/border.mjs";

/** @type {import("../kinds.mjs").ResultKind} */
export const result = { rendererFor: (card, { form, say, signal }) => new Scenes(card, form, say, signal) };

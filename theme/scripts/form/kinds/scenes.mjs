/** Several views of a picture on two paints. */

import { Scenes } from "../../picture/border.mjs";

export const result = { rendererFor: (card, { form, say, signal }) => new Scenes(card, form, say, signal) };

/** A picture over two paints, seen in several ways. */

import { Scenes } from "../../picture/border.mjs";

export const result = { shownIn: (card, { form, say, signal }) => new Scenes(card, form, say, signal) };

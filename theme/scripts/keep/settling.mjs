/** What was typed decides the attributes of a job once Python has read it. Loaded when something was typed. */

import { numbered, Values } from "./places.mjs";

/** The values of one marking, which decide its attributes. */
export class Settling extends Values {
  /**
   * Takes over into the attributes what Python has read, and empties those whose text it could not read.
   * @param {Record<string, {text: string, isRead: boolean}>} typed by name
   */
  settle(typed) {
    for (const [name, { text, isRead }] of Object.entries(typed)) {
      if (this.marking.values?.[name]?.text === text) this.#decide(name, isRead ? text : "");
    }
  }

  /**
   * @param {string} name
   * @param {string} text "": undecided
   */
  #decide(name, text) {
    const { attributes, areas, widths } = this.places;
    for (const part of /** @type {const} */ (["marking", "model", "available"])) {
      if (!(name in attributes[part])) continue;
      const holder = this.part(part, Boolean(text));
      if (text) holder[attributes[part][name]] = text;
      else if (holder) delete holder[attributes[part][name]];
    }
    if (name in areas && text) this.#paint(Object.keys(areas).indexOf(name), areas[name], text);
    if (name === widths.choice || Object.values(widths.of).some((each) => each.name === name)) this.#decideWidth(name, text);
  }

  /**
   * The width that the reader gives decides that of the marking; the other one, if it is given too, stays among the values.
   * @param {string} name of the value that was read, or that could not be read
   * @param {string} text
   */
  #decideWidth(name, text) {
    const { widths } = this.places;
    const values = this.marking.values ?? {};
    const [whole, own] = Object.values(widths.of);
    const chosen = widths.of[values[widths.choice]?.text] ?? whole;
    const used = [chosen, own, whole].find((each) => values[each.name]?.text) ?? chosen;
    if (name !== widths.choice && name !== used.name) return;
    const width = name === used.name ? text : values[used.name]?.text;
    if (width) Object.assign(this.marking, { width, width_of: used.as, size: widths.size });
    else for (const attribute of ["width", "width_of"]) delete this.marking[attribute];
  }

  /**
   * Sets the colour of the first or second paint that the marking lies on.
   * @param {number} place
   * @param {string} usual the name of the area, if it has none yet
   * @param {string} colour
   */
  #paint(place, usual, colour) {
    const model = this.part("model", true);
    const lies = (this.marking.paints ??= []);
    const paints = (model.paints ??= []);
    // On one paint only, both fields hold it.
    if (place >= lies.length && lies.length && this.paints()[0]?.colour === colour) return;
    const at = Math.min(place, lies.length);
    const there = paints.find((/** @type {any} */ each) => each.area === lies[at]);
    if (there?.colour === colour) return;
    const same = paints.find((/** @type {any} */ each) => each.colour === colour && !lies.includes(each.area));
    if (same) lies[at] = same.area;
    else if (there && !this.others().some((/** @type {any} */ each) => each.paints?.includes(there.area))) there.colour = colour;
    else {
      // Another marking lies on that paint too: what is typed here does not change it there.
      const areas = new Set(paints.map((/** @type {any} */ each) => each.area));
      const area = numbered(usual, areas);
      paints.push({ area, colour });
      lies[at] = area;
    }
  }
}

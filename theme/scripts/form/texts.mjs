/**
 * Texts that the page writes into fields itself, each with what it means, and the one grammar that it reads by itself.
 * Python reads these texts as well: the cases in tests/typed/ hold both sides to the same.
 */

const DECIMALS = 1;

/**
 * Returns a number as it is written for a border: {text, value}.
 * @param {number} number
 */
export function numberText(number) {
  const value = Math.round(number * 10) / 10;
  return { text: String(value), value };
}

/**
 * Returns a point as it is written: {text, value}.
 * @param {[number, number]} point
 */
export function pointText(point) {
  const parts = point.map((each) => each.toFixed(DECIMALS));
  return { text: parts.join(", "), value: parts.map(Number) };
}

/**
 * Returns marks as they are written.
 * @param {Iterable<[number | string, string]>} marks area or group, and meaning
 */
export function marksText(marks) {
  return [...marks].map((each) => each.join(" ")).join(", ");
}

/**
 * Returns the colour that digits stand for, so that a picker follows them before any answer; null for a text that is
 * no such digits. Names are read in Python only.
 * @param {string} text
 * @returns {string | null} #rrggbb
 */
export function hexColour(text) {
  const [, digits] = /^#?([0-9a-f]{3}|[0-9a-f]{6})$/i.exec(text.trim()) ?? [];
  if (!digits) return null;
  return `#${(digits.length === 3 ? digits.replace(/./g, "$&$&") : digits).toLowerCase()}`;
}

/**
 * Texts that the page writes into fields, with their values, and the one grammar that it parses itself. Python parses
 * them too: the cases in tests/typed/ test that both agree.
 */

const DECIMALS = 1;

/**
 * Formats a number for a border: {text, value}.
 * @param {number} number
 */
export function numberText(number) {
  const value = Math.round(number * 10) / 10;
  return { text: String(value), value };
}

/**
 * Formats a point: {text, value}.
 * @param {[number, number]} point
 */
export function pointText(point) {
  const parts = point.map((each) => each.toFixed(DECIMALS));
  return { text: parts.join(", "), value: parts.map(Number) };
}

/**
 * Formats marks.
 * @param {Iterable<[number | string, string]>} marks area or group, and meaning
 */
export function marksText(marks) {
  return [...marks].map((each) => each.join(" ")).join(", ");
}

/**
 * Parses a hexadecimal colour, so that the picker follows typing before any answer; null for other texts. Only Python
 * knows names of colours.
 * @param {string} text
 * @returns {string | null} #rrggbb
 */
export function hexColour(text) {
  const [, digits] = /^#?([0-9a-f]{3}|[0-9a-f]{6})$/i.exec(text.trim()) ?? [];
  if (!digits) return null;
  return `#${(digits.length === 3 ? digits.replace(/./g, "$&$&") : digits).toLowerCase()}`;
}

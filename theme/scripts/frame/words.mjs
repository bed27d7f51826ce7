/**
 * The page's own sentences. They live in calculators/messages/page.py and reach the scripts as JSON;
 * no script holds one.
 */

/**
 * @param {Record<string, string>} messages sentences by key, with {names} in braces
 * @returns {(key: string, parts?: any) => string} says a sentence
 */
export function wordsFrom(messages) {
  return (key, parts = {}) => {
    const sentence = messages[key];
    if (sentence === undefined) throw new Error(`no page sentence has the key ${key}`);
    return sentence.replace(/\{(\w+)\}/g, (_, name) => String(parts[name]));
  };
}

const MOST_OF_NAME = 60;

/**
 * Returns the name of a file as it may stand in a sentence: in one line, without what turns the line round, a long one
 * shortened in the middle. Python does the same to names that it is given (calculators/messages/wording.py); the cases in
 * tests/typed/ hold both to one meaning.
 * @param {string} name
 * @returns {string}
 */
export function shownName(name) {
  const tidy = name
    .replace(/[\t-\r\u0085\p{Z}]+/gu, " ")
    .replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Co}]/gu, "")
    .replace(/ +/g, " ")
    .replace(/^ | $/g, "");
  const characters = [...(tidy || "…")];
  if (characters.length <= MOST_OF_NAME) return characters.join("");
  const half = Math.floor((MOST_OF_NAME - 1) / 2);
  return [...characters.slice(0, MOST_OF_NAME - 1 - half), "…", ...characters.slice(-half)].join("");
}

/**
 * Returns a size in bytes for a reader, such as "12 kB".
 * @param {number} bytes
 * @returns {string}
 */
export function sizeText(bytes) {
  const [unit, one] = bytes < 1e3 ? ["byte", 1] : bytes < 1e6 ? ["kilobyte", 1e3] : ["megabyte", 1e6];
  /** @type {Intl.NumberFormatOptions} */
  const style = { style: "unit", unit, unitDisplay: one === 1 ? "long" : "short" };
  return new Intl.NumberFormat("en", { ...style, maximumSignificantDigits: one === 1 ? 3 : 2 }).format(bytes / one);
}

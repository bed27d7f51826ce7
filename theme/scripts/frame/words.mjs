/**
 * The page's own sentences. They come from calculators/messages/page.py as JSON; scripts contain none.
 */

/**
 * @param {Record<string, string>} messages sentences by key, with {names} in braces
 * @returns {(key: string, parts?: any) => string} formats a sentence
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
 * Returns a file name for a sentence: on one line, without direction marks, shortened in the middle if long. Python
 * does the same (calculators/messages/wording.py); the cases in tests/typed/ test that both agree.
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
  // Intl.NumberFormat takes some 15 ms to begin, in the middle of an answer.
  if (bytes < 1e3) return `${bytes} ${bytes === 1 ? "byte" : "bytes"}`;
  const kilobytes = Number((bytes / 1e3).toPrecision(2));
  if (kilobytes < 1e3) return `${kilobytes} kB`;
  return `${Number((bytes / 1e6).toPrecision(2))} MB`;
}

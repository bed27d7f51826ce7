/**
 * The page's own sentences. They live in calculators/messages/page.py and reach the scripts as JSON;
 * no script holds one.
 */

/**
 * @param {Record<string, string>} messages sentences by key, with {names} in braces
 * @returns {(key: string, parts?: Record<string, string | number>) => string} says a sentence
 */
export function wordsFrom(messages) {
  return (key, parts = {}) => {
    const sentence = messages[key];
    if (sentence === undefined) throw new Error(`no page sentence has the key ${key}`);
    return sentence.replace(/\{(\w+)\}/g, (_, name) => String(parts[name]));
  };
}

/**
 * Returns a size in bytes for a reader, such as "12 kB".
 * @param {number} bytes
 * @returns {string}
 */
export function sizeText(bytes) {
  const [unit, one] = bytes < 1e3 ? ["byte", 1] : bytes < 1e6 ? ["kilobyte", 1e3] : ["megabyte", 1e6];
  const style = { style: "unit", unit, unitDisplay: one === 1 ? "long" : "short" };
  return new Intl.NumberFormat("en", { ...style, maximumSignificantDigits: one === 1 ? 3 : 2 }).format(bytes / one);
}

/** What cannot be done: `key` is that of a sentence, `values` are what it names. */
export class Trouble extends Error {
  /** @param {string} key @param {Record<string, any>} [values] */
  constructor(key, values = {}) {
    super(key);
    this.key = key;
    this.values = values;
  }
}

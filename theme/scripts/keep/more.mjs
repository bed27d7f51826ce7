/**
 * What a store does besides keeping the input of forms. The work, and what each method takes and returns, is in jobs.mjs, a
 * bundle that is loaded when it is first needed. All reject with `NotStored` as the methods of `Store` do.
 *
 * @typedef {typeof import("./jobs.mjs")} Work
 * @typedef {Exclude<keyof Work, "clean" | "takeOlder">} Name
 * @typedef {{[Each in Name]: Work[Each] extends (store: any, ...rest: infer Rest) => infer Result ? (...rest: Rest) => Result : never}} Methods
 */

class Lazy extends EventTarget {
  /**
   * @param {string} name
   * @param {...any} rest
   * @returns {Promise<any>}
   */
  async more(name, ...rest) {
    return (await import("alone-jobs"))[name](this, ...rest);
  }
}

/** @type {Name[]} */
const NAMES = ["settle", "change", "choose", "remove", "jobs", "openJob", "newJob", "copyJob", "deleteJob", "bytes", "putFiles", "facts", "putFacts", "verdicts", "putVerdicts", "thumbnail"];
for (const name of NAMES) {
  /** @type {any} */ (Lazy.prototype)[name] = function (/** @type {any[]} */ ...rest) {
    return this.more(name, ...rest);
  };
}

export const More = /** @type {new () => Lazy & Methods} */ (/** @type {unknown} */ (Lazy));

/**
 * Values that calculators of one job share, such as its picture: typed in one, offered by the others.
 * Which fields share what is declared in calculators/, and stands in data-shares; that of a picture which
 * takes traced outlines too names them in data-outlines.
 *
 * @typedef {object} Shared one value, by the name that its fields share
 * @property {string} [text] a length with its unit
 * @property {import("./store.mjs").KeptFile} [file]
 * @property {number} [at] the revision of the job in which the file came
 */

import { fieldsOf, isFile } from "../form/fields.mjs";

/**
 * Returns what a form holds of what is shared, by its name.
 * @param {HTMLElement} form
 * @param {{inputs: any, files: Map<string, any>}} typed
 * @returns {Record<string, Shared & {field: string, delivered: boolean, outlines?: string}>} `delivered`: as the page
 *   came; `outlines`: what the value is called in its place where it is a file of outlines
 */
export function sharedBy(form, { inputs, files }) {
  return Object.fromEntries(
    [...sharingFields(form)].map(([name, [field, element]]) => {
      /** @type {any} */
      const value = isFile(element) ? { file: files.get(field) } : { text: inputs[field] };
      const delivered = isFile(element) ? !value.file : (value.text ?? "") === deliveredText(element);
      return [name, { field, delivered, outlines: element.dataset.outlines, ...value }];
    }),
  );
}

/**
 * Returns what is shared and differs from what the form holds: what to type where, and the labels of the fields.
 * @param {HTMLElement} form
 * @param {{inputs: any, files: Map<string, any>}} typed
 * @param {Record<string, Shared>} shared
 * @param {(field: Element) => boolean} leave fields that are in the reader's hand
 */
export function offeredTo(form, typed, shared, leave) {
  const offered = { inputs: {}, files: new Map(), labels: [] };
  for (const [name, [field, element]] of sharingFields(form)) {
    if (leave(element)) continue;
    const { text, file } = latest(shared[name], shared[element.dataset.outlines]) ?? {};
    if (isFile(element)) {
      if (!file || file.hash === typed.files.get(field)?.hash) continue;
      offered.files.set(field, { ...file, fresh: true, seen: false });
    } else {
      if (text === undefined || text === typed.inputs[field]) continue;
      offered.inputs[field] = text;
    }
    offered.labels.push(element.querySelector(".dw-label").firstChild.textContent.trim());
  }
  return offered;
}

/**
 * Returns what a file is shared as.
 * @param {string} name what its field shares
 * @param {string | undefined} outlines what it is called in place of that where it holds outlines
 * @param {{media: string, name: string} | undefined} file
 * @returns {string}
 */
export const nameOf = (name, outlines, file) => (outlines && file && /svg/.test(`${file.media}${file.name}`) ? outlines : name);

const latest = (value, other) => ((other?.at ?? -1) > (value?.at ?? 0) ? other : value);

const deliveredText = ({ dataset }) => (dataset.defaultMm === undefined ? (dataset.default ?? "") : `${dataset.defaultMm} mm`);

/**
 * @param {Element} form
 * @returns {Generator<[string, [string, HTMLElement]]>}
 */
function* sharingFields(form) {
  for (const [field, element] of fieldsOf(form)) {
    if (element.dataset.shares) yield [element.dataset.shares, [field, element]];
  }
}

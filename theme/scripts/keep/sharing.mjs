/**
 * Values that calculators of one job share, such as its picture: typed in one, offered by the others.
 * calculators/ declares which fields share what; data-shares has it in the page. A picture field that also takes
 * traced outlines names their value in data-outlines.
 *
 * @typedef {object} Shared one value, by the name that its fields share
 * @property {string} [text] a length with its unit
 * @property {import("./store.mjs").StoredFile} [file]
 * @property {number} [at] the revision of the job in which the file was added
 * @property {string} [from] the id of the calculator in which it was typed or found
 * @property {string} [picture] identifier of the picture that the value belongs to (sourceOf)
 */

import { sourceOf } from "../form/another_picture.mjs";
import { deliveredText, fieldsOf, isFile, labelOf } from "../form/fields.mjs";

/**
 * Returns the shared values in a form, by name.
 * @param {HTMLElement} form
 * @param {{inputs: any, files: Map<string, any>}} typed
 * @returns {Record<string, Shared & {field: string, delivered: boolean, outlines?: string}>} `delivered`: unchanged
 *   from the page; `outlines`: the name of the value instead if the file holds outlines
 */
export function sharedBy(form, { inputs, files }) {
  return Object.fromEntries(
    [...sharingFields(form)].map(([name, [field, element]]) => {
      /** @type {any} */
      const value = isFile(element) ? { file: files.get(field) } : { text: inputs[field] };
      const picture = sourceOf(files.get(element.dataset.belongsTo));
      // What tells something of the reader's picture is the reader's own, even where the worked example has the same.
      const delivered = isFile(element) ? !value.file : !picture && (value.text ?? "") === deliveredText(element);
      return [name, { field, delivered, outlines: element.dataset.outlines, picture, ...value }];
    }),
  );
}

/**
 * Returns shared values that differ from the form: what to type where, and the labels of the fields. A value that belonged
 * to another picture, or to that of the worked example, must be typed again: it is offered as an empty text.
 * @param {HTMLElement} form
 * @param {{inputs: any, files: Map<string, any>}} typed
 * @param {Record<string, Shared>} shared
 * @param {Leave} leave fields that the reader is editing
 */
export function offeredTo(form, typed, shared, leave) {
  /** @type {Typed & {labels: string[]}} */
  const offered = { inputs: {}, files: new Map(), labels: [] };
  for (const [field, element] of fieldsOf(form)) {
    if (leave(element)) continue;
    const value = sharedIn(element, shared);
    if (isFile(element)) {
      if (!value?.file || value.file.hash === typed.files.get(field)?.hash) continue;
      offered.files.set(field, { ...value.file, fresh: true, seen: false });
    } else {
      const text = textFor(element, value, typed, offered);
      if (text === undefined || text === typed.inputs[field]) continue;
      offered.inputs[field] = text;
      if (!text) continue;
    }
    offered.labels.push(labelOf(element));
  }
  return offered;
}

/**
 * Returns the text to write into a field that shares `value`, or undefined to leave it.
 * @param {HTMLElement} element
 * @param {Shared | undefined} value
 * @param {Typed} typed
 * @param {{files: Map<string, any>}} offered
 */
function textFor(element, value, typed, offered) {
  const picture = element.dataset.belongsTo;
  const incoming = offered.files.get(picture);
  const held = incoming ?? typed.files.get(picture);
  if (value && fits(value, held)) return value.text;
  const ofAnother = value || typed.files.has(picture) || typed.inputs[element.dataset.field] === deliveredText(element);
  return incoming && ofAnother ? "" : undefined;
}

/**
 * Whether a shared value tells something of a picture, or of none.
 * @param {Shared} value
 * @param {any} picture
 */
const fits = (value, picture) => !value.picture || sourceOf(picture) === value.picture;

/**
 * Yields the fields of a form whose values are shared, each with the id of the calculator that they come from.
 * @param {HTMLElement} form
 * @param {{inputs: any, files: Map<string, any>}} typed
 * @param {Record<string, Shared>} shared
 * @returns {Generator<[HTMLElement, string]>}
 */
export function* takenFrom(form, typed, shared) {
  for (const [field, element] of fieldsOf(form)) {
    const value = sharedIn(element, shared);
    if (!value?.from || !fits(value, typed.files.get(element.dataset.belongsTo))) continue;
    const { text, file, from } = value;
    const held = isFile(element) ? file && typed.files.get(field)?.hash === file.hash : text && typed.inputs[field] === text;
    if (held) yield [element, from];
  }
}

/**
 * @param {HTMLElement} element
 * @param {Record<string, Shared>} shared
 */
const sharedIn = ({ dataset }, shared) => dataset.shares && latest(shared[dataset.shares], shared[dataset.outlines]);

/**
 * @param {Shared | undefined} value
 * @param {Shared | undefined} other
 */
const latest = (value, other) => ((other?.at ?? -1) > (value?.at ?? 0) ? other : value);

/**
 * @param {Element} form
 * @returns {Generator<[string, [string, HTMLElement]]>}
 */
function* sharingFields(form) {
  for (const [field, element] of fieldsOf(form)) {
    if (element.dataset.shares) yield [element.dataset.shares, [field, element]];
  }
}

/**
 * Returns the texts of a form that are shared, by name, with whether Python has read them.
 * @param {HTMLElement} form
 * @param {Record<string, any>} inputs
 * @param {{parsed?: Record<string, any>, problems?: {field: string}[]}} reply
 */
export function readShared(form, inputs, { parsed = {}, problems = [] }) {
  /** @type {Record<string, {text: string, isRead: boolean}>} */
  const read = {};
  for (const [name, [field, element]] of sharingFields(form)) {
    if (!isFile(element) && typeof inputs[field] === "string") read[name] = { text: inputs[field], isRead: field in parsed || !problems.some((each) => each.field === field) };
  }
  return read;
}

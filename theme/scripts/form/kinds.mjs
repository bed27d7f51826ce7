/**
 * The registry of the kinds' scripts. They are in kinds/, each with the name of its kind, as its Python module and its
 * template are. The builder writes the module "scripts-of-kinds", which registers each of them here. A kind with no
 * needs of its own has no script.
 *
 * @typedef {object} FieldKind how a kind differs from a line of text
 * @property {boolean} [holdsFile] it holds a file, which is sent beside the texts
 * @property {string} [ask] key of the sentence that asks for its file
 * @property {boolean} [alwaysFilled] it cannot be empty: emptying it restores the default
 * @property {boolean} [holdsFields] it contains fields and has no control of its own
 * @property {(control: any) => string} [textOf] returns the text of a control
 * @property {(control: any, text: string) => void} [put] writes a text into a control
 * @property {(field: HTMLElement, changed?: EventTarget) => void} [match] updates the rest of a field to match its text;
 *   `changed` is the control that the reader changed
 * @property {(field: HTMLElement, value: unknown) => void} [takeRead] shows the value that Python read from its text
 * @property {(field: HTMLElement, inner: (row: Element) => object) => object[]} [read] returns the input in its fields
 * @property {(field: HTMLElement, value: any, inner: (row: Element, inputs: any) => string[]) => string[]} [write]
 *   writes into its fields, and returns addresses without a field
 * @property {(field: HTMLElement, asked: unknown, restated: unknown, inner: Function) => void} [restate] displays converted lengths
 * @property {(field: HTMLElement, inner: (row: Element) => void) => void} [empty] empties its fields
 *
 * @typedef {object} Renderer shows one result on the page
 * @property {(part: any, buffers: ArrayBuffer[]) => void} show fills it from the view of calculators/view.py
 * @property {(part: any) => boolean} [isEmpty] whether there is nothing to show
 * @property {(hidden: boolean) => void} [hide] hides it, or shows it again
 * @property {() => void} [free] frees its resources, before another answer and at the end
 * @property {{name: string, media: string, bytes: ArrayBuffer}} [file] the file that it offers
 *
 * @typedef {object} ResultKind
 * @property {(slot: HTMLElement, page: {form: HTMLFormElement, say: Say, signal: AbortSignal}) => Renderer} [rendererFor]
 *   without it, each text of a result goes into the part with its name
 * @property {(cell: HTMLElement, value: any) => void} [fillCell] fills a cell of a table; without it
 *   the cell shows only the text
 */

/** @type {Map<string, {field?: FieldKind, result?: ResultKind}>} */
const scripts = new Map();

/**
 * Registers the script of a kind.
 * @param {string} kind
 * @param {{field?: FieldKind, result?: ResultKind}} script
 */
export function register(kind, script) {
  scripts.set(kind, script);
}

/** @type {FieldKind} */
const LINE_OF_TEXT = { textOf: (control) => control.value, put: (control, text) => (control.value = text), match: () => {} };

/**
 * Returns the kind of a field.
 * @param {HTMLElement} field
 * @returns {FieldKind}
 */
export const fieldKind = (field) => ({ ...LINE_OF_TEXT, ...scripts.get(field.dataset.kind)?.field });

/** @type {ResultKind} */
const TEXTS = {
  rendererFor: (slot) => ({
    show(part) {
      for (const each of slot.querySelectorAll("[data-part]")) each.textContent = part[each.dataset.part];
    },
  }),
  fillCell: (cell, value) => (cell.querySelector(".dw-shown").textContent = value?.shown ?? ""),
};

/**
 * Returns a kind of result.
 * @param {string} kind
 * @returns {ResultKind}
 */
export const resultKind = (kind) => ({ ...TEXTS, ...scripts.get(kind)?.result });

/**
 * Returns the element for a part of a result.
 * @param {Element} slot
 * @param {string} name
 * @returns {HTMLElement}
 */
export const partOf = (slot, name) => slot.querySelector(`[data-part=${name}]`);

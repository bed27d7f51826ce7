/**
 * What the scripts of the kinds say of their fields and results, by kind. The scripts lie in kinds/, each named for its
 * kind as its Python module and its template are. The builder makes the module "scripts-of-kinds" of those that there are, which fills
 * what stands here. A kind that needs nothing has no script.
 *
 * @typedef {object} FieldKind how a kind differs from a line of text
 * @property {boolean} [holdsFile] it holds a file, which is sent beside the texts
 * @property {string} [ask] the message that asks for its file
 * @property {boolean} [alwaysFilled] it cannot be empty: emptying it brings back what it was delivered with
 * @property {boolean} [holdsFields] it holds fields of its own and has no control beside theirs
 * @property {(control: any) => string} [textOf] returns what a control holds
 * @property {(control: any, text: string) => void} [put] makes a control hold a text
 * @property {(field: HTMLElement, changed?: EventTarget) => void} [match] makes all that shows the text of a field alike;
 *   `changed` is what the reader changed
 * @property {(field: HTMLElement, value: unknown) => void} [takeRead] shows what Python read of its text
 * @property {(field: HTMLElement, inner: (row: Element) => object) => object[]} [read] returns what is typed in its fields
 * @property {(field: HTMLElement, value: any, inner: (row: Element, inputs: any) => string[]) => string[]} [write]
 *   writes into its fields, and returns addresses that none of them has
 * @property {(field: HTMLElement, asked: unknown, restated: unknown, inner: Function) => void} [restate] shows what was restated
 * @property {(field: HTMLElement, inner: (row: Element) => void) => void} [empty] empties its fields
 *
 * @typedef {object} Shown one result on the page
 * @property {(part: any, buffers: ArrayBuffer[]) => void} show fills it with what calculators/view.py tells
 * @property {(part: any) => boolean} [isEmpty] tells whether there is nothing to show
 * @property {(hidden: boolean) => void} [hide] hides it, or shows it again
 * @property {() => void} [free] frees what it holds, before it shows another answer and at the end
 * @property {{name: string, media: string, bytes: ArrayBuffer}} [file] the file that it hands over
 *
 * @typedef {object} ResultKind
 * @property {(slot: HTMLElement, page: {form: HTMLElement, say: Function, signal: AbortSignal}) => Shown} [shownIn]
 *   begins showing a result; without it the texts of a result go into the parts of their names
 * @property {(cell: HTMLElement, value: any) => void} [fillCell] fills a cell of a table;
 *   without it the cell shows the text alone
 */

/** @type {Map<string, {field?: FieldKind, result?: ResultKind}>} */
const scripts = new Map();

/**
 * Takes up the script of a kind.
 * @param {string} kind
 * @param {{field?: FieldKind, result?: ResultKind}} script
 */
export function register(kind, script) {
  scripts.set(kind, script);
}

/** @type {FieldKind} */
const LINE_OF_TEXT = { textOf: (control) => control.value, put: (control, text) => (control.value = text), match: () => {} };

/**
 * Returns what is to be known of a field's kind.
 * @param {HTMLElement} field
 * @returns {FieldKind}
 */
export const fieldKind = (field) => ({ ...LINE_OF_TEXT, ...scripts.get(field.dataset.kind)?.field });

/** @type {ResultKind} */
const TEXTS = {
  shownIn: (slot) => ({
    show(part) {
      for (const each of slot.querySelectorAll("[data-part]")) each.textContent = part[each.dataset.part];
    },
  }),
  fillCell: (cell, value) => (cell.querySelector(".dw-shown").textContent = value?.shown ?? ""),
};

/**
 * Returns what is to be known of a kind of result.
 * @param {string} kind
 * @returns {ResultKind}
 */
export const resultKind = (kind) => ({ ...TEXTS, ...scripts.get(kind)?.result });

/**
 * Returns a part of a result.
 * @param {Element} slot
 * @param {string} name
 * @returns {HTMLElement}
 */
export const partOf = (slot, name) => slot.querySelector(`[data-part=${name}]`);

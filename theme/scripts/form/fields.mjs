/**
 * Reads and writes the fields of a form, whatever their kind. Values are always texts, as Python takes them:
 * `{width_mm: "25.4 mm", rows: [{copies: "3"}]}`. Files are in files.mjs.
 */

import { fieldKind } from "./kinds.mjs";
import { withoutUnit, withUnit } from "../frame/units.mjs";

/** Per control: the typed length with its unit, and the text that the control displays for it until it is edited. */
const lengths = new WeakMap();

/**
 * Returns the direct fields of a form or row, by name, without fields of rows inside it.
 * @param {Element} container a form or a row
 * @returns {Map<string, HTMLElement>}
 */
export function fieldsOf(container) {
  const own = [...container.querySelectorAll("[data-field]")].filter(
    (field) => field.parentElement.closest(".dw-row, .dw-form") === container,
  );
  return new Map(own.map((field) => [field.dataset.field.split(".").at(-1), field]));
}

/**
 * Returns all fields of a form, including those of rows, by address ("rows[0].copies").
 * @param {Element} form
 * @returns {Map<string, HTMLElement>}
 */
export function everyField(form) {
  return new Map([...form.querySelectorAll("[data-field]")].map((field) => [field.dataset.field, field]));
}

/**
 * Returns the control that holds a field's text.
 * @param {Element} field
 * @returns {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement | null}
 */
export function controlOf(field) {
  return field.querySelector(".dw-typed");
}

/**
 * Returns the label of a field, without "optional".
 * @param {Element} field
 */
export const labelOf = (field) => field.querySelector(".dw-label").firstChild.textContent.trim();

/** @param {HTMLElement} field */
export const isFile = (field) => Boolean(fieldKind(field).holdsFile);
/** @param {HTMLElement} field */
const isLength = (field) => field.dataset.quantity === "length";

/**
 * Returns the input in a form or row, lengths with their unit, without empty optional fields.
 * @param {Element} container
 * @param {"mm" | "in"} unit the unit that the fields show
 * @param {(field: any) => unknown} [leave] whether to leave out a field
 * @returns {Record<string, string | any[]>}
 */
export function readInputs(container, unit, leave = () => false) {
  /** @type {Record<string, any>} */
  const inputs = {};
  for (const [name, field] of fieldsOf(container)) {
    const kind = fieldKind(field);
    if (kind.holdsFile || leave(field)) continue;
    if (kind.read) {
      inputs[name] = kind.read(field, (row) => readInputs(row, unit, leave));
      continue;
    }
    const text = typedText(field, unit);
    if (text.trim() || !("optional" in field.dataset)) inputs[name] = text;
  }
  return inputs;
}

/**
 * @param {HTMLElement} field
 * @param {Unit} unit
 */
function typedText(field, unit) {
  const control = controlOf(field);
  if (!isLength(field)) return fieldKind(field).textOf(control);
  const whole = lengths.get(control);
  return whole && whole.displayed === control.value ? whole.typed : withUnit(control.value, unit);
}

/**
 * Writes texts into a form or row. A field without a text gets its default.
 * @param {Element} container
 * @param {Record<string, string | any[]>} inputs
 * @param {"mm" | "in"} unit the unit that the fields show
 * @param {Leave} [leave] whether to leave a field unchanged
 * @returns {string[]} addresses in `inputs` that no field has
 */
export function writeInputs(container, inputs, unit, leave = () => false) {
  const fields = fieldsOf(container);
  const unknown = Object.keys(inputs).filter((name) => !fields.has(name) || isFile(fields.get(name)));
  for (const [name, field] of fields) {
    const kind = fieldKind(field);
    if (kind.holdsFile || leave(field)) continue;
    const value = inputs[name];
    if (kind.write) unknown.push(...kind.write(field, value, (row, inner) => writeInputs(row, inner, unit)));
    else if (typeof value === "string") writeText(field, value, unit);
    else {
      if (value !== undefined) unknown.push(name);
      writeDefault(field, unit);
    }
  }
  return unknown;
}

/**
 * Writes a text into a field.
 * @param {HTMLElement} field
 * @param {string} text a length with its unit
 * @param {"mm" | "in"} unit
 */
export function writeText(field, text, unit) {
  const control = controlOf(field);
  field.removeAttribute("data-unfilled");
  const kind = fieldKind(field);
  if (isLength(field)) show(control, text, displayedText(field, text, unit));
  else kind.put(control, text);
  kind.match(field);
}

/**
 * Writes the default into a field.
 * @param {HTMLElement} field
 * @param {"mm" | "in"} unit
 */
export function writeDefault(field, unit) {
  const { default: plain = "", defaultMm: mm } = field.dataset;
  writeText(field, isLength(field) && mm !== undefined ? `${mm} mm` : plain, unit);
}

/**
 * Returns the text to display for a length: a default as declared for the unit, anything else as typed.
 * @param {HTMLElement} field
 * @param {string} typed
 * @param {Unit} unit
 */
function displayedText(field, typed, unit) {
  const { defaultMm, defaultIn } = field.dataset;
  if (typed !== `${defaultMm} mm`) return withoutUnit(typed, unit);
  return unit === "in" ? defaultIn : defaultMm;
}

/**
 * @param {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} control
 * @param {string} typed
 * @param {string} displayed
 */
function show(control, typed, displayed) {
  lengths.set(control, { typed, displayed });
  if (control.value !== displayed) control.value = displayed;
  matchUnit(control.closest("[data-field]"));
}

/**
 * Updates the rest of a field, such as its unit or its colour picker, to match what the reader typed.
 * @param {HTMLElement} field
 * @param {EventTarget} changed the control that the reader changed
 */
export function matchTyped(field, changed) {
  fieldKind(field).match(field, changed);
  matchUnit(field);
}

/**
 * Hides the unit beside a length while the typed text has its own unit.
 * @param {HTMLElement} field
 */
function matchUnit(field) {
  if (!isLength(field)) return;
  const text = controlOf(field).value;
  field.querySelector(".dw-unit").hidden = Boolean(text.trim()) && withUnit(text, "mm") === text;
}

/**
 * Displays all lengths of a form in another unit: defaults as declared for it, others with the unit they were typed in,
 * until `showRestated` has the converted ones. The typed texts themselves do not change.
 * @param {Element} form
 * @param {"mm" | "in"} from
 * @param {"mm" | "in"} to
 */
export function changeUnit(form, from, to) {
  for (const field of everyField(form).values()) {
    if (!isLength(field)) continue;
    const typed = typedText(field, from);
    show(controlOf(field), typed, displayedText(field, typed, to));
  }
  showUnit(form, to);
}

/**
 * Writes the unit beside every length and converts the ranges in the help texts.
 * @param {Element} form
 * @param {"mm" | "in"} unit
 */
export function showUnit(form, unit) {
  for (const field of everyField(form).values()) {
    if (!isLength(field)) continue;
    field.querySelector(".dw-unit").textContent = unit;
    for (const range of field.querySelectorAll(".dw-range")) {
      range.textContent = unit === "in" ? range.dataset.in : range.dataset.mm;
    }
  }
}

/**
 * Displays the lengths that the engine converted, except those edited meanwhile.
 * @param {Element} container
 * @param {Record<string, string | any[]>} asked the typed texts that were sent
 * @param {Record<string, string | any[]>} restated texts without suffix, in `unit`
 * @param {"mm" | "in"} unit
 */
export function showRestated(container, asked, restated, unit) {
  for (const [name, field] of fieldsOf(container)) {
    const text = restated[name];
    const { restate } = fieldKind(field);
    if (restate) restate(field, asked[name], text, (/** @type {Element} */ row, /** @type {Record<string, any>} */ typed, /** @type {Record<string, any>} */ there) => showRestated(row, typed, there, unit));
    else if (isLength(field) && typeof text === "string") {
      const control = controlOf(field);
      const whole = lengths.get(control);
      // Only lengths displayed with a unit of their own need converting.
      const foreign = whole && whole.displayed === whole.typed && whole.typed === asked[name];
      if (foreign && control.value === whole.displayed) show(control, whole.typed, text);
    }
  }
}

/**
 * Returns the text of a field in the delivered page, as `readInputs` reads it.
 * @param {HTMLElement} field
 */
export const deliveredText = ({ dataset }) => (dataset.defaultMm === undefined ? (dataset.default ?? "") : `${dataset.defaultMm} mm`);

/**
 * Whether a control's value differs from that in the delivered page.
 * @param {Element} field
 * @returns {boolean}
 */
export function differsFromDelivered(field) {
  /** @type {any} */
  const control = controlOf(field);
  if (!control) return false;
  if (control.type === "checkbox") return control.checked !== control.defaultChecked;
  if (control.options) return !control.options[control.selectedIndex]?.defaultSelected;
  return control.value !== control.defaultValue;
}

/**
 * Adds a line under a field that says where its value came from.
 * @param {HTMLElement} field
 * @param {string} words
 */
export function markFilled(field, words) {
  if (field.hasAttribute("data-filled")) return;
  field.toggleAttribute("data-filled", true);
  const line = Object.assign(document.createElement("p"), { className: "dw-filled", textContent: words });
  line.id = `filled-${field.dataset.field}`;
  field.append(line);
  controlOf(field)?.setAttribute("aria-describedby", `${describedBy(field)} ${line.id}`);
}

/** @param {HTMLElement} field */
export function unmarkFilled(field) {
  if (!field.hasAttribute("data-filled")) return;
  field.removeAttribute("data-filled");
  field.querySelector(".dw-filled")?.remove();
  controlOf(field)?.setAttribute("aria-describedby", describedBy(field));
}

/** @param {Element} field */
const describedBy = (field) => controlOf(field).getAttribute("aria-describedby").split(" filled-")[0];

/**
 * Lists of rows: adding, removing and numbering. The address of a row's field is `rows[3].copies`, in the template
 * `rows[#].copies`.
 */

const ADDRESSED = ["id", "for", "name", "list", "data-field", "aria-describedby", "aria-labelledby"];

/**
 * @param {Element} field the fieldset of the rows
 * @returns {HTMLElement[]}
 */
export function rowsOf(field) {
  return [...listOf(field).children];
}

/** @param {Element} field */
const listOf = (field) => field.querySelector(".dw-row-list");

/**
 * Adds a row of defaults at the end and returns it.
 * @param {HTMLElement} field
 * @returns {HTMLElement}
 */
export function addRow(field) {
  const list = listOf(field);
  const template = field.querySelector(":scope > .dw-row-template");
  const row = document.importNode(template.content, true).querySelector(".dw-row");
  list.append(row);
  number(field);
  return row;
}

/**
 * Removes a row and renumbers those below it.
 * @param {Element} row
 */
function removeRow(row) {
  const field = row.parentElement.closest("[data-kind=rows]");
  row.remove();
  number(field);
}

/**
 * Removes a row that the reader wants removed, and focuses the row that takes its place.
 * @param {HTMLElement} row
 */
export function removeRowAndFocus(row) {
  const field = row.parentElement.closest("[data-kind=rows]");
  const place = rowsOf(field).indexOf(row);
  removeRow(row);
  const next = rowsOf(field)[Math.min(place, rowsOf(field).length - 1)];
  (next?.querySelector(":scope > .dw-row-remove:enabled") ?? field.querySelector(":scope > .dw-row-add")).focus();
}

/**
 * Adds or removes rows at the end until there are `count`.
 * @param {HTMLElement} field
 * @param {number} count
 */
export function setRowCount(field, count) {
  for (const row of rowsOf(field).slice(count)) removeRow(row);
  while (rowsOf(field).length < count) addRow(field);
}

/** @param {HTMLElement} field */
function number(field) {
  const { field: address, fewest, most } = field.dataset;
  const rows = rowsOf(field);
  for (const [place, row] of rows.entries()) {
    readdress(row, address, place);
    row.querySelector(".dw-row-number").textContent = place + 1;
    row.querySelector(":scope > .dw-row-remove").disabled = rows.length <= Number(fewest);
  }
  field.querySelector(":scope > .dw-row-add").disabled = rows.length >= Number(most);
}

/**
 * Rewrites all addresses inside a row, including those in templates, for its place.
 * @param {Element} row
 * @param {string} address
 * @param {number} place
 */
function readdress(row, address, place) {
  const there = new RegExp(`${literal(address)}\\[(?:#|\\d+)\\]`, "g");
  /** @param {ParentNode} root */
  const walk = (root) => {
    for (const element of root.querySelectorAll("*")) {
      rename(element, there, `${address}[${place}]`);
      if (element instanceof HTMLTemplateElement) walk(element.content);
    }
  };
  rename(row, there, `${address}[${place}]`);
  walk(row);
}

/**
 * @param {Element} element
 * @param {RegExp} there
 * @param {string} address
 */
function rename(element, there, address) {
  for (const name of ADDRESSED) {
    const before = element.getAttribute(name);
    if (before?.includes("[")) element.setAttribute(name, before.replace(there, address));
  }
}

/** @param {string} text */
const literal = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

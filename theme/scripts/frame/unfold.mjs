/**
 * Unfolds rows of wide tables: cells outside the deciding columns appear in an extra row below. The styles hide those
 * cells (data-rest) if scripts run; without scripts the table shows all of them and scrolls sideways.
 */

/** Event that asks a table to fold its rows before sorting or filtering. An event needs no import of this script. */
const FOLD = "dw-fold";

/** Listen once per visit, for the tables of all pages. */
export function startUnfolding() {
  document.addEventListener("click", ({ target }) => {
    const button = /** @type {Element} */ (target).closest?.(".dw-unfold");
    if (button) toggle(button);
  });
  document.addEventListener(FOLD, ({ target }) => {
    for (const button of /** @type {Element} */ (target).querySelectorAll(".dw-unfold[aria-expanded=true]")) toggle(button);
  });
}

/** @param {HTMLElement} button */
function toggle(button) {
  const row = button.closest("tr");
  const isOpen = button.getAttribute("aria-expanded") === "true";
  button.setAttribute("aria-expanded", String(!isOpen));
  if (isOpen) row.nextElementSibling.remove();
  else row.after(restOf(row));
}

/**
 * Returns a row with the hidden cells of `row`, each with its column's heading.
 * @param {HTMLTableRowElement} row
 */
function restOf(row) {
  const headings = row.closest("table").tHead.rows[0].cells;
  const list = document.createElement("dl");
  for (const cell of row.querySelectorAll("[data-rest]")) {
    if (!cell.textContent.trim() && !cell.querySelector("svg, .dw-swatch")) continue;
    const pair = document.createElement("div");
    const definition = document.createElement("dd");
    for (const { name, value } of cell.attributes) if (/^data-(kind|holds|level)$/.test(name)) definition.setAttribute(name, value);
    definition.append(...[...cell.childNodes].map((node) => node.cloneNode(true)));
    pair.append(Object.assign(document.createElement("dt"), { textContent: headings[cell.cellIndex].textContent.trim() }), definition);
    list.append(pair);
  }
  const cell = Object.assign(document.createElement("td"), { colSpan: row.cells.length });
  cell.append(list);
  const made = document.createElement("tr");
  made.className = "dw-more";
  made.append(cell);
  return made;
}

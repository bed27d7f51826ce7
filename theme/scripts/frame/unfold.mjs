/**
 * Rows of wide tables, unfolded: what a row has beside the deciding columns is shown in a row of its own below it. The styles
 * hide those cells (data-rest) where scripts run; without scripts the table shows them all, and is swiped.
 */

/** What a table is sent before it is sorted or rows are hidden. An event, so that no page loads a further script for it. */
const FOLD = "dw-fold";

/** Listen once a visit, for every table of every page. */
export function startUnfolding() {
  document.addEventListener("click", ({ target }) => {
    const button = /** @type {Element} */ (target).closest?.(".dw-unfold");
    if (button) toggle(button);
  });
  document.addEventListener(FOLD, ({ target }) => {
    for (const button of /** @type {Element} */ (target).querySelectorAll(".dw-unfold[aria-expanded=true]")) toggle(button);
  });
}

function toggle(button) {
  const row = button.closest("tr");
  const isOpen = button.getAttribute("aria-expanded") === "true";
  button.setAttribute("aria-expanded", String(!isOpen));
  if (isOpen) row.nextElementSibling.remove();
  else row.after(restOf(row));
}

/** Returns a row with what `row` does not show, each with the heading of its column. */
function restOf(row) {
  const headings = row.closest("table").tHead.rows[0].cells;
  const list = document.createElement("dl");
  for (const cell of row.querySelectorAll("[data-rest]")) {
    if (!cell.textContent.trim() && !cell.querySelector("svg, .dw-swatch")) continue;
    const pair = document.createElement("div");
    const told = document.createElement("dd");
    for (const { name, value } of cell.attributes) if (/^data-(kind|holds|level)$/.test(name)) told.setAttribute(name, value);
    told.append(...[...cell.childNodes].map((node) => node.cloneNode(true)));
    pair.append(Object.assign(document.createElement("dt"), { textContent: headings[cell.cellIndex].textContent.trim() }), told);
    list.append(pair);
  }
  const cell = Object.assign(document.createElement("td"), { colSpan: row.cells.length });
  cell.append(list);
  const made = document.createElement("tr");
  made.className = "dw-more";
  made.append(cell);
  return made;
}

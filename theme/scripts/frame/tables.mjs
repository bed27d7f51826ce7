/**
 * Data tables: sorting by a column and filtering by words.
 * The line below the field states the result, and screen readers announce it.
 */


const ORDER = new Intl.Collator(undefined, { numeric: true, sensitivity: "base" });

/**
 * Mount every data table of the page. `say` gives the page's sentences. Tables need no clean-up.
 * @param {{say: Say}} visit
 * @returns {[]}
 */
export function mount({ say }) {
  for (const tools of document.querySelectorAll(".dw-data-tools[hidden]")) {
    const table = tools.parentElement.querySelector("table.dw-data");
    if (table) new DataTable(tools, table, say);
  }
  return [];
}

class DataTable {
  /**
   * @param {HTMLElement} tools
   * @param {HTMLTableElement} table
   * @param {Say} say
   */
  constructor(tools, table, say) {
    this.say = say;
    this.table = table;
    this.body = table.tBodies[0];
    this.rows = [...this.body.rows];
    this.words = this.rows.map((row) => folded(row.textContent));
    this.count = tools.querySelector(".dw-data-count");
    this.sorted = /** @type {{place: number, backwards: boolean} | null} */ (null);
    this.headings = [...table.querySelectorAll("thead tr:first-child th")].map((cell, place) => this.heading(cell, place));
    this.field = tools.querySelector("input");
    this.field.addEventListener("input", () => this.filter());
    tools.hidden = false;
    this.filter();
  }

  /**
   * Put a button into the heading of a column.
   * @param {HTMLTableCellElement} cell
   * @param {number} place
   */
  heading(cell, place) {
    const name = cell.textContent.trim();
    const button = document.createElement("button");
    button.type = "button";
    button.className = "dw-sort";
    button.textContent = name;
    button.title = this.say("sort_by", { column: name });
    button.addEventListener("click", () => this.sort(place));
    cell.replaceChildren(button);
    return { cell, name };
  }

  /**
   * Sort by a column; a second time backwards; a third time as the table was written.
   * @param {number} place
   */
  sort(place) {
    this.table.dispatchEvent(new Event("dw-fold", { bubbles: true })); // unfold.mjs
    const backwards = this.sorted?.place === place && !this.sorted.backwards;
    const undone = this.sorted?.place === place && this.sorted.backwards;
    this.sorted = undone ? null : { place, backwards };
    const rows = undone ? this.rows : this.inOrder(place, backwards);
    this.body.append(...rows);
    for (const [index, { cell }] of this.headings.entries()) {
      if (index === place && !undone) cell.setAttribute("aria-sort", backwards ? "descending" : "ascending");
      else cell.removeAttribute("aria-sort");
    }
    this.tell();
  }

  /**
   * @param {number} place
   * @param {boolean} backwards
   */
  inOrder(place, backwards) {
    const keyed = this.rows.map((row) => ({ key: key(row.cells[place]), row }));
    const full = keyed.filter((each) => each.key !== "");
    full.sort((one, other) => (backwards ? -1 : 1) * compare(one.key, other.key));
    // Empty cells stay last in both directions.
    return [...full, ...keyed.filter((each) => each.key === "")].map(({ row }) => row);
  }

  filter() {
    this.table.dispatchEvent(new Event("dw-fold", { bubbles: true })); // unfold.mjs
    const wanted = folded(this.field.value).split(" ").filter(Boolean);
    this.rows.forEach((row, place) => {
      row.hidden = !wanted.every((word) => this.words[place].includes(word));
    });
    this.tell();
  }

  tell() {
    const visible = this.rows.filter((row) => !row.hidden).length;
    const all = this.rows.length;
    const rows = visible === all ? this.say("rows_all", { all }) : this.say("rows_visible", { visible, all });
    if (!this.sorted) this.count.textContent = rows;
    else {
      const { name: column } = this.headings[this.sorted.place];
      this.count.textContent = this.say(this.sorted.backwards ? "sorted_down" : "sorted_up", { rows, column });
    }
  }
}

/** @param {HTMLTableCellElement | undefined} cell */
function key(cell) {
  if (!cell) return "";
  return cell.dataset.sort !== undefined ? Number(cell.dataset.sort) : cell.textContent.trim();
}

/**
 * @param {string | number} one
 * @param {string | number} other
 */
function compare(one, other) {
  return typeof one === "number" && typeof other === "number" ? one - other : ORDER.compare(String(one), String(other));
}

/**
 * Text for comparing: without case, accents and doubled blanks.
 * @param {string} text
 */
function folded(text) {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replace(/\s+/g, " ").trim();
}

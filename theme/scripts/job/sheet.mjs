/** Rows from a spreadsheet: pasted, or from a CSV file. What cannot be read is named by row and column, and stays. */

import { sentenceOf } from "./editing.mjs";

/** @param {import("./job.mjs").JobPage} page */
export function wireSheet(page) {
  const details = page.find(".dw-job-sheet");
  const typed = page.find(".dw-job-rows");
  const result = page.find(".dw-job-read");
  let file = /** @type {{name: string, bytes: ArrayBuffer} | null} */ (null);
  let columns = /** @type {Record<string, string>} */ ({});
  let found = /** @type {any} */ (null);
  /** Of the job that the list was read together with. */
  let revision = 0;

  /** The latest reading: each waits for the one before, so that the last choice of a column counts. */
  let reading = /** @type {Promise<void>} */ (Promise.resolve());
  const read = () => (reading = reading.catch(() => {}).then(readNow));
  const readNow = async () => {
    const source = file ? { files: { list: file } } : { text: typed.value };
    const { job } = page.present;
    const { envelope } = await page.ask({ do: "list-read", job, columns, ...source });
    found = envelope;
    revision = job.revision ?? 0;
    showRead(page, envelope, columns, (theirs, ours) => {
      columns = { ...columns, [theirs]: ours };
      page.attempt(read);
    });
  };
  /** @param {File} chosen */
  const take = async (chosen) => {
    details.open = true;
    file = { name: chosen.name, bytes: await chosen.arrayBuffer() };
    columns = {};
    typed.value = "";
    await read();
  };
  typed.addEventListener("input", () => {
    file = null;
    result.hidden = true;
  });
  page.on("read-rows", () => {
    columns = file ? columns : {};
    return read();
  });
  page.on("open-csv", async (control) => {
    const [chosen] = control.files;
    control.value = "";
    if (chosen) await take(chosen);
  });
  page.addEventListener("list", (/** @type {any} */ { detail }) => page.attempt(() => take(detail)));
  page.on("take-rows", async () => {
    // Tapped before the rows are read with a column chosen just now.
    await reading.catch(() => {});
    const { outcome, job, read: ids = [], unread, headings } = found;
    if (outcome !== "list" || !ids.length) return;
    // Only if nobody has changed the job since it was read together with the list.
    await page.store.change((stored) => ({ ...stored, ...job, revision: stored.revision }), { revision });
    await page.show();
    result.hidden = true;
    file = null;
    typed.value = unread.length ? [headings, ...unread.map((/** @type {any} */ { cells }) => cells)].map(lineOfCells).join("\n") : "";
    page.tell([page.say("rows_added", { count: ids.length }), unread.length && page.say("rows_left")].filter(Boolean).join(" "));
  });
}

/** @param {string[]} cells */
const lineOfCells = (cells) => cells.map((cell) => (/[\t"\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join("\t");

/**
 * @param {import("./job.mjs").JobPage} page
 * @param {any} envelope
 * @param {Record<string, string>} columns
 * @param {(theirs: string, ours: string) => void} onColumn
 */
function showRead(page, { outcome, problems, read = [], columns: ours = [], headings = [] }, columns, onColumn) {
  const { say } = page;
  const result = page.find(".dw-job-read");
  result.hidden = false;
  const counts = [read.length ? say(read.length === 1 ? "read_row" : "read_rows", { count: read.length }) : say("read_none")];
  if (problems.length) counts.push(`${say(problems.length === 1 ? "one_problem" : "problems", { count: problems.length })}:`);
  result.querySelector('[data-part="read"]').textContent = counts.join(" ");
  const known = new Set(ours.map((/** @type {string} */ each) => each.toLowerCase()));
  const strange = headings.filter((/** @type {string} */ each) => each.trim() && (!known.has(each.trim().toLowerCase()) || each in columns));
  result.querySelector(".dw-job-columns").replaceChildren(...strange.map((/** @type {string} */ each) => columnChoice(page, each, ours, columns[each] ?? "", onColumn)));
  result.querySelector(".dw-job-problems").replaceChildren(
    ...problems.map((/** @type {any} */ each) => Object.assign(document.createElement("li"), { textContent: [each.field, sentenceOf(each)].filter(Boolean).join(": ") })),
  );
  const button = result.querySelector('[data-does="take-rows"]');
  button.hidden = outcome !== "list" || !read.length;
  button.textContent = say(read.length === 1 ? "add_row" : "add_rows", { count: read.length });
}

/**
 * @param {import("./job.mjs").JobPage} page
 * @param {string} theirs
 * @param {string[]} ours
 * @param {string} chosen
 * @param {(theirs: string, ours: string) => void} onColumn
 */
function columnChoice(page, theirs, ours, chosen, onColumn) {
  const label = document.createElement("label");
  const words = Object.assign(document.createElement("span"), { className: "dw-job-label", textContent: page.say("column_is", { name: theirs }) });
  const box = Object.assign(document.createElement("span"), { className: "dw-box" });
  const select = document.createElement("select");
  select.append(...["", ...ours].map((each) => Object.assign(document.createElement("option"), { value: each, textContent: each || page.say("left_out") })));
  select.value = chosen;
  select.addEventListener("change", () => onColumn(theirs, select.value));
  box.append(select);
  label.append(words, box);
  return label;
}

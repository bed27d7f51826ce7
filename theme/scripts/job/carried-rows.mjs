/** Texts of a series that the reader chose to keep where they were drawn: they become the rows of their marking. */

/** The value of a marking that carries them (SERIES_ROWS of calculators/job_fields.py). */
const CARRIED = "rows";

/** @param {import("./job.mjs").JobPage} page */
export function wireCarriedRows(page) {
  page.addEventListener("shown", () => page.attempt(() => take(page)), { signal: page.ended });
}

/** @param {import("./job.mjs").JobPage} page */
async function take(page) {
  const marking = page.present.job.markings?.find((/** @type {any} */ each) => each.values?.[CARRIED]);
  if (!marking) return;
  const { id, rows: before = [] } = marking;
  const rows = withWork(marking.values[CARRIED].text, before);
  await page.changeMarking(id, (each) => {
    delete each.values?.[CARRIED];
    if (rows) each.rows = rows;
  });
  await page.show();
  if (!rows) return;
  page.offerUndo(page.say("rows_kept", { count: rows.length, name: marking.name }), async () => {
    await page.changeMarking(id, (each) => void (each.rows = before));
    await page.show();
  });
}

/**
 * Returns rows for carried texts, or null if there are none to be read. What was done of a text that was there before
 * stays counted.
 * @param {string} carried JSON, a list of texts with their copies
 * @param {any[]} before
 */
export function withWork(carried, before) {
  const done = new Map(before.map((row) => [row.text, row]));
  try {
    return JSON.parse(carried).map((/** @type {[string, number]} */ [text, copies]) => ({ ...done.get(text), text, copies }));
  } catch {
    return null;
  }
}

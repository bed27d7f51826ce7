/** Texts of a series that the reader chose to keep where they were drawn: they become the rows of their marking. */

/**
 * Takes over what a marking carries. A bundle of its own: few jobs carry rows, and they do so once.
 * @param {import("./job.mjs").JobPage} page
 * @param {any} marking with the value `carried`
 * @param {string} carried
 */
export async function takeRows(page, marking, carried) {
  const { id, rows: before = [] } = marking;
  const rows = withWork(marking.values[carried].text, before);
  await page.changeMarking(id, (each) => {
    delete each.values?.[carried];
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

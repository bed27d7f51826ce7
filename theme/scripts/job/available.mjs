/** What there is to print with, and from where the models are looked at. */

/** @param {import("./job.mjs").JobPage} page */
export function wireAvailable(page) {
  const details = page.find(".dw-job-available");
  page.editing.bind(details, { part: "job" });
  const boxes = [...details.querySelectorAll("[data-list] input")];
  for (const box of boxes) {
    box.addEventListener("change", () => {
      // The job is shown again while this waits to be stored.
      const isChosen = box.checked;
      page.attempt(() => page.change((job) => {
        const available = (job.available ??= {});
        const list = listOf(box);
        const others = (available[list] ?? []).filter((/** @type {string} */ each) => each !== box.value);
        available[list] = isChosen ? [...others, box.value] : others;
      }));
    });
  }
  page.addEventListener("shown", () => {
    const { job } = page.present;
    page.editing.write(details, { part: "job" }, job);
    for (const box of boxes) box.checked = job.available?.[listOf(box)]?.includes(box.value) ?? false;
  });
}

/** @param {Element} box @returns {string} */
const listOf = (box) => /** @type {any} */ (box.closest("[data-list]")).dataset.list;

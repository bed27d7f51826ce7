/** What few calculators have is loaded where one has it. theme/main.html preloads it. */

/**
 * @param {HTMLElement} root a .dw-calculator
 * @param {object} to
 * @param {Promise<void>} to.written settles once stored values are in the form, which empties the field of the job
 * @param {(result: string) => {name: string, bytes: ArrayBuffer} | undefined} to.file returns the file of a result
 * @param {(field: HTMLElement, file: any) => void} to.hold puts a file into a field, and asks
 * @param {AbortSignal} to.signal ends the listening
 * @param {Say} to.say
 * @param {import("../keep/store.mjs").Store} to.store
 * @returns {Promise<void>} settles once the form has the stored values, and the whole job if it takes one
 */
export async function mountSeldom(root, { written, file, hold, signal, say, store }) {
  if (root.querySelector(".dw-sheet-handle")) (await import("alone-sheet")).wireSheet(root, signal);
  if (root.querySelector(".dw-propose")) (await import("alone-proposing")).wireProposals(root, file, say);
  const form = root.querySelector(".dw-form");
  const job = form.querySelector(".dw-whole-job");
  const handed = job && Promise.all([import("alone-whole-job"), written]).then(([{ handJob }]) => handJob(job, { hold, signal, store }));
  const taps = form.querySelector("[data-taps]");
  if (taps) (await import("alone-bridges")).wireBridges(root, taps, signal);
  if (form.querySelector(".dw-eyedropper")) (await import("alone-eyedropper")).listenForPicks(form, { signal, say });
  await (handed ?? written);
}

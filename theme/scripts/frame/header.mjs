/**
 * The header's button for millimetres or inches, and its link to the job.
 */

/**
 * Wires the header, which stays for the whole visit.
 * @param {import("./units.mjs").Units} units
 * @param {(key: string, parts?: object) => string} say
 */
export function startHeader(units, say) {
  const unitButton = document.querySelector(".dw-units");
  if (unitButton) {
    const show = () => {
      unitButton.setAttribute("aria-pressed", String(units.displayed === "in"));
      unitButton.dataset.unit = units.displayed;
      unitButton.title = say(units.displayed === "in" ? "show_millimetres" : "show_inches");
    };
    unitButton.addEventListener("click", () => units.toggle());
    units.addEventListener("change", show);
    show();
  }
  const job = document.querySelector(".dw-job-link");
  if (!job) return;
  // The header stays while the address changes, so the link must not depend on it.
  job.href = String(job.href);
  const mark = () => (document.querySelector(".dw-job") ? job.setAttribute("aria-current", "page") : job.removeAttribute("aria-current"));
  if (globalThis.document$) globalThis.document$.subscribe(mark);
  else mark();
}

/**
 * The header's buttons: millimetres or inches, and saving for offline use.
 */

/**
 * Wires the header, which stays for the whole visit.
 * @param {import("./units.mjs").Units} units
 * @param {EventTarget & {state: string, share: number, begin: () => void}} offline
 * @param {(key: string, parts?: object) => string} say
 */
export function startHeader(units, offline, say) {
  const unitButton = document.querySelector(".dw-units");
  const offlineButton = document.querySelector(".dw-offline");
  if (unitButton) {
    const show = () => {
      unitButton.setAttribute("aria-pressed", String(units.shown === "in"));
      unitButton.dataset.unit = units.shown;
      unitButton.title = say(units.shown === "in" ? "show_millimetres" : "show_inches");
    };
    unitButton.addEventListener("click", () => units.toggle());
    units.addEventListener("change", show);
    show();
  }
  if (offlineButton) {
    const words = offlineButton.querySelector("[data-part=words]");
    const show = () => {
      offlineButton.dataset.state = offline.state;
      words.textContent = say(`offline_${offline.state}`, { percent: Math.floor(100 * offline.share) });
    };
    offlineButton.addEventListener("click", () => offline.begin());
    offline.addEventListener("state", show);
    show();
  }
}

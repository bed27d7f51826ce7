/** Which marking of which job this tab works on. Each tab has its own, so that two can work side by side. */

const KEY = "decalwright-current";

/** @typedef {import("./store.mjs").Target} Target */

let chosen = /** @type {Target} */ ({ job: null, marking: null });
try {
  const { job = null, marking = null } = JSON.parse(sessionStorage.getItem(KEY) ?? "{}");
  chosen = { job, marking };
} catch {
  // Without sessionStorage the tab begins with what was current last on this device.
}

/** @returns {Target} nulls if the tab has not chosen */
export const current = () => chosen;

/** @param {Target} target */
export function remember(target) {
  chosen = target;
  try {
    sessionStorage.setItem(KEY, JSON.stringify(target));
  } catch {
    // It holds for this visit.
  }
}

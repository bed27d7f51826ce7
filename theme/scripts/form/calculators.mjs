/**
 * The calculators of a page, and what they share for the whole visit. A separate bundle, since pages without a
 * calculator do not need it.
 */

import { engine } from "../../engine/visit.mjs";
import * as arrived from "../keep/arrived.mjs";
import { store } from "../keep/device.mjs";
import { wireChoices } from "./choices.mjs";
import { Form } from "./form.mjs";
import { startLoading } from "./loading.mjs";
import { keepInSight } from "./verdict-line.mjs";

let isLoadingWired = false;

/** @param {HTMLElement} box for a picture from another app */
function showPicture(box) {
  const shown = import("alone-arrival").then(({ showArrival }) => showArrival(box, arrived));
  return {
    /** Frees the picture, however late it came. */
    async end() {
      (await shown).end();
    },
  };
}

/**
 * Shows which marking the page works on, once there is one.
 * @param {Say} say
 */
function watchMarking(say) {
  const ending = new AbortController();
  const { signal } = ending;
  let strip = /** @type {Promise<() => Promise<void>> | null} */ (null);
  /** @param {string | null | undefined} marking */
  const show = async (marking) => {
    if (!marking || strip || signal.aborted) return;
    strip = import("alone-strip").then((/** @type {any} */ { showStrip }) => showStrip(document.querySelector(".dw-article"), { store, say, signal }));
    try {
      await (await strip)();
    } catch (error) {
      if (!(error instanceof TypeError)) throw error;
      strip = null; // Its bundle did not come. The next change asks for it again.
    }
  };
  for (const event of ["wrote", "changed"]) store.addEventListener(event, (/** @type {any} */ { detail }) => show(detail.marking), { signal });
  store.present().then(({ marking }) => show(marking), () => {}); // The form tells what cannot be read.
  return { end: () => ending.abort() };
}

/**
 * Mounts the calculators of the page, or a picture from another app.
 * @param {Omit<import("./form.mjs").Visit, "engine" | "store"> & {foot: HTMLElement}} visit
 * @returns {{end: () => void}[]}
 */
export function mount({ units, say, answered, foot }) {
  if (!isLoadingWired) startLoading(engine, foot, say);
  isLoadingWired = true;
  const forms = [...document.querySelectorAll(".dw-calculator")].map((root) => {
    const form = new Form(root, { engine, units, store, say, answered });
    wireChoices(root, form.ended);
    keepInSight(root, say, form.ended);
    return form;
  });
  const strip = forms.length ? [watchMarking(say)] : [];
  // Only after stored values have filled the form, or they would overwrite the picture.
  if (location.hash === arrived.TAKES_ARRIVED) forms[0]?.filled.then(() => arrived.handOver(forms[0].element));
  return [...forms, ...strip, ...[...document.querySelectorAll(".dw-arrived")].map(showPicture)];
}

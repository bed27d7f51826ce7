/**
 * The calculators of a page, and what they share for the whole visit. A separate bundle, since pages without a
 * calculator do not need it.
 */

import { engine } from "../../engine/visit.mjs";
import { showArrival } from "../keep/arrival.mjs";
import { handOver, TAKES_ARRIVED } from "../keep/arrived.mjs";
import { store } from "../keep/device.mjs";
import { Form } from "./form.mjs";
import { startLoading } from "./loading.mjs";
import { wireChoices, wireSheet } from "./sheet.mjs";
import { keepInSight } from "./verdict-line.mjs";

let isLoadingWired = false;

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
    wireSheet(root, form.ended);
    wireChoices(root, form.ended);
    keepInSight(root, say, form.ended);
    return form;
  });
  // Only after stored values have filled the form, or they would overwrite the picture.
  if (location.hash === TAKES_ARRIVED) forms[0]?.filled.then(() => handOver(forms[0].element));
  return [...forms, ...[...document.querySelectorAll(".dw-arrived")].map(showArrival)];
}

/**
 * The calculators of a page, and what they share for the whole visit. A bundle of its own: pages without a calculator do
 * without it.
 */

import { config, engine } from "../../engine/visit.mjs";
import { showArrival } from "../keep/arrival.mjs";
import { handOver, TAKES_ARRIVED } from "../keep/arrived.mjs";
import { Store } from "../keep/store.mjs";
import { Form } from "./form.mjs";
import { startLoading } from "./loading.mjs";
import { wireChoices, wireSheet } from "./sheet.mjs";
import { keepInSight } from "./verdict-line.mjs";

const migrate = async (job) => {
  const { envelope } = await engine.ask({ do: "migrate", job }, { limitMs: 20_000 });
  return envelope.outcome === "job" ? envelope.job : null;
};

// Made as soon as this comes: it keeps what an earlier page could not keep any more.
const store = new Store(config.jobFormat, migrate);

let loadingTold = false;

/**
 * Mounts the calculators of the page, or a picture that is to go to one.
 * @param {Omit<import("./form.mjs").Visit, "engine" | "store"> & {foot: HTMLElement}} visit
 * @returns {{end: () => void}[]}
 */
export function mount({ units, say, answered, foot }) {
  if (!loadingTold) startLoading(engine, foot, say);
  loadingTold = true;
  const forms = [...document.querySelectorAll(".dw-calculator")].map((root) => {
    const form = new Form(root, { engine, units, store, say, answered });
    wireSheet(root, form.ended);
    wireChoices(root, form.ended);
    keepInSight(root, say, form.ended);
    return form;
  });
  // After what was kept stands in the form: it would be written over the picture, and the rest of it would be lost.
  if (location.hash === TAKES_ARRIVED) forms[0]?.filled.then(() => handOver(forms[0].element));
  return [...forms, ...[...document.querySelectorAll(".dw-arrived")].map(showArrival)];
}

/**
 * The calculators of a page, and what they share for the whole visit. A bundle of its own: pages without a calculator do
 * without it.
 */

import { config, engine } from "../../engine/visit.mjs";
import { Store } from "../keep/store.mjs";
import { Form } from "./form.mjs";

const migrate = async (job) => {
  const { envelope } = await engine.ask({ do: "migrate", job }, { limitMs: 20_000 });
  return envelope.outcome === "job" ? envelope.job : null;
};

// Made as soon as this comes: it keeps what an earlier page could not keep any more.
const store = new Store(config.jobFormat, migrate);

/**
 * Mounts the calculators of the page.
 * @param {Omit<import("./form.mjs").Visit, "engine" | "store">} visit
 * @returns {Form[]}
 */
export function mount({ units, say, answered }) {
  return [...document.querySelectorAll(".dw-calculator")].map((root) => new Form(root, { engine, units, store, say, answered }));
}

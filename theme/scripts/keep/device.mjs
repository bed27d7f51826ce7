/** The store of the visit; tests look at it as dwStore. Whoever imports it begins it, since it stores what an earlier page could not store in time. */

import { config, engine } from "../../engine/visit.mjs";
import { Store } from "./store.mjs";

/** @param {object} job */
const migrate = async (job) => {
  const { envelope } = await engine.ask({ do: "job-migrate", job, facts: {} }, { limitMs: 20_000 });
  return envelope.outcome === "job" ? envelope.job : null;
};

/** @type {Store} */
export const store = (globalThis.dwStore ??= new Store(config.job, migrate));

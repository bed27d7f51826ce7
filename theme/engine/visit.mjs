// Shared by the whole visit: the builder's configuration, the site's root, and the engine.
import shared from "shared-config";

import { Engine } from "./engine.mjs";

/**
 * What the builder wrote: {messages, job (builder/job_places.py), titles of calculators by id}, the same for every page and a file of its own (builder/assets.py), and
 * in the page itself {base, engine, newFile} (theme/main.html).
 */
export const config = { ...shared, ...JSON.parse(document.querySelector("#dw-config").textContent) };

/** The address of the site's root, as this visit began: instant navigation changes the page's address, not this. */
export const base = new URL(config.base.replace(/\/?$/, "/"), document.baseURI);

/** The engine of the visit; tests look at it as dwEngine. */
export const engine = (globalThis.dwEngine ??= new Engine(config.engine, base));

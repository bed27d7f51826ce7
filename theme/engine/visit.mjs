// What the whole visit shares: what the builder told the page, the site's root, and the one engine.
import { Engine } from "./engine.mjs";

/** What the builder wrote into the page: {engine, base, messages, jobFormat, newFile}. */
export const config = JSON.parse(document.getElementById("dw-config").textContent);

/** The address of the site's root, as this visit began: instant navigation changes the page's address, not this. */
export const base = new URL(config.base.replace(/\/?$/, "/"), document.baseURI);

/** The engine of the visit; tests look at it as dwEngine. */
export const engine = (globalThis.dwEngine ??= new Engine(config.engine, base));

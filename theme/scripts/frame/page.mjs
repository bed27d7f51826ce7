/**
 * The script that every page loads. It runs once per visit; on each page that instant navigation brings, it loads and
 * mounts what the page needs.
 */

import { Editions } from "../../engine/editions.mjs";
import { offline } from "../../engine/offline.mjs";
import { config, engine } from "../../engine/visit.mjs";
import { BenchStore } from "../bench/bench-store.mjs";
import { TimerStrip } from "../bench/timer-strip.mjs";
import { Timers } from "../bench/timers.mjs";
import { isNoteLeft } from "../keep/leaving.mjs";
import { start as startFind } from "./find.mjs";
import { startHeader } from "./header.mjs";
import { startPalette } from "./palette.mjs";
import { start as startRule } from "./rule.mjs";
import { startEditions, startSaving } from "./saving.mjs";
import { Units } from "./units.mjs";
import { startUnfolding } from "./unfold.mjs";
import { tellUnstarted } from "./unstarted.mjs";
import { wordsFrom } from "./words.mjs";

/**
 * Bundles that only some pages need. Each exports mount(visit), which returns objects to end with the page.
 * theme/main.html preloads those that a page will need. `missing` is called if a bundle fails to load.
 */
const PARTS = [
  {
    needed: () => has(".dw-calculator") || has(".dw-arrived") || isNoteLeft(),
    load: () => import("../form/calculators.mjs"),
    missing: () => tellUnstarted(say),
  },
  {
    needed: () => has(".dw-job"),
    load: () => import("../job/job.mjs"),
    missing: () => tellUnstarted(say),
  },
  {
    needed: () => has(".dw-bench-open"),
    load: () => import("../bench/bench.mjs"),
    // The how-to stays readable as printed.
    missing: () => document.querySelector(".dw-bench-open").remove(),
  },
  {
    needed: () => has(".dw-of-job"),
    load: () => import("../job/of-job.mjs"),
    missing: () => {}, // The page's own words stay.
  },
  {
    needed: () => has(".dw-data-tools"),
    load: () => import("./tables.mjs"),
    missing: () => {}, // The tools stay hidden until loaded.
  },
];
/** @param {string} selector */
const has = (selector) => document.querySelector(selector) !== null;

const say = wordsFrom(config.messages);
const foot = document.querySelector(".dw-foot");
const benchStore = new BenchStore();
const strip = new TimerStrip(new Timers(benchStore), benchStore, say, foot);
const saving = startSaving(offline, foot, say);
// Offer to save once a calculator has answered, when the reader knows what there is to save.
const visit = { units: new Units(), say, answered: () => saving.ask(), benchStore, foot };

// Answer questions first: saving would use half of a small processor or slow connection, and much memory.
const rest = () => offline.rest(engine.working || engine.state === "loading");
engine.addEventListener("work", rest);
engine.addEventListener("state", rest);

/** @typedef {{end: () => void}} Mounted */

/** Everything mounted on the current page. */
let mounted = /** @type {Mounted[]} */ ([]);

function mountPage() {
  for (const each of mounted) each.end();
  /** @type {Mounted[]} */
  const page = (mounted = []);
  strip.mount(document);
  for (const part of PARTS) {
    if (part.needed()) mountPart(part, page);
  }
}

/**
 * @param {{load: () => Promise<any>, missing: () => void}} part
 * @param {Mounted[]} page
 */
async function mountPart({ load, missing }, page) {
  let part;
  try {
    part = await load();
  } catch (error) {
    console.error("A script of this page failed to load.", error);
    if (page === mounted) missing();
    return;
  }
  // The reader may have left meanwhile.
  if (page === mounted) page.push(...part.mount(visit));
}

if (document.querySelector(".dw-offline")) startEditions(new Editions(), foot, say);
startPalette();
startHeader(visit.units, say);
startFind();
startRule();
startUnfolding();
if (globalThis.document$) globalThis.document$.subscribe(mountPage);
else mountPage();
offline.resume();

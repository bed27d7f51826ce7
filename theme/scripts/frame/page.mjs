/**
 * The script that every page loads. Runs once a visit; on every page that the theme's instant navigation brings it loads
 * what that page needs, and mounts it.
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
import { start as startRule } from "./rule.mjs";
import { startEditions, startSaving } from "./saving.mjs";
import { Units } from "./units.mjs";
import { startUnfolding } from "./unfold.mjs";
import { tellUnstarted } from "./unstarted.mjs";
import { wordsFrom } from "./words.mjs";

/**
 * What only some pages need, each a bundle of its own: it exports mount(visit), which returns what is to end with the page.
 * theme/main.html lets a page fetch early what it will ask for here. `missing` is for a bundle that did not come.
 */
const PARTS = [
  {
    needed: () => has(".dw-calculator") || has(".dw-arrived") || isNoteLeft(),
    load: () => import("../form/calculators.mjs"),
    missing: () => tellUnstarted(say),
  },
  {
    needed: () => has(".dw-bench-open"),
    load: () => import("../bench/bench.mjs"),
    // The how-to is read as it is printed then.
    missing: () => document.querySelector(".dw-bench-open").remove(),
  },
  {
    needed: () => has(".dw-data-tools"),
    load: () => import("./tables.mjs"),
    missing: () => {}, // Its tools are hidden until they come.
  },
];
const has = (selector) => document.querySelector(selector) !== null;

const say = wordsFrom(config.messages);
const foot = document.querySelector(".dw-foot");
const benchStore = new BenchStore();
const strip = new TimerStrip(new Timers(benchStore), benchStore, say, foot);
const saving = startSaving(offline, foot, say);
// Once a calculator has answered, the reader has seen what there is to save.
const visit = { units: new Units(), say, answered: () => saving.ask(), benchStore, foot };

// What the reader has asked comes first: saving would take half of a small machine or of a slow line, and much memory.
const rest = () => offline.rest(engine.working || engine.state === "loading");
engine.addEventListener("work", rest);
engine.addEventListener("state", rest);

/** The page that is shown: what is mounted on it. */
let shown = [];

function mountPage() {
  for (const each of shown) each.end();
  const page = (shown = []);
  strip.mount(document);
  for (const part of PARTS) {
    if (part.needed()) mountPart(part, page);
  }
}

async function mountPart({ load, missing }, page) {
  let part;
  try {
    part = await load();
  } catch (error) {
    console.error("A script of this page did not come.", error);
    if (page === shown) missing();
    return;
  }
  // The reader may have gone on meanwhile.
  if (page === shown) page.push(...part.mount(visit));
}

if (document.querySelector(".dw-offline")) startEditions(new Editions(), foot);
startHeader(visit.units, say);
startFind();
startRule();
startUnfolding();
if (globalThis.document$) globalThis.document$.subscribe(mountPage);
else mountPage();
offline.resume();

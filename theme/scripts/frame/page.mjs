/**
 * The one entry of the page's scripts. Runs once a visit; mounts the calculators of every page that
 * the theme's instant navigation brings.
 */

import { offline } from "../../engine/offline.mjs";
import { base, config, engine } from "../../engine/visit.mjs";
import { BenchStore } from "../bench/bench-store.mjs";
import { Bench } from "../bench/bench.mjs";
import { start as startFind } from "./find.mjs";
import { Form } from "../form/form.mjs";
import { startHeader } from "./header.mjs";
import { start as startRule } from "./rule.mjs";
import { Store } from "../keep/store.mjs";
import { mountTables } from "./tables.mjs";
import { TimerStrip } from "../bench/timer-strip.mjs";
import { Timers } from "../bench/timers.mjs";
import { Units } from "./units.mjs";
import { wordsFrom } from "./words.mjs";

const say = wordsFrom(config.messages);

const migrate = async (job) => {
  const { envelope } = await engine.ask({ do: "migrate", job }, { limitMs: 20_000 });
  return envelope.outcome === "job" ? envelope.job : null;
};

/** @type {import("../form/form.mjs").Visit} */
const visit = {
  engine,
  units: new Units(),
  store: new Store(config.jobFormat, migrate),
  say,
  answered: () => offline.begin(),
};

// What the reader has asked comes first: saving would take half of a small machine, and much memory.
engine.addEventListener("work", () => offline.rest(engine.working));

const foot = document.querySelector(".dw-foot");
const benchStore = new BenchStore();
const strip = new TimerStrip(new Timers(benchStore), benchStore, say, foot);

let mounted = [];

function mountPage() {
  for (const form of mounted) form.end();
  mounted = [...document.querySelectorAll(".dw-calculator")].map((root) => new Form(root, visit));
  const article = document.querySelector(".dw-article:has(> .dw-bench-open)");
  strip.mount(document);
  if (article) mounted.push(new Bench(article, { page: location.pathname.slice(base.pathname.length), store: benchStore, say, foot }));
  mountTables(say);
}

startHeader(visit.units, offline, say);
startFind();
startRule();
if (globalThis.document$) globalThis.document$.subscribe(mountPage);
else mountPage();

/**
 * The one entry of the page's scripts. Runs once a visit; mounts the calculators of every page that
 * the theme's instant navigation brings.
 */

import { offline } from "../engine/offline.mjs";
import { config, engine } from "../engine/visit.mjs";
import { start as startFind } from "./find.mjs";
import { Form } from "./form.mjs";
import { startHeader } from "./header.mjs";
import { start as startRule } from "./rule.mjs";
import { Store } from "./store.mjs";
import { mountTables } from "./tables.mjs";
import { Units } from "./units.mjs";
import { wordsFrom } from "./words.mjs";

const say = wordsFrom(config.messages);

const migrate = async (job) => {
  const { envelope } = await engine.ask({ do: "migrate", job }, { limitMs: 20_000 });
  return envelope.outcome === "job" ? envelope.job : null;
};

/** @type {import("./form.mjs").Visit} */
const visit = {
  engine,
  units: new Units(),
  store: new Store(config.jobFormat, migrate),
  say,
  answered: () => offline.begin(),
};

let mounted = [];

function mountPage() {
  for (const form of mounted) form.end();
  mounted = [...document.querySelectorAll(".dw-calculator")].map((root) => new Form(root, visit));
  mountTables(say);
}

startHeader(visit.units, offline, say);
startFind();
startRule();
if (globalThis.document$) globalThis.document$.subscribe(mountPage);
else mountPage();

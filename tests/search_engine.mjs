// Find… without a browser: our search worker and the theme's, with the index of a built site, answer questions as they do in the page.
// node search_engine.mjs <site> <questions as JSON>: prints, for each, the addresses found, the best first.
import { readFile, readdir } from "node:fs/promises";
import { runInThisContext } from "node:vm";

const [site, questions] = process.argv.slice(2);
const workers = `${site}/assets/javascripts/workers`;
const theirs = (await readdir(workers)).find((name) => /^search\..*\.js$/.test(name));

const listeners = [];
let answered;
globalThis.self = globalThis;
globalThis.location = { href: `http://site/assets/x/scripts/search-worker.mjs?${theirs}` };
globalThis.addEventListener = (type, act) => type === "message" && listeners.push(act);
globalThis.dispatchEvent = (event) => {
  for (const act of listeners) {
    if (event.stopped) break;
    act(event);
  }
};
globalThis.MessageEvent = class {
  constructor(type, { data }) {
    Object.assign(this, { type, data, stopped: false });
  }
  stopImmediatePropagation() {
    this.stopped = true;
  }
};
globalThis.postMessage = (message) => message.type === 3 && answered?.(message.data);
globalThis.fetch = async () => ({ ok: true, json: async () => JSON.parse(await readFile(`${site}/search/whole_index.json`, "utf8")) });
const source = await readFile(`${workers}/${theirs}`, "utf8");
globalThis.importScripts = () => runInThisContext(source);

const ours = (await readdir(`${site}/assets`, { recursive: true })).find((name) => name.endsWith("scripts/search-worker.mjs"));
runInThisContext(await readFile(`${site}/assets/${ours}`, "utf8"));

const { config } = JSON.parse(await readFile(`${site}/search/search_index.json`, "utf8"));
const hand = (data) => dispatchEvent(new MessageEvent("message", { data }));
hand({ type: 0, data: { config, docs: [], options: { suggest: false } } });
const found = {};
for (const question of JSON.parse(questions)) {
  const come = new Promise((resolve) => (answered = resolve));
  hand({ type: 2, data: question });
  const { items } = await come;
  found[question] = [...new Set(items.map(([first]) => first.location.split("#")[0]))];
}
console.log(JSON.stringify(found));

/** A job as one file: saved, opened by a button or by dropping it on the page; the demo job; the list as CSV. */

import { base } from "../../engine/visit.mjs";
import { shownName, sizeText } from "../frame/words.mjs";
import { sentenceOf } from "./editing.mjs";
import { Trouble } from "./trouble.mjs";

const DEMO = "job/demo-job.zip";
/** In the address of the page: the demo job is to be opened. */
const DEMO_ASKED = "demo";

/** @param {import("./job.mjs").JobPage} page */
export function wireTransfer(page) {
  page.on("save", () => save(page));
  page.on("open", async (control) => {
    const [file] = control.files;
    control.value = "";
    if (file) await open(page, file.name, await file.arrayBuffer());
  });
  const openDemo = async () => {
    const response = await fetch(new URL(DEMO, base)).catch(() => /** @type {any} */ (null));
    if (response?.ok) await open(page, DEMO.slice(4), await response.arrayBuffer());
    else throw new Trouble("demo_failed");
  };
  page.on("demo", openDemo);
  if (location.hash === `#${DEMO_ASKED}`) {
    // Once: not when the page is loaded again.
    history.replaceState(history.state, "", location.pathname);
    page.addEventListener("shown", () => page.attempt(openDemo), { once: true });
  }
  page.on("csv", async () => {
    const { envelope, buffers } = await page.ask({ do: "list-write", job: page.present.job });
    if (envelope.outcome === "saved") offer(page, buffers[0], `${fileName(page)}.csv`, "text/csv");
    else page.trouble(sentenceOf(envelope.problems[0]));
  });
  const options = { signal: page.ended };
  page.root.ownerDocument.addEventListener("dragover", (event) => event.dataTransfer?.types.includes("Files") && event.preventDefault(), options);
  page.root.ownerDocument.addEventListener("drop", (event) => {
    const file = event.dataTransfer?.files[0];
    if (!file) return;
    event.preventDefault();
    page.attempt(async () => {
      const isList = /\.(csv|tsv|txt)$/i.test(file.name);
      if (isList) page.dispatchEvent(new CustomEvent("list", { detail: file }));
      else await open(page, file.name, await file.arrayBuffer());
    });
  }, options);
}

/** @param {import("./job.mjs").JobPage} page */
const fileName = (page) => shownName(page.present.job.name || "job").replace(/[/\\:*?"<>|]+/g, " ").trim() || "job";

/** @param {import("./job.mjs").JobPage} page */
async function save(page) {
  const { job } = page.present;
  page.tell(page.say("saving"));
  /** @type {Record<string, any>} */
  const files = {};
  for (const { hash, name } of filesIn(job)) {
    const bytes = await page.store.bytes(hash);
    if (!bytes) {
      page.tell("");
      page.trouble(page.say("no_file", { name: shownName(name) }));
      return;
    }
    files[hash] = { name, bytes };
  }
  const facts = await page.store.facts(Object.keys(files));
  const { envelope, buffers } = await page.ask({ do: "job-save", job, facts, files });
  page.tell("");
  if (envelope.outcome === "saved") offer(page, buffers[envelope.buffer], `${fileName(page)}.zip`, "application/zip");
  else page.trouble(sentenceOf(envelope.problems[0]));
}

/**
 * Lets the browser save bytes as a file.
 * @param {import("./job.mjs").JobPage} page
 * @param {ArrayBuffer} bytes
 * @param {string} name
 * @param {string} media
 */
function offer(page, bytes, name, media) {
  const href = URL.createObjectURL(new Blob([bytes], { type: media }));
  const link = Object.assign(document.createElement("a"), { href, download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(href), 60_000);
  page.tell(page.say("saved", { name, size: sizeText(bytes.byteLength) }));
}

/**
 * Opens a saved job beside those that are here. Nothing is stored unless all of it could be read.
 * @param {import("./job.mjs").JobPage} page
 * @param {string} name
 * @param {ArrayBuffer} bytes
 */
async function open(page, name, bytes) {
  page.tell(page.say("opening", { name: shownName(name) }));
  const { envelope, buffers } = await page.ask({ do: "job-open", files: { job: { name, bytes } } });
  page.tell("");
  if (envelope.outcome !== "job") {
    page.trouble(sentenceOf(envelope.problems[0]));
    return;
  }
  const files = envelope.files.map((/** @type {any} */ { hash, buffer }) => ({ hash, bytes: buffers[buffer] }));
  await page.store.newJob(envelope.job, files);
  await page.store.putFacts(envelope.facts);
  await page.show();
  page.tell(page.say("opened", { name: shownName(envelope.job.name || name) }));
  await page.checks.run();
}

/** @param {any} job @returns {{hash: string, name: string}[]} every file of a job, once */
function filesIn(job) {
  const found = new Map();
  const take = (/** @type {any} */ file) => found.set(file.hash, file);
  for (const each of [job, ...(job.markings ?? [])]) {
    for (const entry of Object.values(each.calculators ?? {})) Object.values(entry.files ?? {}).forEach(take);
    for (const { file } of Object.values(each.files ?? {})) take(file);
  }
  return [...found.values()];
}

/** The jobs on this device, and the room that they take. */

import { sizeText } from "../frame/words.mjs";

/** @param {import("./job.mjs").JobPage} page */
export function wireJobs(page) {
  const details = page.find(".dw-job-jobs");
  let addresses = /** @type {string[]} */ ([]);
  const free = () => addresses.splice(0).forEach((each) => URL.revokeObjectURL(each));
  let shows = 0;
  const show = async () => {
    if (!details.open) return;
    const turn = ++shows;
    const jobs = await page.store.jobs();
    const rows = await Promise.all(jobs.map((/** @type {any} */ each) => jobRow(page, each)));
    if (turn !== shows) return;
    free();
    addresses = rows.map(({ address }) => address).filter(Boolean);
    page.find(".dw-jobs").replaceChildren(...rows.map(({ row }) => row));
    page.find(".dw-job-room").textContent = await roomText(page);
  };
  details.addEventListener("toggle", () => page.attempt(show));
  page.addEventListener("shown", () => page.attempt(show));
  page.addEventListener("end", free);
  page.on("new-job", async () => {
    await page.store.newJob();
    await page.show();
    page.find('[data-attribute="name"]').focus();
  });
}

/** @returns {any} */
const nothing = () => null;

/**
 * @param {import("./job.mjs").JobPage} page
 * @param {any} facts
 */
async function jobRow(page, { id, name, changed, markings, bytes, picture }) {
  const { say } = page;
  const row = Object.assign(document.createElement("li"), { className: "dw-job-saved" });
  const shown = name || say("job");
  const small = picture && (await page.store.thumbnail(picture).catch(nothing));
  const address = small ? URL.createObjectURL(small) : null;
  const thumb = Object.assign(document.createElement("span"), { className: "dw-marking-picture" });
  if (address) thumb.append(Object.assign(new Image(), { src: address, alt: "" }));
  const words = document.createElement("div");
  const count = say(markings === 1 ? "one_marking" : "markings", { count: markings });
  const date = new Date(changed).toLocaleString(document.documentElement.lang, { dateStyle: "medium", timeStyle: "short" });
  words.append(
    Object.assign(document.createElement("strong"), { textContent: shown }),
    Object.assign(document.createElement("span"), { className: "dw-job-note", textContent: say("job_facts", { markings: count, size: sizeText(bytes), date }) }),
  );
  const tools = Object.assign(document.createElement("div"), { className: "dw-job-tools" });
  const isHere = id === page.present.id;
  if (isHere) tools.append(Object.assign(document.createElement("span"), { className: "dw-job-note", textContent: say("here_now") }));
  /** @type {[string, string, () => Promise<void>][]} */
  const acts = [["copy", "copy_job", () => page.store.copyJob(id).then(() => page.show())], ["delete", "delete_job", () => deleteJob(page, id, shown)]];
  if (!isHere) acts.unshift(["open", "open_job", () => page.store.openJob(id).then(() => page.show())]);
  for (const [key, label, act] of acts) {
    const button = Object.assign(document.createElement("button"), { type: "button", textContent: say(key) });
    button.setAttribute("aria-label", say(label, { name: shown }));
    button.addEventListener("click", () => page.attempt(act));
    tools.append(button);
  }
  row.append(thumb, words, tools);
  return { row, address };
}

/**
 * @param {import("./job.mjs").JobPage} page
 * @param {string} id
 * @param {string} name
 */
async function deleteJob(page, id, name) {
  const restore = await page.store.deleteJob(id);
  await page.show();
  page.offerUndo(page.say("deleted", { name }), async () => {
    await restore();
    await page.show();
  });
}

/** @param {import("./job.mjs").JobPage} page */
async function roomText(page) {
  const { usage } = (await navigator.storage?.estimate?.()) ?? {};
  if (!usage) return "";
  // Asked only here, where it is explained: some browsers put a question to the reader.
  const isPersistent = (await navigator.storage.persisted?.()) || (await navigator.storage.persist?.()) || false;
  return `${page.say("room", { used: sizeText(usage) })} ${page.say(isPersistent ? "room_kept" : "room_not_kept")}`;
}

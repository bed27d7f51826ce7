/**
 * What a store does besides keeping the input of forms: several jobs, changes of a whole job, files and what is known of
 * them. A bundle of its own, which `store.mjs` loads when it is first asked for: no page needs it to begin with. So nothing that
 * it imports may hold anything.
 *
 * @typedef {import("./store.mjs").Store} Store
 */

import { DELETED, FACTS, FILES, filesOf, JOBS, newJobId, OLD_JOB, PRESENT, STATE, SUMMARIES, THUMBNAILS, VERDICTS, writeJob } from "./layout.mjs";
import { forgetTyped, removeMarking } from "./markings.mjs";
import { byId, holderOf, numbered } from "./places.mjs";
import { Settling } from "./settling.mjs";
import { smallPicture } from "./thumbnails.mjs";

/** For so long a deleted job or marking can come back, if only its page is still open. */
const UNDO_MS = 3_600_000;

// -- The current job ------------------------------------------------------------------------------

/**
 * Changes the current job, or a new one, by `act(job)`, which changes plain JSON or returns another, all at once. Rejects
 * with `NotStored`: "changed" if the stored job has another `revision`; nothing is written then.
 * @param {Store} store
 * @param {(job: any) => any} act
 * @param {{revision?: number}} [only]
 * @returns {Promise<any>} the new job
 */
export async function change(store, act, { revision } = {}) {
  await store.ready();
  /** @type {any} */
  let changed;
  await store.write({ target: store.target }, async (job) => {
    if (revision !== undefined && revision !== (job.revision ?? 0)) store.refuse("changed");
    const before = structuredClone(job);
    changed = act(job) ?? job;
    forgetTyped(store.places, before, changed);
    return changed;
  });
  return changed;
}

/**
 * Takes over into the attributes of the job what Python could read of the shared values of a form; what it could not
 * read leaves them undecided.
 * @param {Store} store
 * @param {string} calculator id
 * @param {Record<string, {text: string, isRead: boolean}>} typed by the names of the values
 */
export async function settle(store, calculator, typed) {
  const { target } = store;
  /** @param {any} job @param {any} marking */
  const facts = (job, marking) => JSON.stringify([marking, holderOf(job, marking), job.models, job.available]);
  /** @param {any} job @param {any} marking */
  const isNews = (job, marking) => {
    if (!marking) return false;
    const before = facts(job, marking);
    new Settling(store.places, job, holderOf(job, marking)).settle(typed);
    return facts(job, marking) !== before;
  };
  if (!(await store.read(async (_, { job, marking }) => isNews(job, marking)))) return;
  await store.write({ calculator, target }, async (job, marking) => void isNews(job, marking));
}

/**
 * Makes a marking of the current job the current one, in this tab and in those that are opened later.
 * @param {Store} store
 * @param {string} marking id
 */
export async function choose(store, marking) {
  const { id, job } = await store.present();
  if (byId(job, marking)) await makeCurrent(store, { job: id, marking });
}

/** @param {Store} store @param {import("./store.mjs").Target} target */
async function makeCurrent(store, target) {
  // Forms store what was typed before, for the marking that was current then.
  store.dispatchEvent(new Event("leaving"));
  store.remember(target);
  await write(store, (transaction) => transaction.objectStore(STATE).put(target, PRESENT));
  store.dispatchEvent(new CustomEvent("chosen", { detail: target }));
}

/**
 * Removes a marking of the current job. Returns a function that brings it back where it was.
 * @param {Store} store
 * @param {string} id
 * @returns {Promise<() => Promise<void>>}
 */
export async function remove(store, id) {
  const { job: before } = await store.present();
  const marking = byId(before, id);
  const place = before.markings.indexOf(marking);
  const partners = before.markings.filter((/** @type {any} */ each) => each.partner?.of === id);
  // Its files stay, so that it can come back whole.
  const trace = newJobId();
  const summary = { files: new Set(filesOf(marking)) };
  await write(store, (transaction) => transaction.objectStore(DELETED).put({ summary, at: Date.now() }, trace));
  const after = await change(store, (job) => removeMarking(store.places, job, id));
  return async () => {
    await change(store, (job) => {
      if (byId(job, id)) return;
      for (const each of partners) {
        const at = job.markings.findIndex((/** @type {any} */ one) => one.id === each.id);
        // Unless it was changed meanwhile.
        if (at >= 0 && JSON.stringify(job.markings[at]) === JSON.stringify(byId(after, each.id))) job.markings[at] = each;
      }
      job.markings.splice(place, 0, marking);
    });
    await write(store, (transaction) => transaction.objectStore(DELETED).delete(trace));
  };
}

/**
 * Migrates the job of an older format, which needs the engine and so cannot happen inside a transaction.
 * @param {Store} store which need not be ready
 * @param {(job: object) => Promise<any>} migrate
 */
export async function takeOlder(store, migrate) {
  const found = await store.database.within("readonly", (transaction) => transaction.objectStore(OLD_JOB).get(PRESENT));
  if (!found) return;
  if (found.format >= store.places.format) store.refuse("newer");
  const migrated = await migrate(found);
  if (!migrated) store.refuse("older");
  await store.database.within("readwrite", async (transaction) => {
    const old = transaction.objectStore(OLD_JOB);
    const present = await old.get(PRESENT);
    // Another tab may have migrated it by now.
    if (!present || present.format !== found.format || present.revision !== found.revision) return;
    const id = newJobId();
    await writeJob(transaction, id, migrated);
    await transaction.objectStore(STATE).put({ job: id, marking: migrated.markings?.[0]?.id ?? null }, PRESENT);
    await old.delete(PRESENT);
  });
  await takeOlder(store, migrate);
}

// -- All jobs -------------------------------------------------------------------------------------

/**
 * Returns the jobs on this device, the one changed last first.
 * @param {Store} store
 * @returns {Promise<{id: string, name: string, changed: number, markings: number, bytes: number, picture: string | null}[]>}
 */
export function jobs(store) {
  return read(store, async (transaction) => {
    const files = transaction.objectStore(FILES);
    const [ids, summaries] = await Promise.all([transaction.objectStore(SUMMARIES).getAllKeys(), transaction.objectStore(SUMMARIES).getAll()]);
    const found = [];
    for (const [at, { name, changed, markings, picture, files: hashes }] of summaries.entries()) {
      let bytes = 0;
      for (const hash of hashes) bytes += (await files.get(hash))?.byteLength ?? 0;
      found.push({ id: ids[at], name, changed, markings, bytes, picture });
    }
    return found.sort((one, other) => other.changed - one.changed);
  });
}

/**
 * @param {Store} store
 * @param {string} id
 */
export async function openJob(store, id) {
  const job = await read(store, (transaction) => transaction.objectStore(JOBS).get(id));
  if (job) await makeCurrent(store, { job: id, marking: job.markings?.[0]?.id ?? null });
}

/**
 * Adds a job, empty unless it is passed, and makes it current. Returns its id.
 * @param {Store} store
 * @param {any} [job]
 * @param {{hash: string, bytes: ArrayBuffer}[]} [files]
 */
export async function newJob(store, job = store.emptyJob(), files = []) {
  const id = newJobId();
  await write(store, async (transaction) => {
    for (const { hash, bytes } of files) await transaction.objectStore(FILES).put(bytes, hash);
    await writeJob(transaction, id, job);
  });
  await makeCurrent(store, { job: id, marking: job.markings?.[0]?.id ?? null });
  return id;
}

/**
 * Adds a copy of a job and makes it current. Returns its id.
 * @param {Store} store
 * @param {string} id
 */
export async function copyJob(store, id) {
  const [job, summaries] = await read(store, (transaction) => Promise.all([transaction.objectStore(JOBS).get(id), transaction.objectStore(SUMMARIES).getAll()]));
  const names = new Set(summaries.map((/** @type {any} */ each) => each.name));
  return newJob(store, { ...job, name: numbered(job.name || "Job", names) });
}

/**
 * Deletes a job. Returns a function that brings it back.
 * @param {Store} store
 * @param {string} id
 * @returns {Promise<() => Promise<void>>}
 */
export async function deleteJob(store, id) {
  await write(store, async (transaction) => {
    const [job, summary] = [await transaction.objectStore(JOBS).get(id), await transaction.objectStore(SUMMARIES).get(id)];
    await transaction.objectStore(DELETED).put({ job, summary, at: Date.now() }, id);
    for (const name of [JOBS, SUMMARIES]) await transaction.objectStore(name).delete(id);
  });
  const was = store.target;
  if (was.job === id) await makeCurrent(store, { job: null, marking: null });
  return async () => {
    await write(store, async (transaction) => {
      const { job, summary } = await transaction.objectStore(DELETED).get(id);
      await transaction.objectStore(JOBS).put(job, id);
      await transaction.objectStore(SUMMARIES).put(summary, id);
      await transaction.objectStore(DELETED).delete(id);
    });
    if (was.job === id) await makeCurrent(store, was);
  };
}

/**
 * Removes the files that no job uses, also none that may come back, with what is known of them.
 * @param {Store} store which need not be ready
 */
export function clean(store) {
  return store.database.within("readwrite", async (transaction) => {
    const deleted = transaction.objectStore(DELETED);
    for (const id of await deleted.getAllKeys()) if (Date.now() - (await deleted.get(id)).at > UNDO_MS) await deleted.delete(id);
    const used = new Set();
    for (const { files } of await transaction.objectStore(SUMMARIES).getAll()) for (const hash of files) used.add(hash);
    for (const { summary } of await deleted.getAll()) for (const hash of summary.files) used.add(hash);
    for (const name of [FILES, FACTS, THUMBNAILS]) {
      const held = transaction.objectStore(name);
      for (const hash of await held.getAllKeys()) if (!used.has(hash)) await held.delete(hash);
    }
  });
}

// -- Files, and what is known of them -------------------------------------------------------------

/**
 * @param {Store} store
 * @param {string} hash
 * @returns {Promise<ArrayBuffer | undefined>}
 */
export const bytes = (store, hash) => read(store, (transaction) => transaction.objectStore(FILES).get(hash));

/**
 * Stores files, before a job that uses them: a file that no job uses goes when a file is next removed.
 * @param {Store} store
 * @param {{hash: string, bytes: ArrayBuffer}[]} files
 */
export const putFiles = (store, files) => putAll(store, FILES, Object.fromEntries(files.map((each) => [each.hash, each.bytes])));

/**
 * Returns what is known of the pictures among `hashes`, by hash.
 * @param {Store} store
 * @param {string[]} hashes
 */
export const facts = (store, hashes) => getAll(store, FACTS, hashes);

/**
 * @param {Store} store
 * @param {Record<string, any>} found by hash
 */
export const putFacts = (store, found) => putAll(store, FACTS, found);

/**
 * Returns the verdicts among those with `keys`, by key.
 * @param {Store} store
 * @param {string[]} keys
 */
export async function verdicts(store, keys) {
  const found = await getAll(store, VERDICTS, keys);
  return Object.fromEntries(Object.entries(found).map(([key, each]) => [key, each.verdicts]));
}

/**
 * Stores verdicts by key for a job. With `used`, every key that the job has now, its other verdicts are removed, and so are
 * those of jobs that are gone.
 * @param {Store} store
 * @param {Record<string, any>} found
 * @param {string[]} [used]
 * @param {string | null} [job] by default the current one
 */
export async function putVerdicts(store, found, used, job = store.target.job) {
  await putAll(store, VERDICTS, Object.fromEntries(Object.entries(found).map(([key, each]) => [key, { verdicts: each, job }])));
  if (!used) return;
  const wanted = new Set(used);
  await write(store, async (transaction) => {
    const held = transaction.objectStore(VERDICTS);
    const there = new Set(await transaction.objectStore(JOBS).getAllKeys());
    const [keys, all] = await Promise.all([held.getAllKeys(), held.getAll()]);
    for (const [at, key] of keys.entries()) if (all[at].job === job ? !wanted.has(key) : !there.has(all[at].job)) await held.delete(key);
  });
}

/**
 * Returns a small picture of a file, at most 96 px, or null if it shows nothing. It is made once.
 * @param {Store} store
 * @param {string} hash
 * @param {string} [media]
 * @returns {Promise<Blob | null>}
 */
export async function thumbnail(store, hash, media = "") {
  const [made, whole] = await read(store, (transaction) => Promise.all([transaction.objectStore(THUMBNAILS).get(hash), transaction.objectStore(FILES).get(hash)]));
  if (made !== undefined || !whole) return made ?? null;
  const small = await smallPicture(whole, media);
  await putAll(store, THUMBNAILS, { [hash]: small });
  return small;
}

/** @param {Store} store @param {string} name @param {string[]} keys */
function getAll(store, name, keys) {
  return read(store, async (transaction) => {
    /** @type {Record<string, any>} */
    const found = {};
    const values = await Promise.all(keys.map((key) => transaction.objectStore(name).get(key)));
    for (const [at, key] of keys.entries()) if (values[at] !== undefined) found[key] = values[at];
    return found;
  });
}

/** @param {Store} store @param {string} name @param {Record<string, any>} values */
function putAll(store, name, values) {
  return write(store, async (transaction) => {
    for (const [key, value] of Object.entries(values)) await transaction.objectStore(name).put(value, key);
  });
}

/**
 * @template T
 * @param {Store} store
 * @param {(transaction: any) => Promise<T>} work
 * @returns {Promise<T>}
 */
async function read(store, work) {
  await store.ready();
  return store.database.within("readonly", work);
}

/**
 * @template T
 * @param {Store} store
 * @param {(transaction: any) => Promise<T>} work
 * @returns {Promise<T>}
 */
async function write(store, work) {
  await store.ready();
  return store.database.within("readwrite", work);
}

/**
 * What is stored on this device, in IndexedDB, layout 2:
 *
 *   jobs       by id: a job of format 3, as plain JSON
 *   summaries  by the same id: {name, changed, markings, bytes, picture, files}, so that a list need not read whole jobs
 *   deleted    by the same id: {job, summary, at}, until the reader can no longer undo it
 *   files      by SHA-256: the bytes of chosen files
 *   facts      by the same: what the engine found in a picture
 *   thumbnails by the same: a small picture
 *   verdicts   by the engine's key: {verdicts, job}
 *   state      "present": {job, marking} that a new tab begins with
 *   job        layout 1 only: the one job of an older format as "present", until it has been migrated
 */


export const JOBS = "jobs";
export const SUMMARIES = "summaries";
export const DELETED = "deleted";
export const FILES = "files";
export const FACTS = "facts";
export const THUMBNAILS = "thumbnails";
export const VERDICTS = "verdicts";
export const STATE = "state";
export const PRESENT = "present";
/** Of layout 1. */
export const OLD_JOB = "job";

/**
 * Returns the hashes of the files of a marking, or of what a job has beside its markings.
 * @param {any} part
 * @returns {string[]}
 */
export function filesOf({ files = {}, calculators = {} }) {
  const typed = Object.values(calculators).flatMap((entry) => Object.values(entry.files ?? {}));
  return [...Object.values(files).map(({ file }) => file), ...typed].map(({ hash }) => hash);
}

/** Returns an id of this device for a job. */
export const newJobId = () => `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 8)}`;

/**
 * Writes a job with its summary.
 * @param {any} transaction
 * @param {string} id
 * @param {any} job
 * @returns {Promise<boolean>} whether it has files no more that it had
 */
export async function writeJob(transaction, id, job) {
  const summaries = transaction.objectStore(SUMMARIES);
  const before = await summaries.get(id);
  const files = new Set([job, ...(job.markings ?? [])].flatMap(filesOf));
  await transaction.objectStore(JOBS).put(job, id);
  await summaries.put({ name: job.name ?? "", changed: Date.now(), markings: job.markings?.length ?? 0, picture: (job.markings ?? []).map(fileOf).find(Boolean)?.hash ?? null, files }, id);
  return Boolean(before) && ![...before.files].every((hash) => files.has(hash));
}

/**
 * Returns the file that shows a marking: the later of its picture and its outlines.
 * @param {any} marking
 * @returns {{hash: string, name: string, media: string, size: number} | undefined}
 */
export function fileOf({ files = {} }) {
  const found = ["outlines", "picture"].map((name) => files[name]).filter(Boolean);
  return found.sort((one, other) => (other.at ?? 0) - (one.at ?? 0))[0]?.file;
}

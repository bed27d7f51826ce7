/**
 * Handles unfinished transactions when the reader leaves a page.
 *
 * A browser may suspend a page to show it again on "back". In some browsers a running transaction then never ends
 * and blocks the transactions of all later pages. So a page that is left aborts its transactions, and leaves a note of
 * unsaved values for the next page to save.
 */

const NOTES = "decalwright-left";

/** @type {Set<{done: Promise<void>, abort: () => void}>} */
const running = new Set();
/** @type {Map<string, object>} unsaved values by subject */
const pending = new Map();
let left = false;
let aborted = false;
let reloading = false;

addEventListener("pagehide", () => {
  left = true;
  for (const transaction of running) abort(transaction);
  if (pending.size) leaveNotes();
});

addEventListener("pageshow", ({ persisted }) => {
  // An aborted transaction never settles, so reload. By then the note or newer values have been saved: a second note on
  // this reload would restore older values.
  reloading = persisted && aborted;
  if (reloading) location.reload();
  else left = false;
});

/**
 * Does `work` in a transaction. Never settles if the page is left meanwhile.
 * @template T
 * @template {{done: Promise<void>, abort: () => void}} Begun
 * @param {Begun} transaction just begun
 * @param {(transaction: Begun) => Promise<T>} work
 * @returns {Promise<T>} once the transaction is complete
 */
export async function within(transaction, work) {
  const { done } = transaction;
  // Callers get a rejection below; if `work` fails first, nobody awaits this promise.
  done.catch(() => {});
  running.add(transaction);
  if (left) abort(transaction);
  try {
    const result = await work(transaction);
    await done;
    return result;
  } catch (error) {
    if (aborted) return new Promise(() => {});
    throw error;
  } finally {
    running.delete(transaction);
  }
}

/**
 * Saves values; if the page is left before that is done, a note of them stays for the next page.
 * @param {string} of the subject; a later value of the same subject replaces an earlier one
 * @param {object} what plain data; bytes in it are left out of the note
 * @param {() => Promise<void>} keep
 */
export async function keepOrNote(of, what, keep) {
  pending.set(of, what);
  if (left) leaveNotes();
  try {
    await keep();
  } finally {
    if (pending.get(of) === what) pending.delete(of);
  }
}

/**
 * Returns and clears the values that earlier pages could not save.
 * @returns {[string, any][]}
 */
export function takeNotes() {
  try {
    const notes = JSON.parse(localStorage.getItem(NOTES) ?? "{}");
    localStorage.removeItem(NOTES);
    return Object.entries(notes);
  } catch {
    return []; // Without localStorage there are no notes.
  }
}

/** Whether an earlier page left a note. */
export function isNoteLeft() {
  try {
    return localStorage.getItem(NOTES) !== null;
  } catch {
    return false;
  }
}

function leaveNotes() {
  if (reloading) return;
  aborted = true;
  const notes = Object.fromEntries([...takeNotes(), ...pending]);
  try {
    localStorage.setItem(NOTES, JSON.stringify(notes, (_key, value) => (value instanceof ArrayBuffer ? undefined : value)));
  } catch {
    // No note is possible; the store has already reported that this browser saves nothing.
  }
}

/** @param {{abort: () => void}} transaction */
function abort(transaction) {
  try {
    transaction.abort();
    aborted = true;
  } catch {
    // It has completed or is completing.
  }
}

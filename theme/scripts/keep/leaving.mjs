/**
 * What becomes of the work under way when a page is left.
 *
 * A browser may put a left page aside, to show it again on "back". In some a transaction that was under way
 * then stays so, and holds up those of every later page for ever. So a page that is left breaks off its
 * transactions, and leaves a note of what was to be kept for the next page to keep.
 */

const NOTES = "decalwright-left";

/** @type {Set<{done: Promise<void>, abort: () => void}>} */
const running = new Set();
/** @type {Map<string, object>} what was to be kept, by what it is of */
const unkept = new Map();
let left = false;
let brokenOff = false;
let begunAnew = false;

addEventListener("pagehide", () => {
  left = true;
  for (const transaction of running) breakOff(transaction);
  if (unkept.size) leaveNotes();
});

addEventListener("pageshow", ({ persisted }) => {
  // Who waits for what was broken off waits for ever; so the page begins anew. What it noted is kept by then, or
  // later values are: a second note, on leaving for itself, would bring back what is older.
  begunAnew = persisted && brokenOff;
  if (begunAnew) location.reload();
  else left = false;
});

/**
 * Does `work` in a transaction. Where the page is left meanwhile this never ends.
 * @template T
 * @template {{done: Promise<void>, abort: () => void}} Begun
 * @param {Begun} transaction just begun
 * @param {(transaction: Begun) => Promise<T>} work
 * @returns {Promise<T>} once the transaction is complete
 */
export async function within(transaction, work) {
  const { done } = transaction;
  // Told below to whoever waits; where `work` fails first, nobody waits for it.
  done.catch(() => {});
  running.add(transaction);
  if (left) breakOff(transaction);
  try {
    const result = await work(transaction);
    await done;
    return result;
  } catch (error) {
    if (brokenOff) return new Promise(() => {});
    throw error;
  } finally {
    running.delete(transaction);
  }
}

/**
 * Does the keeping of something; where the page is left before it is done, a note of it stays for the next page.
 * @param {string} of the later one of the same replaces the one before
 * @param {object} what plain data; bytes in it are left out of the note
 * @param {() => Promise<void>} keep
 */
export async function keepOrNote(of, what, keep) {
  unkept.set(of, what);
  if (left) leaveNotes();
  try {
    await keep();
  } finally {
    if (unkept.get(of) === what) unkept.delete(of);
  }
}

/**
 * Returns what earlier pages could not keep any more, and forgets it.
 * @returns {[string, any][]}
 */
export function takeNotes() {
  try {
    const notes = JSON.parse(localStorage.getItem(NOTES) ?? "{}");
    localStorage.removeItem(NOTES);
    return Object.entries(notes);
  } catch {
    return []; // Where the browser lets nothing be noted, nothing was.
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
  if (begunAnew) return;
  brokenOff = true;
  const notes = Object.fromEntries([...takeNotes(), ...unkept]);
  try {
    localStorage.setItem(NOTES, JSON.stringify(notes, (_key, value) => (value instanceof ArrayBuffer ? undefined : value)));
  } catch {
    // Not noted, then: the store has told already that this browser keeps nothing.
  }
}

function breakOff(transaction) {
  try {
    transaction.abort();
    brokenOff = true;
  } catch {
    // It is complete, or on its way there.
  }
}

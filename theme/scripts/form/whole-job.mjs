/**
 * The whole job in a field: the current one of this device, as calculators/jobs/whole.py reads it. It is held like a chosen
 * file, but without a hash, so that it is not stored: it would contain itself.
 */

/**
 * @param {HTMLElement} shown the .dw-whole-job
 * @param {object} to
 * @param {import("../keep/store.mjs").Store} to.store
 * @param {(field: HTMLElement, file: object | null) => void} to.hold puts a file into a field, and asks
 * @param {AbortSignal} to.signal ends the listening
 */
export async function handJob(shown, { store, hold, signal }) {
  const field = /** @type {HTMLElement} */ (shown.closest("[data-field]"));
  let handed = "";
  let file = /** @type {any} */ (null);
  let again = Promise.resolve();

  const hand = async () => {
    // A device that stores nothing has no job; the form reports why.
    const present = await store.present().catch(() => /** @type {any} */ (null));
    const job = present && bare(present.job);
    const text = job?.markings?.length ? JSON.stringify(job) : "";
    if (signal.aborted) return;
    if (text !== handed) {
      const made = text ? await handedOver(store, job) : null;
      if (signal.aborted) return;
      [handed, file] = [text, made];
      name(shown, job);
      hold(field, file);
    } else if (file && !field.hasAttribute("data-held")) {
      hold(field, file);
    }
  };
  const later = () => {
    again = again.then(hand);
    return again;
  };
  for (const event of ["wrote", "changed", "chosen"]) store.addEventListener(event, later, { signal });
  // The form empties the field when it writes stored values.
  const emptied = new MutationObserver(() => !field.hasAttribute("data-held") && later());
  emptied.observe(field, { attributes: true, attributeFilter: ["data-held"] });
  signal.addEventListener("abort", () => emptied.disconnect());
  await later();
}

/**
 * Returns a job without what was typed into calculators, which no sheet depends on.
 * @param {any} job
 */
function bare({ calculators, revision, ...job }) {
  const markings = (job.markings ?? []).map((/** @type {any} */ { calculators: _, ...marking }) => marking);
  return { ...job, markings };
}

/**
 * @param {import("../keep/store.mjs").Store} store
 * @param {any} job
 * @returns {Promise<any>}
 */
async function handedOver(store, job) {
  const named = job.markings.flatMap((/** @type {any} */ { files = {} }) => Object.values(files).map(({ file }) => file.hash));
  const hashes = [...new Set(named)];
  /** @type {[string, ArrayBuffer][]} */
  const found = [];
  for (const hash of hashes) {
    const bytes = await store.bytes(hash);
    if (bytes) found.push([hash, bytes]);
  }
  const facts = await store.facts(hashes);
  const head = JSON.stringify({ job, facts, files: found.map(([hash, bytes]) => [hash, bytes.byteLength]) });
  const bytes = await new Blob([`${head}\n`, ...found.map(([, bytes]) => bytes)]).arrayBuffer();
  return { hash: null, name: job.name || "job", media: "", size: bytes.byteLength, bytes, fresh: false, seen: true };
}

/**
 * @param {HTMLElement} shown
 * @param {any} job
 */
function name(shown, job) {
  const count = job?.markings?.length ?? 0;
  const { none, unnamed, one, many } = shown.dataset;
  shown.querySelector(".dw-whole-job-name").textContent = count ? job.name || unnamed : none;
  shown.querySelector(".dw-whole-job-count").textContent = !count ? "" : count === 1 ? one : many.replace("{count}", count);
}

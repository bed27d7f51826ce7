/**
 * On a slow line: how much has come of what the calculators run on, and what can be read meanwhile. It stands at the lower
 * edge of every page, since loading goes on while the reader does.
 */

/** Whoever waits no longer than this need not be told. */
const TOLD_AFTER_MS = 3_000;

/**
 * @param {import("../../engine/engine.mjs").Engine} engine
 * @param {HTMLElement} foot the .dw-foot
 * @param {(key: string, parts?: object) => string} say
 */
export function startLoading(engine, foot, say) {
  const strip = foot.querySelector(".dw-loading");
  let waiting = 0;
  const show = () => {
    const { received, expected } = engine;
    strip.querySelector("progress").value = expected ? received / expected : 0;
    const text = say("loading_share", megabytes(received, expected));
    const line = strip.querySelector(".dw-loading-share");
    if (line.textContent !== text) line.textContent = text;
  };
  const follow = () => {
    clearTimeout(waiting);
    strip.hidden = true;
    if (engine.state !== "loading") return;
    waiting = setTimeout(() => {
      strip.hidden = false;
      show();
    }, TOLD_AFTER_MS);
  };
  engine.addEventListener("state", follow);
  engine.addEventListener("loading", () => strip.hidden || show());
  follow();
}

/**
 * Returns two numbers of bytes as megabytes, {received, expected}.
 * @param {number} received
 * @param {number} expected
 */
export function megabytes(received, expected) {
  const text = (bytes) => (bytes / 1e6).toFixed(1);
  return { received: text(received), expected: text(expected) };
}

/**
 * The strip at the lower edge of every page that shows, on a slow connection, how much of the engine has loaded, and
 * what the reader can do meanwhile.
 */

/** Shorter loading does not show the strip. */
const VISIBLE_AFTER_MS = 3_000;

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
    }, VISIBLE_AFTER_MS);
  };
  engine.addEventListener("state", follow);
  engine.addEventListener("loading", () => strip.hidden || show());
  follow();
}

/**
 * Converts two numbers of bytes to texts in megabytes, {received, expected}.
 * @param {number} received
 * @param {number} expected
 */
export function megabytes(received, expected) {
  /** @param {number} bytes */
  const text = (bytes) => (bytes / 1e6).toFixed(1);
  return { received: text(received), expected: text(expected) };
}

/**
 * The strips at the lower edge about the book itself: the offer to save it on this device, made once, and the
 * announcement of a newer edition.
 */

import { Editions } from "../../engine/editions.mjs";
import { sizeText } from "./words.mjs";

/** The buttons of the strip by the state of saving: start, stop, close. */
const BUTTONS = /** @type {Record<string, (string | null)[]>} */ ({
  off: ["save_now", null, "not_now"],
  saving: [null, "stop", "close"],
  stopped: ["save_go_on", null, "close"],
  failed: ["save_go_on", null, "close"],
  full: ["try_again", null, "close"],
  ready: [null, null, "close"],
  unavailable: [null, null, "close"],
});

/**
 * Wires the header's button and the strip of saving, which stay for the whole visit.
 * @param {typeof import("../../engine/offline.mjs").offline} offline
 * @param {HTMLElement} foot the .dw-foot
 * @param {(key: string, parts?: object) => string} say
 * @returns {{ask: () => void}} offers to save the book, unless that was offered before
 */
export function startSaving(offline, foot, say) {
  const button = document.querySelector(".dw-offline");
  // A preview has no offline worker, and no button.
  if (!button) return { ask() {} };
  const strip = foot.querySelector(".dw-saving");
  const [begin, stop, close] = ["begin", "stop", "close"].map((name) => strip.querySelector(`.dw-saving-${name}`));
  let server = /** @type {{bytes: number, fetched: number} | null} */ (null);

  const show = () => {
    const { state, share, done } = offline;
    button.dataset.state = strip.dataset.state = state;
    button.querySelector("[data-part=words]").textContent = say(`offline_${state}`, { percent: Math.floor(100 * share) });
    button.setAttribute("aria-expanded", String(!strip.hidden));
    if (strip.hidden) return;
    const total = offline.total || server?.bytes || 0;
    const sizes = { fetched: sizeText(server?.fetched ?? total), total: sizeText(total), done: sizeText(done) };
    const unmeasured = !total && (state === "off" || state === "saving");
    const sentences = [say(`saving_${state}${unmeasured ? "_unmeasured" : ""}`, sizes), state === "off" && offline.sparing ? say("saving_sparing") : ""];
    strip.querySelector("p").textContent = sentences.filter(Boolean).join(" ");
    const bar = strip.querySelector("progress");
    bar.hidden = state !== "saving" && !(state === "stopped" && share);
    bar.value = share;
    [begin, stop, close].forEach((each, at) => {
      const key = BUTTONS[state][at];
      each.hidden = !key;
      if (key) each.textContent = say(key);
    });
  };
  const open = async () => {
    strip.hidden = false;
    show();
    server ??= await Editions.ofServer();
    show();
  };
  const hide = () => {
    strip.hidden = true;
    show();
  };
  button.addEventListener("click", () => (strip.hidden ? open() : hide()));
  begin.addEventListener("click", () => offline.begin());
  stop.addEventListener("click", () => offline.stop());
  close.addEventListener("click", () => {
    offline.decline();
    hide();
    // The header may be far above the visible part.
    button.focus({ preventScroll: true });
  });
  offline.addEventListener("state", show);
  show();
  // Installing the book as an app means wanting it offline.
  if (offline.unasked && matchMedia("(display-mode: standalone)").matches) open();
  return { ask: () => offline.unasked && strip.hidden && open() };
}

/**
 * Announces a newer edition, which one tap activates.
 * @param {Editions} editions
 * @param {HTMLElement} foot
 * @param {(key: string, parts?: object) => string} say
 */
export function startEditions(editions, foot, say) {
  const strip = foot.querySelector(".dw-edition");
  const take = strip.querySelector(".dw-edition-take");
  const text = strip.querySelector("p");
  const delivered = text.textContent;
  editions.addEventListener("newer", () => {
    text.textContent = editions.unfetched ? say("edition_unfetched") : delivered;
    strip.hidden = false;
  });
  take.addEventListener("click", () => {
    take.disabled = true;
    if (editions.unfetched) text.textContent = say("edition_fetching");
    editions.take();
  });
  strip.querySelector(".dw-edition-later").addEventListener("click", () => (strip.hidden = true));
}

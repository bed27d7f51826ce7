/**
 * The strip of a calculator's page that shows which marking it works on. A bundle of its own, which is loaded once there is a
 * marking; what a tap opens is another (opened.mjs).
 */

import words from "strip-words";

import { wordsFrom } from "../frame/words.mjs";
import { fileOf } from "../keep/layout.mjs";
import { byId, holderOf } from "../keep/places.mjs";
import { pictureBox } from "./picture-box.mjs";

/** Set while there is a marking, so that the next page has room for the strip before it is painted (dw-early.js). */
const HINT = "decalwright-marked";

/** @typedef {import("../keep/store.mjs").Store} Store */

/**
 * Shows the strip of a page. Returns a function that shows the present marking again.
 * @param {HTMLElement} article
 * @param {{store: Store, say: Say, signal: AbortSignal}} visit
 */
export function showStrip(article, { store, say, signal }) {
  const strip = Object.assign(document.createElement("div"), { className: "dw-current", hidden: true });
  const button = Object.assign(document.createElement("button"), { type: "button", className: "dw-current-open dw-tool" });
  button.setAttribute("aria-expanded", "false");
  button.setAttribute("aria-haspopup", "dialog");
  const picture = pictureBox();
  const name = Object.assign(document.createElement("span"), { className: "dw-current-name" });
  button.append(picture.box, name);
  strip.append(button);
  article.prepend(strip);
  let opened = /** @type {{close: () => void, refresh: () => Promise<void>} | null} */ (null);
  let isOpening = false;

  const refresh = async () => {
    const { job, marking: id } = await store.present();
    if (signal.aborted) return;
    const marking = byId(job, id);
    mark(Boolean(marking));
    strip.hidden = !marking && !opened;
    if (marking) {
      name.textContent = marking.name;
      button.setAttribute("aria-label", wordsFrom(words)("marking_current", { name: marking.name }));
      await picture.show(store, fileOf(holderOf(job, marking)));
    }
    await opened?.refresh();
  };
  const close = () => {
    opened?.close();
    opened = null;
    delete strip.dataset.open;
    button.setAttribute("aria-expanded", "false");
  };
  button.addEventListener("click", async () => {
    if (opened) {
      close();
      return;
    }
    if (isOpening) return;
    isOpening = true;
    try {
      const { openMarkings } = await import("alone-opened");
      opened = await openMarkings(strip, { store, say, done: () => (close(), button.focus(), refresh()) });
      strip.dataset.open = "";
      button.setAttribute("aria-expanded", "true");
    } finally {
      isOpening = false;
    }
  });
  document.addEventListener("pointerdown", ({ target }) => opened && !strip.contains(/** @type {Node} */ (target)) && (close(), refresh()), { signal });
  const again = () => refresh().catch(() => {}); // The form tells what cannot be stored.
  for (const event of ["changed", "wrote", "chosen"]) store.addEventListener(event, again, { signal });
  signal.addEventListener("abort", () => (close(), picture.free(), strip.remove()));
  return again;
}

/** @param {boolean} isMarked */
function mark(isMarked) {
  document.documentElement.classList.toggle("dw-marked", isMarked);
  try {
    if (isMarked) localStorage.setItem(HINT, "1");
    else localStorage.removeItem(HINT);
  } catch {
    // The next page makes room when the strip comes.
  }
}

/**
 * A picture from another app. The offline worker stores it in its notes (builder/templates/offline-shared.js) until a
 * calculator takes it.
 */

import { base } from "../../engine/visit.mjs";

/** The fragment of a calculator's page that is to take the picture. */
export const TAKES_ARRIVED = "#arrived-picture";

const NOTES = `notes ${base.pathname}`;
const PLACE = new URL("share/arrived", base).href;

/** @returns {Promise<File | null>} the waiting picture, if any */
export async function arrivedPicture() {
  const stored = await globalThis.caches?.match(PLACE, { cacheName: NOTES });
  if (!stored) return null;
  const name = decodeURIComponent(stored.headers.get("File-Name") ?? "");
  return new File([await stored.blob()], name, { type: stored.headers.get("Content-Type") ?? "" });
}

/** Forgets the picture. */
export async function forgetArrived() {
  await (await caches.open(NOTES)).delete(PLACE);
}

/**
 * Puts the picture into the first field of a form that takes one, as if the reader had chosen it there.
 * @param {HTMLElement} form
 */
export async function handOver(form) {
  const input = form.querySelector("[data-pixels] input[type=file]") ?? form.querySelector("input[type=file]");
  const picture = input && (await arrivedPicture());
  history.replaceState(history.state, "", location.pathname + location.search);
  if (!picture) return;
  const chosen = new DataTransfer();
  chosen.items.add(picture);
  input.files = chosen.files;
  for (const type of ["input", "change"]) input.dispatchEvent(new Event(type, { bubbles: true }));
  await forgetArrived();
}

/**
 * The page to which another app's picture leads: it shows the picture, and each calculator that it offers takes it.
 */

import { sizeText } from "../frame/words.mjs";
import { arrivedPicture, TAKES_ARRIVED } from "./arrived.mjs";

/**
 * Mounts what shows the picture, the .dw-arrived.
 * @param {HTMLElement} shown
 * @returns {{end: () => void}}
 */
export function showArrival(shown) {
  let address = null;
  arrivedPicture().then((picture) => {
    if (!picture) return;
    address = URL.createObjectURL(picture);
    const image = Object.assign(new Image(), { src: address, alt: shown.dataset.alt });
    // What cannot be shown here may still be read by a calculator, which says if it cannot.
    image.addEventListener("error", () => image.remove());
    shown.prepend(image);
    shown.querySelector("figcaption").textContent = [picture.name, sizeText(picture.size)].filter(Boolean).join(", ");
    shown.hidden = false;
    document.querySelector(".dw-arrived-none").hidden = true;
    for (const link of document.querySelectorAll(".dw-arrived-for a")) link.hash = TAKES_ARRIVED;
  });
  return { end: () => address && URL.revokeObjectURL(address) };
}

/**
 * The page for a picture from another app: it shows the picture and offers calculators that can take it.
 */

import { sizeText } from "../frame/words.mjs";

/**
 * Mounts the box that shows the picture, .dw-arrived.
 * @param {HTMLElement} box
 * @param {typeof import("./arrived.mjs")} arrived
 * @returns {{end: () => void}}
 */
export function showArrival(box, { arrivedPicture, TAKES_ARRIVED }) {
  let address = /** @type {string | null} */ (null);
  arrivedPicture().then((picture) => {
    if (!picture) return;
    address = URL.createObjectURL(picture);
    const image = Object.assign(new Image(), { src: address, alt: box.dataset.alt });
    // A calculator may still read a picture that the browser cannot show here, or will say why not.
    image.addEventListener("error", () => image.remove());
    box.prepend(image);
    box.querySelector("figcaption").textContent = [picture.name, sizeText(picture.size)].filter(Boolean).join(", ");
    box.hidden = false;
    document.querySelector(".dw-arrived-none").hidden = true;
    for (const link of document.querySelectorAll(".dw-arrived-for a")) link.hash = TAKES_ARRIVED;
  });
  return { end: () => address && URL.revokeObjectURL(address) };
}

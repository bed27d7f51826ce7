/**
 * Fields for a file or a picture: choosing, camera, drag and drop, pasting and removing.
 */

import { everyField, isFile } from "./fields.mjs";
import { fieldKind } from "./kinds.mjs";
import { hashOf } from "../keep/database.mjs";
import { shownName, sizeText } from "../frame/words.mjs";

/**
 * A file in a field. `fresh`: newly chosen, so it has not filled other fields yet. `seen`: Python has found no fault in
 * it, so it may be decoded and displayed.
 * @typedef {{hash: string | null, name: string, media: string, size: number, bytes: ArrayBuffer,
 *   fresh: boolean, seen: boolean, pixels?: Promise<object | null>}} HeldFile
 */

/** Longer side of a thumbnail: four dots to each of the pixels that it takes on the screen. */
const THUMB_SIDE_PX = 256;

/** @type {WeakMap<Element, HeldFile>} */
const held = new WeakMap();

/**
 * Returns the files in a form, by the address of their field.
 * @param {Element} form
 * @returns {Map<string, HeldFile>}
 */
export function filesOf(form) {
  const fields = [...everyField(form)].filter(([, field]) => held.has(field));
  return new Map(fields.map(([address, field]) => [address, held.get(field)]));
}

/**
 * Puts a file into a field, or removes it (null).
 * @param {HTMLElement} field
 * @param {HeldFile | null} file
 * @param {(key: string, parts?: object) => string} say
 */
export function holdFile(field, file, say) {
  freeImage(field.querySelector(".dw-drop-thumb"));
  if (held.get(field) !== file) free(held.get(field));
  if (file) held.set(field, file);
  else held.delete(field);
  for (const input of field.querySelectorAll("input[type=file]")) input.value = "";
  field.toggleAttribute("data-held", Boolean(file));
  field.querySelector(".dw-drop-name").textContent = file ? shownName(file.name) : say(fieldKind(field).ask);
  field.querySelector(".dw-drop-facts").textContent = file ? sizeText(file.size) : "";
  field.querySelector(".dw-drop-remove").hidden = !file;
  if (file?.seen) showThumb(field, say);
}

/**
 * Hides an image and frees its picture, which the browser would keep until the visit ends.
 * @param {HTMLImageElement | null} image
 */
export function freeImage(image) {
  if (!image) return;
  if (image.src) URL.revokeObjectURL(image.src);
  image.removeAttribute("src");
  image.hidden = true;
}

/**
 * Shows a thumbnail of a picture once its header has been checked.
 * @param {HTMLElement} field
 * @param {(key: string, parts?: object) => string} say
 */
export function showThumb(field, say) {
  const thumb = field.querySelector(".dw-drop-thumb");
  const file = held.get(field);
  if (!thumb || !file || thumb.src) return;
  thumb.onerror = () => (thumb.hidden = true);
  loadReduced(thumb, file, THUMB_SIDE_PX, () => (thumb.hidden = false), (width, height) => {
    const facts = say("picture_facts", { width, height, size: sizeText(file.size) });
    if (!file.media.includes("svg")) field.querySelector(".dw-drop-facts").textContent = facts;
  });
}

/**
 * Loads a picture into an image that is not displayed yet, reduced if it is large.
 * @param {HTMLImageElement} image
 * @param {HeldFile} file
 * @param {number} side the longer one at most, in pixels
 * @param {() => void} loaded may display it
 * @param {(width: number, height: number) => void} [sized] gets the size of the whole picture
 */
export function loadReduced(image, { bytes, media }, side, loaded, sized) {
  const blob = new Blob([bytes], { type: media });
  const whole = URL.createObjectURL(blob);
  image.onload = async () => {
    const { naturalWidth: width, naturalHeight: height } = image;
    sized?.(width, height);
    image.onload = loaded;
    const small = media.includes("svg") ? null : await reduced(blob, width, height, side);
    // By now the image may be for another picture.
    if (image.src !== whole) return;
    if (!small) return loaded();
    image.src = URL.createObjectURL(small);
    URL.revokeObjectURL(whole);
  };
  image.src = whole;
}

/**
 * Returns a picture with sides of at most `side`; null if it is small already, or this browser cannot reduce it. Browsers
 * keep every picture that they have displayed decoded for long, even once its page is left: 16 MB for 4 megapixels.
 * @param {Blob} blob
 * @param {number} width
 * @param {number} height
 * @param {number} side
 */
async function reduced(blob, width, height, side) {
  const share = side / Math.max(width, height);
  if (share >= 1) return null;
  try {
    const [resizeWidth, resizeHeight] = [width, height].map((each) => Math.max(1, Math.round(each * share)));
    const bitmap = await createImageBitmap(blob, { imageOrientation: "from-image", resizeWidth, resizeHeight, resizeQuality: "medium" });
    const canvas = document.createElement("canvas");
    Object.assign(canvas, { width: resizeWidth, height: resizeHeight });
    canvas.getContext("bitmaprenderer").transferFromImageBitmap(bitmap);
    return await new Promise((/** @type {(made: Blob | null) => void} */ resolve) => canvas.toBlob(resolve));
  } catch (error) {
    if (error instanceof DOMException) return null;
    throw error;
  }
}

/**
 * Listens for files that the reader chooses, drops, pastes or removes.
 * @param {HTMLElement} form
 * @param {object} to
 * @param {AbortSignal} to.signal ends the listening
 * @param {(field: HTMLElement, file: HeldFile | null) => void} to.changed
 * @param {(field: HTMLElement, file: File, why: "too_big" | "unreadable") => void} to.refused
 */
export function listenForFiles(form, { signal, changed, refused }) {
  /**
   * @param {HTMLElement | null} field
   * @param {File | null} file
   */
  const take = async (field, file) => {
    if (!field || !file) return;
    if (file.size > Number(field.dataset.mostBytes)) return refused(field, file, "too_big");
    try {
      const bytes = await file.arrayBuffer();
      const { name, type: media, size } = file;
      changed(field, { hash: await hashOf(bytes), name, media, size, bytes, fresh: true, seen: false });
    } catch {
      refused(field, file, "unreadable");
    }
  };
  /** @type {Listen} */
  const on = (target, type, act) => target.addEventListener(type, act, { signal });
  signal.addEventListener("abort", () => {
    [...filesOf(form).values()].forEach(free);
    form.querySelectorAll(".dw-drop-thumb").forEach(freeImage);
  });
  // Only offer the camera on touch devices: a desktop's cannot be held over a drawing.
  const touched = matchMedia("(any-pointer: coarse)").matches;
  for (const camera of form.querySelectorAll(".dw-camera")) camera.hidden = !touched;

  on(form, "change", ({ target }) => {
    if (target.matches("input[type=file]")) take(fileFieldAt(target), target.files[0]);
  });
  on(form, "click", ({ target }) => {
    if (!target.closest(".dw-drop-remove")) return;
    const field = fileFieldAt(target);
    changed(field, null);
    field.querySelector("input[type=file]").focus();
  });
  on(form, "dragover", (event) => {
    const field = fileFieldAt(event.target);
    if (!field || !event.dataTransfer.types.includes("Files")) return;
    event.preventDefault();
    field.toggleAttribute("data-over", true);
  });
  on(form, "dragleave", ({ target, relatedTarget }) => {
    const field = fileFieldAt(target);
    if (field && !field.contains(relatedTarget)) field.removeAttribute("data-over");
  });
  on(form, "drop", (event) => {
    const field = fileFieldAt(event.target);
    if (!field) return;
    event.preventDefault();
    field.removeAttribute("data-over");
    take(field, event.dataTransfer.files[0]);
  });
  on(document, "paste", (event) => {
    const file = event.clipboardData?.files[0];
    const field = file && pasteField(form);
    if (!field) return;
    event.preventDefault();
    take(field, file);
  });
}

/** @param {any} target */
const fileFieldAt = (target) => target.closest?.("[data-most-bytes]");

/**
 * Returns the field for a pasted file: the focused one, else the first empty one, else the only one.
 * @param {HTMLElement} form
 */
function pasteField(form) {
  const fields = [...everyField(form).values()].filter(isFile);
  const inHand = fields.find((field) => field.contains(document.activeElement));
  return inHand ?? fields.find((field) => !held.has(field)) ?? (fields.length === 1 ? fields[0] : undefined);
}

/** @param {any} file */
async function free(file) {
  if (file?.pixels) (await import("alone-pixels")).freePixels(file);
}

/**
 * Picks a colour from a picture: the reader opens a picture beside a colour field and touches the colour. The picture is
 * neither stored nor sent anywhere.
 */

import { shownName } from "../frame/words.mjs";

/** Larger pictures are reduced until their longer side has this many pixels. */
const LONGEST_PX = 1600;
/** Half the side of the averaged square. A single pixel might be noise or a halftone dot. */
const REACH_PX = 3;
/** A step of an arrow key, as a share of the picture's side. */
const STEP = 0.01;
/** @type {Record<string, [number, number]>} */
const STEPS = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] };

/** The last picked position of each canvas, as shares of its width and height. */
const places = new WeakMap();

/**
 * Wires the eyedroppers of one form.
 * @param {HTMLElement} form
 * @param {object} to
 * @param {AbortSignal} to.signal ends the listening
 * @param {(key: string, parts?: object) => string} to.say
 */
export function listenForPicks(form, { signal, say }) {
  /** @type {ListenHere} */
  const on = (type, act) => form.addEventListener(type, act, { signal });
  on("change", ({ target }) => {
    if (target.matches(".dw-eyedropper-choose input")) open(target, say);
  });
  on("pointerdown", (event) => {
    const canvas = event.target.closest?.(".dw-eyedropper canvas");
    if (canvas) canvas.setPointerCapture(event.pointerId);
    if (canvas) pickUnder(canvas, event);
  });
  on("pointermove", (event) => {
    const canvas = event.target.closest?.(".dw-eyedropper canvas");
    if (canvas?.hasPointerCapture(event.pointerId)) pickUnder(canvas, event);
  });
  on("keydown", (event) => {
    const canvas = event.target.closest?.(".dw-eyedropper canvas");
    const step = canvas && STEPS[event.key];
    if (!step) return;
    event.preventDefault();
    const [x, y] = places.get(canvas);
    pick(canvas, x + step[0], y + step[1]);
  });
}

/**
 * @param {HTMLInputElement} input
 * @param {Say} say
 */
async function open(input, say) {
  const tool = input.closest(".dw-eyedropper");
  const canvas = tool.querySelector("canvas");
  const help = tool.querySelector(".dw-help");
  const [file] = input.files ?? [];
  if (!file) return;
  input.value = "";
  help.hidden = false;
  try {
    await draw(file, canvas);
  } catch {
    canvas.hidden = true;
    help.textContent = say("eyedropper_unreadable", { name: shownName(file.name) });
    return;
  }
  canvas.hidden = false;
  places.set(canvas, [0.5, 0.5]);
  help.textContent = say("eyedropper_touch");
  canvas.focus();
}

/**
 * @param {File} file
 * @param {HTMLCanvasElement} canvas
 */
async function draw(file, canvas) {
  // createImageBitmap cannot draw SVG, an image element can.
  const image = new Image();
  image.src = URL.createObjectURL(file);
  try {
    await image.decode();
    const whole = Math.max(image.naturalWidth, image.naturalHeight);
    if (!whole) throw new Error("a picture without a size");
    const share = Math.min(1, LONGEST_PX / whole);
    canvas.width = Math.max(1, Math.round(image.naturalWidth * share));
    canvas.height = Math.max(1, Math.round(image.naturalHeight * share));
    penOf(canvas).drawImage(image, 0, 0, canvas.width, canvas.height);
  } finally {
    URL.revokeObjectURL(image.src);
  }
}

/**
 * @param {HTMLCanvasElement} canvas
 * @returns {CanvasRenderingContext2D}
 */
function penOf(canvas) {
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  if (!pen) throw new Error("this browser cannot draw on a canvas");
  return pen;
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {PointerEvent} event
 */
function pickUnder(canvas, event) {
  event.preventDefault();
  canvas.focus();
  const frame = canvas.getBoundingClientRect();
  pick(canvas, (event.clientX - frame.left) / frame.width, (event.clientY - frame.top) / frame.height);
}

/**
 * Writes the colour at a position, in shares of the picture's sides, into the field.
 * @param {HTMLCanvasElement} canvas
 * @param {number} shareX
 * @param {number} shareY
 */
function pick(canvas, shareX, shareY) {
  const [x, y] = [shareX, shareY].map((share) => Math.min(1, Math.max(0, share)));
  places.set(canvas, [x, y]);
  const colour = colourAt(canvas, Math.floor(x * canvas.width), Math.floor(y * canvas.height));
  if (!colour) return;
  const typed = canvas.closest("[data-field]").querySelector(".dw-typed");
  typed.value = colour;
  typed.dispatchEvent(new Event("input", { bubbles: true }));
}

/**
 * Returns the mean colour around a pixel as #rrggbb; null where the picture is transparent.
 * @param {HTMLCanvasElement} canvas
 * @param {number} x
 * @param {number} y
 */
function colourAt(canvas, x, y) {
  const left = Math.max(0, x - REACH_PX);
  const top = Math.max(0, y - REACH_PX);
  const width = Math.min(canvas.width, x + REACH_PX + 1) - left;
  const height = Math.min(canvas.height, y + REACH_PX + 1) - top;
  if (width < 1 || height < 1) return null;
  const { data } = penOf(canvas).getImageData(left, top, width, height);
  const sums = [0, 0, 0];
  let counted = 0;
  for (let at = 0; at < data.length; at += 4) {
    if (data[at + 3] < 255) continue;
    counted += 1;
    for (const part of sums.keys()) sums[part] += data[at + part];
  }
  if (!counted) return null;
  return `#${sums.map((sum) => Math.round(sum / counted).toString(16).padStart(2, "0")).join("")}`;
}

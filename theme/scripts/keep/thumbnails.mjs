/** Small pictures for lists. */

const MOST_PX = 96;

/**
 * Returns a picture of at most 96 px, or null for bytes that the browser cannot show as one.
 * @param {ArrayBuffer} bytes
 * @param {string} media
 * @returns {Promise<Blob | null>}
 */
export async function smallPicture(bytes, media) {
  const isDrawing = media ? media.includes("svg") : /^\s*(<\?xml|<!--|<svg)/i.test(new TextDecoder().decode(bytes.slice(0, 200)));
  try {
    return await (isDrawing ? smallDrawing(bytes) : smallPixels(new Blob([bytes], { type: media })));
  } catch {
    return null;
  }
}

/** @param {Blob} blob */
async function smallPixels(blob) {
  // Its pixels are let go at once. Those of an image element stay with the browser, hundreds of megabytes for a long list.
  const bitmap = await createImageBitmap(blob);
  const { width, height } = bitmap;
  try {
    return await drawn(bitmap, width, height, Math.min(1, MOST_PX / Math.max(width, height)));
  } finally {
    bitmap.close();
  }
}

/** @param {ArrayBuffer} bytes */
async function smallDrawing(bytes) {
  // An image element draws an SVG, and runs no scripts in it.
  const address = URL.createObjectURL(new Blob([bytes], { type: "image/svg+xml" }));
  try {
    const image = Object.assign(new Image(), { src: address });
    await image.decode();
    const [width, height] = [image.naturalWidth || MOST_PX, image.naturalHeight || MOST_PX];
    return await drawn(image, width, height, MOST_PX / Math.max(width, height));
  } finally {
    URL.revokeObjectURL(address);
  }
}

/**
 * @param {CanvasImageSource} source
 * @param {number} width px of it
 * @param {number} height
 * @param {number} scale
 * @returns {Promise<Blob | null>}
 */
function drawn(source, width, height, scale) {
  const canvas = Object.assign(document.createElement("canvas"), {
    width: Math.max(1, Math.round(width * scale)),
    height: Math.max(1, Math.round(height * scale)),
  });
  const pen = canvas.getContext("2d");
  pen.imageSmoothingQuality = "high";
  pen.drawImage(source, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => canvas.toBlob(resolve, "image/png"));
}

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
  // An image element draws an SVG too, and runs no scripts in it.
  const address = URL.createObjectURL(new Blob([bytes], { type: isDrawing ? "image/svg+xml" : media }));
  try {
    const image = Object.assign(new Image(), { src: address });
    await image.decode();
    const [width, height] = [image.naturalWidth || MOST_PX, image.naturalHeight || MOST_PX];
    const scale = isDrawing ? MOST_PX / Math.max(width, height) : Math.min(1, MOST_PX / Math.max(width, height));
    const canvas = Object.assign(document.createElement("canvas"), {
      width: Math.max(1, Math.round(width * scale)),
      height: Math.max(1, Math.round(height * scale)),
    });
    const pen = canvas.getContext("2d");
    pen.imageSmoothingQuality = "high";
    pen.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve) => canvas.toBlob(resolve, "image/png"));
  } catch {
    return null;
  } finally {
    URL.revokeObjectURL(address);
  }
}

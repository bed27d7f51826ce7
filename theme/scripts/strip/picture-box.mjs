/** Small pictures of markings. */

/** @typedef {import("../keep/store.mjs").Store} Store */

/** A box for a small picture of a marking; without a picture it stays hatched, as white paint is in drawings. */
export function pictureBox() {
  const box = Object.assign(document.createElement("span"), { className: "dw-current-picture" });
  let [shown, address] = ["", ""];
  const free = () => URL.revokeObjectURL(address);
  return {
    box,
    free,
    /** @param {Store} store @param {{hash: string, media: string} | undefined} file */
    async show(store, file) {
      if (shown === (file?.hash ?? "")) return;
      shown = file?.hash ?? "";
      const small = file && (await store.thumbnail(file.hash, file.media));
      if (shown !== (file?.hash ?? "")) return;
      free();
      address = small ? URL.createObjectURL(small) : "";
      box.replaceChildren(...(small ? [Object.assign(new Image(), { src: address, alt: "" })] : []));
    },
  };
}

/**
 * Proposes a text of the answer as a new file of the project: copies it, or opens the repository's page for a new file
 * with name and text filled in.
 */

/** Hosts refuse addresses of more than about 8000 characters. */
const LONGEST = 7000;

/**
 * Wires the buttons beside the files of an answer.
 * @param {HTMLElement} root a .dw-calculator
 * @param {(result: string) => {name: string, bytes: ArrayBuffer} | undefined} file returns the file of a result
 * @param {(key: string) => string} say
 */
export function wireProposals(root, file, say) {
  const { newFile } = JSON.parse(document.querySelector("#dw-config").textContent);
  for (const box of root.querySelectorAll(".dw-propose")) {
    const { proposes, folder } = box.dataset;
    const note = box.querySelector("[role=status]");
    /** @param {string} key */
    const announce = (key) => (note.textContent = say(key));
    /** @param {{bytes: ArrayBuffer}} file */
    const textOf = ({ bytes }) => new TextDecoder().decode(bytes);

    box.querySelector(".dw-copy").addEventListener("click", async () => {
      const held = file(proposes);
      if (held) announce((await copied(textOf(held))) ? "text_copied" : "text_not_copied");
    });

    const open = box.querySelector(".dw-open-new");
    open.hidden = !newFile;
    open.addEventListener("click", async () => {
      const held = file(proposes);
      if (!held) return;
      const text = textOf(held);
      const whole = newFileAddress(newFile, folder, held.name, text);
      if (whole.length <= LONGEST) {
        announce("new_file_filled");
        window.open(whole, "_blank", "noopener");
        return;
      }
      // Copy before opening the new tab, since a page without focus may not copy.
      announce((await copied(text)) ? "new_file_to_paste" : "new_file_to_copy");
      window.open(newFileAddress(newFile, folder, held.name, ""), "_blank", "noopener");
    });
  }
}

/**
 * Returns the address of the repository's page for a new file.
 * @param {string} pattern with {folder}, {name} and {text} in it
 * @param {string} folder
 * @param {string} name
 * @param {string} text
 */
export function newFileAddress(pattern, folder, name, text) {
  /** @type {Record<string, string>} */
  const parts = { folder, name: encodeURIComponent(name), text: encodeURIComponent(text) };
  return pattern.replace(/\{(folder|name|text)\}/g, (_, part) => parts[part]);
}

/** @param {string} text */
async function copied(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

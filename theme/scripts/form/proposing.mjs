/**
 * A text among the results that is proposed as a new file of the project: copied, or opened as a new
 * file where the sources are kept, with its name and text filled in.
 */

import { config } from "../../engine/visit.mjs";

/** Hosts take addresses of about 8000 characters; one that is longer would be refused, text and all. */
const LONGEST = 7000;

/**
 * Wires the buttons beside the files of an answer.
 * @param {HTMLElement} root a .dw-calculator
 * @param {(result: string) => {name: string, bytes: ArrayBuffer} | undefined} file the file of a result
 * @param {(key: string) => string} say
 */
export function wireProposals(root, file, say) {
  for (const box of root.querySelectorAll(".dw-propose")) {
    const { proposes, folder } = box.dataset;
    const note = box.querySelector("[role=status]");
    const told = (key) => (note.textContent = say(key));
    const textOf = ({ bytes }) => new TextDecoder().decode(bytes);

    box.querySelector(".dw-copy").addEventListener("click", async () => {
      const held = file(proposes);
      if (held) told((await copied(textOf(held))) ? "text_copied" : "text_not_copied");
    });

    const open = box.querySelector(".dw-open-new");
    open.hidden = !config.newFile;
    open.addEventListener("click", async () => {
      const held = file(proposes);
      if (!held) return;
      const text = textOf(held);
      const whole = newFileAddress(config.newFile, folder, held.name, text);
      if (whole.length <= LONGEST) {
        told("new_file_filled");
        window.open(whole, "_blank", "noopener");
        return;
      }
      // The new tab takes the focus, and with it the right to copy: so the text is copied first.
      told((await copied(text)) ? "new_file_to_paste" : "new_file_to_copy");
      window.open(newFileAddress(config.newFile, folder, held.name, ""), "_blank", "noopener");
    });
  }
}

/**
 * Returns the address at which a new file is begun.
 * @param {string} pattern with {folder}, {name} and {text} in it
 */
export function newFileAddress(pattern, folder, name, text) {
  const parts = { folder, name: encodeURIComponent(name), text: encodeURIComponent(text) };
  return pattern.replace(/\{(folder|name|text)\}/g, (_, part) => parts[part]);
}

async function copied(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

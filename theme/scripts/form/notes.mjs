/**
 * Notes at the top of a form: where values came from, what was reset, what cannot be stored.
 */

/**
 * @typedef {object} Action
 * @property {string} label
 * @property {() => void} act
 */

/**
 * Shows a note; one of the same name is replaced.
 * @param {HTMLElement} place the .dw-notes
 * @param {string} name
 * @param {string} text
 * @param {string} close the name of the closing button
 * @param {object} [more]
 * @param {Action[]} [more.actions] each closes the note
 * @param {string} [more.address] a text to be copied by hand
 */
export function showNote(place, name, text, close, { actions = [], address } = {}) {
  removeNote(place, name);
  const note = document.createElement("div");
  note.className = "dw-note";
  note.dataset.note = name;
  note.append(Object.assign(document.createElement("p"), { textContent: text }));
  if (address) note.append(addressField(address, text));
  for (const { label, act } of actions) note.append(button("dw-note-action", label, () => (note.remove(), act())));
  note.append(button("dw-note-close", close, () => note.remove()));
  place.append(note);
}

/**
 * @param {HTMLElement} place the .dw-notes
 * @param {string} name
 */
export function removeNote(place, name) {
  place.querySelector(`[data-note="${name}"]`)?.remove();
}

/**
 * @param {string} className
 * @param {string} label
 * @param {() => void} act
 */
function button(className, label, act) {
  const made = Object.assign(document.createElement("button"), { type: "button", className, textContent: label });
  made.addEventListener("click", act);
  return made;
}

/**
 * @param {string} address
 * @param {string} label
 */
function addressField(address, label) {
  const field = Object.assign(document.createElement("input"), { type: "text", readOnly: true, value: address });
  field.className = "dw-note-address";
  field.setAttribute("aria-label", label);
  field.addEventListener("focus", () => field.select());
  return field;
}

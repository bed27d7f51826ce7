/** Buttons of an answer that choose a value in the form. */

/**
 * Wires buttons of the answer that choose a value in the form. They have data-chooses, the field, and data-value.
 * @param {HTMLElement} root the .dw-calculator
 * @param {AbortSignal} signal ends it
 */
export function wireChoices(root, signal) {
  root.addEventListener(
    "click",
    ({ target }) => {
      const button = /** @type {Element} */ (target).closest("[data-chooses]");
      if (!button) return;
      const control = root.querySelector(`[id="in-${button.dataset.chooses}"]`);
      control.value = button.dataset.value;
      control.dispatchEvent(new Event("change", { bubbles: true }));
    },
    { signal },
  );
}

/**
 * The message if a script of the page did not load. theme/partials/dw-early.js shows the same if none loaded.
 */

/**
 * Shows the card of each calculator, from which the reader can reload the page.
 * @param {(key: string) => string} say
 */
export function tellUnstarted(say) {
  for (const card of document.querySelectorAll(".dw-outcome")) {
    card.querySelector(".dw-outcome-title").textContent = say("no_engine_title");
    card.querySelector(".dw-outcome-text").textContent = say("no_engine_text");
    card.querySelector(".dw-again").addEventListener("click", () => location.reload());
    card.hidden = false;
  }
}

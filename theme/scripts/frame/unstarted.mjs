/**
 * What is told where a script of the page did not come. theme/partials/dw-early.js tells the same where none came at all.
 */

/**
 * Shows the card of each calculator, from which the reader begins the page anew.
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

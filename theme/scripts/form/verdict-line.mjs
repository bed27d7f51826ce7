/**
 * The verdict in one line at the top edge while the verdict itself is scrolled out of view. A tap opens the reasons.
 */

/** Height of the line: a title under it is out of view. */
const LINE_PX = 56;

/**
 * Adds the line for each verdict of a calculator.
 * @param {HTMLElement} root the .dw-calculator
 * @param {(key: string, parts?: object) => string} say
 * @param {AbortSignal} signal ends it
 */
export function keepInSight(root, say, signal) {
  for (const card of root.querySelectorAll(".dw-verdict")) make(root, card, say, signal);
}

/**
 * @param {HTMLElement} root
 * @param {HTMLElement} card
 * @param {Say} say
 * @param {AbortSignal} signal
 */
function make(root, card, say, signal) {
  const line = Object.assign(document.createElement("div"), { className: "dw-verdict-line", hidden: true });
  const button = Object.assign(document.createElement("button"), { type: "button" });
  const title = document.createElement("span");
  const all = Object.assign(document.createElement("div"), { className: "dw-verdict-all", hidden: true });
  all.id = `all-${card.dataset.result}`;
  button.append(...[...card.querySelectorAll(".dw-sign")].map((sign) => sign.cloneNode(true)), title);
  button.setAttribute("aria-controls", all.id);
  button.title = say("verdict_open");
  line.append(button, all);
  card.after(line);
  /** @param {boolean} opened */
  const open = (opened) => {
    all.hidden = !opened;
    button.setAttribute("aria-expanded", String(opened));
  };
  const fill = () => {
    // An outdated verdict is not repeated: the line then says that the answer is older than the input.
    const stale = card.closest(".dw-answer").dataset.state === "stale";
    line.dataset.level = stale ? "" : card.dataset.level;
    title.textContent = (stale ? root.querySelector(".dw-state") : card.querySelector("[data-part=title]")).textContent;
    const [brief, ...more] = card.querySelectorAll("[data-part=brief], [data-part=more] > p");
    all.replaceChildren(...[brief, ...more].map((each) => Object.assign(document.createElement("p"), { textContent: each.textContent })));
  };
  const out = { card: false, root: false };
  const place = () => {
    line.hidden = !out.card || out.root;
    if (line.hidden) open(false);
  };
  /** @param {IntersectionObserverEntry} entry */
  const above = ({ isIntersecting, boundingClientRect }) => !isIntersecting && boundingClientRect.bottom <= LINE_PX;
  const seen = new IntersectionObserver((entries) => {
    for (const entry of entries) out[entry.target === root ? "root" : "card"] = above(entry);
    place();
  });
  // The line appears as soon as the title is out of view, even if some reasons are still visible.
  const heading = card.querySelector("[data-part=title]");
  seen.observe(heading);
  seen.observe(root);
  const changed = new MutationObserver(() => (fill(), place()));
  changed.observe(card, { attributes: true, childList: true, characterData: true, subtree: true });
  changed.observe(card.closest(".dw-answer"), { attributes: true, attributeFilter: ["data-state"] });
  button.addEventListener("click", () => open(all.hidden));
  line.addEventListener("keydown", ({ key }) => key === "Escape" && open(false));
  signal.addEventListener("abort", () => {
    seen.disconnect();
    changed.disconnect();
    line.remove();
  });
  fill();
  open(false);
}

/**
 * On an upright screen, the form of a picture page is a sheet at the bottom edge, opened by its handle. The style sheet
 * decides where.
 */

/**
 * @param {HTMLElement} root the .dw-calculator
 * @param {AbortSignal} signal ends it
 */
export function wireSheet(root, signal) {
  const handle = root.querySelector(".dw-sheet-handle");
  if (!handle) return;
  const form = root.querySelector(".dw-form");
  const problems = form.querySelector(".dw-problems");
  /** @param {boolean} opened */
  const open = (opened) => {
    handle.setAttribute("aria-expanded", String(opened));
    root.dataset.sheet = opened ? "open" : "closed";
    // An open sheet covers part of the screen, so scroll the picture into the rest.
    if (opened && handle.offsetParent) root.querySelector(".dw-workplace").scrollIntoView({ block: "start", behavior: "instant" });
  };
  /** @type {Listen} */
  const on = (target, type, act) => target.addEventListener(type, act, { signal });
  on(handle, "click", () => open(handle.getAttribute("aria-expanded") === "false"));
  on(form, "keydown", ({ key, target }) => {
    if (key !== "Escape" || !handle.offsetParent || /** @type {Element} */ (target).closest("[data-kind=picture]")) return;
    open(false);
    handle.focus();
  });
  const trouble = handle.querySelector(".dw-sheet-trouble");
  const watch = new MutationObserver(() => {
    trouble.textContent = problems.hidden ? "" : problems.querySelector(".dw-problems-title").textContent;
  });
  watch.observe(problems, { attributes: true, childList: true, subtree: true });
  const timers = document.querySelector(".dw-timers");
  const size = new ResizeObserver(() => root.style.setProperty("--dw-timers", `${/** @type {HTMLElement} */ (timers).offsetHeight}px`));
  size.observe(timers, { box: "border-box" });
  signal.addEventListener("abort", () => [watch, size].forEach((each) => each.disconnect()));
}

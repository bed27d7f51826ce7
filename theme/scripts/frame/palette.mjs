/**
 * The choice of colours: as on the device, light or dark. A short script in theme/partials/dw-palette.html has set them
 * before the first paint; this one wires the buttons, and follows the device.
 */

/** The theme's own functions, which store a choice where the theme would. */
const stored = /** @type {{__md_get: (key: string) => {index: number} | null, __md_set: (key: string, value: object) => void}} */ (
  /** @type {unknown} */ (globalThis)
);

export function startPalette() {
  const options = [.../** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll(".dw-palette input"))];
  const header = /** @type {HTMLElement} */ (document.querySelector(".dw-header"));
  const isDark = matchMedia("(prefers-color-scheme: dark)");
  const theme = Object.assign(document.createElement("meta"), { name: "theme-color" });
  document.head.append(theme);
  let chosen = options[stored.__md_get("__palette")?.index ?? 0] ?? options[0];
  const apply = () => {
    const { mdColorMedia, mdColorScheme } = chosen.dataset;
    const isSlate = mdColorMedia?.endsWith("-scheme)") ? isDark.matches : mdColorScheme === "slate";
    const scheme = isSlate ? "slate" : "default";
    // What the first script has set is not set again: the browser would style the whole page anew.
    if (document.body.dataset.mdColorScheme !== scheme) document.body.dataset.mdColorScheme = scheme;
    document.documentElement.style.colorScheme = isSlate ? "dark" : "light";
    for (const option of options) /** @type {HTMLElement} */ (option.nextElementSibling).hidden = option !== chosen;
    // In the frame that styles the header anyway.
    requestAnimationFrame(() => (theme.content = getComputedStyle(header).backgroundColor));
  };
  for (const [index, option] of options.entries()) {
    option.addEventListener("change", () => {
      chosen = option;
      stored.__md_set("__palette", { index });
      apply();
    });
  }
  isDark.addEventListener("change", apply);
  apply();
}

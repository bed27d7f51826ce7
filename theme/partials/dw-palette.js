(() => {
  const options = [...document.querySelectorAll(".dw-palette input")];
  const isDark = matchMedia("(prefers-color-scheme: dark)");
  const [theme, scheme] = ["theme-color", "color-scheme"].map((name) => Object.assign(document.createElement("meta"), { name }));
  document.head.append(theme, scheme);
  let chosen = options[__md_get("__palette")?.index] ?? options[0];
  const apply = () => {
    const { mdColorMedia, mdColorScheme } = chosen.dataset;
    const isSlate = mdColorMedia.endsWith("-scheme)") ? isDark.matches : mdColorScheme === "slate";
    document.body.dataset.mdColorScheme = isSlate ? "slate" : "default";
    scheme.content = isSlate ? "dark" : "light";
    for (const option of options) option.nextElementSibling.hidden = option !== chosen;
    // In the frame that styles the header anyway.
    requestAnimationFrame(() => (theme.content = getComputedStyle(document.querySelector(".dw-header")).backgroundColor));
  };
  for (const [index, option] of options.entries()) {
    option.addEventListener("change", () => {
      chosen = option;
      __md_set("__palette", { index });
      apply();
    });
  }
  isDark.addEventListener("change", apply);
  apply();
})();

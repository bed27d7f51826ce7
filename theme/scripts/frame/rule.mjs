// The rule of stages is in the part of the page that instant navigation replaces. On a screen too narrow for all nine
// it scrolls; this scrolls the current stage into view.

/** Keep the current stage in view, now and after each navigation. */
export function start() {
  if (globalThis.document$) globalThis.document$.subscribe(showPresent)
  else showPresent()
}

function showPresent() {
  const rule = document.querySelector(".dw-rule ol")
  const present = rule?.querySelector(".dw-rule-here")
  if (!present || rule.scrollWidth <= rule.clientWidth) return
  rule.scrollLeft = present.offsetLeft - (rule.clientWidth - present.offsetWidth) / 2
}

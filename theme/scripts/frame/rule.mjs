// The rule of stages is printed in the part of the page that instant navigation renews. On a screen too narrow
// for all nine it is swiped; this brings the present stage into sight.

/** Keep the present stage in sight, now and after each navigation. */
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

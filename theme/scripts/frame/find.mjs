// Find… opens the theme's search over the page, and gets the focus back when it closes.

import { fragmentOf } from "../keep/link.mjs"

/** Wire the header's Find… button. The header stays for the whole visit, so once is enough. */
export function start() {
  const button = document.querySelector(".dw-find")
  const toggle = document.querySelector("#__search")
  const query = document.querySelector("[data-md-component=search-query]")
  if (!button || !toggle || !query || button.dataset.wired) return
  button.dataset.wired = "yes"

  const open = () => {
    if (!toggle.checked) toggle.click()
    query.focus()
    query.select()
  }
  button.addEventListener("click", open)

  // The theme's own search key cannot focus a hidden field.
  document.addEventListener("keydown", event => {
    const typing = /** @type {Element} */ (event.target).closest?.("input, textarea, select, [contenteditable]")
    if (event.key !== "/" || event.ctrlKey || event.metaKey || typing) return
    event.preventDefault()
    open()
  })

  const finder = document.querySelector(".dw-search-finder a")
  const { href } = finder // whole: the header outlives the page that it is relative to
  const handOver = () => {
    const question = query.value.trim()
    finder.href = question ? `${href}#${fragmentOf({ [finder.dataset.field]: question })}` : href
    finder.querySelector("span").textContent = question ? `: “${question}”` : ""
  }
  for (const when of ["input", "focus"]) query.addEventListener(when, handOver)
  // The theme searches on keyup, which pasting, dictation and suggestions do not trigger.
  query.addEventListener("input", () => query.dispatchEvent(new Event("keyup")))
  query.form.addEventListener("reset", () => setTimeout(handOver))
  finder.addEventListener("click", (/** @type {Event} */ event) => {
    if (new URL(finder.href).pathname !== location.pathname) return
    // On the finder's own page the theme would change the address without notifying the form.
    event.stopPropagation()
    toggle.click()
  })
  handOver()

  toggle.addEventListener("change", () => {
    document.documentElement.classList.toggle("dw-search-open", toggle.checked)
    const lost = !document.activeElement || document.activeElement === document.body || document.activeElement === query
    if (!toggle.checked && lost) button.focus()
  })
}

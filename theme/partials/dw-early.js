// Starts the worker of a page with a calculator at once, before styles and scripts have loaded.
// theme/engine/engine.mjs takes it over, with the messages that it has sent until then.
// If a script of the page fails to load, none of our other scripts run, so this one shows the message.
(() => {
  try {
    // The strip of the current marking needs room before anything is painted.
    if (localStorage.getItem("decalwright-marked")) document.documentElement.classList.add("dw-marked");
  } catch {}
  const { engine, base, unstarted, calculator } = JSON.parse(document.getElementById("dw-config").textContent);
  const root = new URL(base.replace(/\/?$/, "/"), document.baseURI);
  const plain = new URLSearchParams(location.search).get("engine") === "plain";
  const early = { heard: [], failed: null };
  try {
    // Without WebAssembly there is nothing to fetch; the engine tells the reader.
    if (typeof WebAssembly === "undefined") throw new Error("no WebAssembly");
    early.worker = new Worker(new URL(engine.worker, root), { type: "module", name: "engine" });
    early.worker.onmessage = ({ data }) => early.heard.push(data);
    early.worker.onerror = ({ message }) => (early.failed = message || "the worker ended");
    early.worker.postMessage({ type: "boot", base: root.href, plain, calculator });
    globalThis.dwEarly = early;
  } catch {
    // The engine tries again, and tells the reader.
  }
  const show = () => {
    for (const card of document.querySelectorAll(".dw-outcome")) {
      card.querySelector(".dw-outcome-title").textContent = unstarted.title;
      card.querySelector(".dw-outcome-text").textContent = unstarted.text;
      card.querySelector(".dw-again").addEventListener("click", () => location.reload());
      card.hidden = false;
    }
  };
  const onError = ({ target }) => {
    if (!(target instanceof HTMLScriptElement)) return;
    if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", show);
    else show();
  };
  addEventListener("error", onError, true);
})();

// Starts the worker of a page with a calculator at once, before styles and scripts are there.
// theme/engine/engine.mjs takes it over, with what it has said until then.
// Where a script of the page does not come, nothing else of ours runs: that is told from here.
(() => {
  const { engine, base, unstarted, stage } = JSON.parse(document.getElementById("dw-config").textContent);
  const root = new URL(base.replace(/\/?$/, "/"), document.baseURI);
  const plain = new URLSearchParams(location.search).get("engine") === "plain";
  const early = { heard: [], failed: null };
  try {
    // Where the browser has it switched off there is nothing to fetch: the engine tells the reader.
    if (typeof WebAssembly === "undefined") throw new Error("no WebAssembly");
    early.worker = new Worker(new URL(engine.worker, root), { type: "module", name: "engine" });
    early.worker.onmessage = ({ data }) => early.heard.push(data);
    early.worker.onerror = ({ message }) => (early.failed = message || "the worker ended");
    early.worker.postMessage({ type: "boot", base: root.href, plain, stage });
    globalThis.dwEarly = early;
  } catch {
    // The engine tries it again, and tells the reader.
  }
  const tell = () => {
    for (const card of document.querySelectorAll(".dw-outcome")) {
      card.querySelector(".dw-outcome-title").textContent = unstarted.title;
      card.querySelector(".dw-outcome-text").textContent = unstarted.text;
      card.querySelector(".dw-again").addEventListener("click", () => location.reload());
      card.hidden = false;
    }
  };
  const onError = ({ target }) => {
    if (!(target instanceof HTMLScriptElement)) return;
    if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", tell);
    else tell();
  };
  addEventListener("error", onError, true);
})();

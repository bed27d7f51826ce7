// Saving the site on the device, as the page sees it: the offline worker does the work.
import { base } from "./visit.mjs";

/**
 * How saving stands: "unavailable" (no service workers here: plain http, an old browser, a private
 * window), "off", "saving", "ready", "failed" (the network), "full" (no room on the device).
 * Dispatches "state" when `state` or `share` (0 to 1) changes.
 */
class Offline extends EventTarget {
  state = "off";
  share = 0;

  #base;
  #begun = false;
  #saver = null;
  #rests = false;

  constructor(base) {
    super();
    this.#base = base;
    const workers = globalThis.navigator?.serviceWorker;
    if (!workers) {
      this.state = "unavailable";
      return;
    }
    workers.addEventListener("message", ({ data }) => this.#hear(data));
    workers.startMessages();
    workers.controller?.postMessage({ type: "look" });
  }

  /** Save the site, or mend what was saved, unless that is done or under way. Never rejects. */
  async begin() {
    if (this.#begun || this.state === "ready" || this.state === "unavailable") return;
    this.#begun = true;
    this.#become("saving", 0);
    // Whether the browser agrees or not, saving goes on; without, it may be cleared when room is short.
    navigator.storage?.persist?.().catch(() => {});
    const options = { scope: this.#base.href, updateViaCache: "none" };
    try {
      const registration = await navigator.serviceWorker.register(new URL("offline-worker.js", this.#base), options);
      const { installing, waiting, active } = registration;
      if (installing) this.#watch(installing);
      else (active ?? waiting).postMessage({ type: "fill" });
      this.#saver = installing ?? active ?? waiting;
      if (this.#rests) this.rest(true);
    } catch (error) {
      this.#begun = false;
      this.#become(error.name === "SecurityError" || error.name === "NotSupportedError" ? "unavailable" : "failed");
    }
  }

  /** Put saving off while something else is more urgent (true), or let it go on. */
  rest(rests) {
    this.#rests = rests;
    if (this.state === "saving") this.#saver?.postMessage({ type: rests ? "rest" : "go on" });
  }

  /** An installation may end without a word, for instance when the browser ends the worker. */
  #watch(worker) {
    worker.addEventListener("statechange", () => {
      if (worker.state === "redundant" && this.state === "saving") this.#hear({ type: "failed", offline: true });
    });
  }

  #hear(message) {
    if (!message?.offline) return;
    switch (message.type) {
      case "saving":
        // A newer version is being fetched behind one that is whole: that is none of the reader's concern.
        if (this.state !== "ready") this.#become("saving", message.share);
        return;
      case "ready":
        this.#become("ready", 1);
        return;
      case "failed":
        this.#begun = false;
        if (this.state !== "ready") this.#become(message.why === "full" ? "full" : "failed");
    }
  }

  #become(state, share = 0) {
    this.state = state;
    this.share = share;
    this.dispatchEvent(new Event("state"));
  }
}

/** The one of this visit. */
export const offline = new Offline(base);

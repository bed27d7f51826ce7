// The page's side of saving the site on the device. The offline worker does the work.
import { base } from "./visit.mjs";

/** Key of the reader's choice: "no", "yes", or "stopped" after having begun. Nothing is saved without a choice. */
const REMEMBERED_AS = "dw-offline";

/**
 * The state of saving: "unavailable" (no service workers here: plain http, an old browser, a private
 * window), "off", "saving", "stopped", "ready", "failed" (the network), "full" (no room on the device).
 * Dispatches "state" when `state` or `share` (0 to 1) changes.
 */
class Offline extends EventTarget {
  state = "off";
  share = 0;
  /** Bytes saved so far, and in total; 0 if unknown. */
  done = 0;
  total = 0;

  #base;
  #begun = false;
  #saver = /** @type {ServiceWorker | null} */ (null);
  #rests = false;

  /** @param {URL} base */
  constructor(base) {
    super();
    this.#base = base;
    const workers = globalThis.navigator?.serviceWorker;
    if (!workers) {
      this.state = "unavailable";
      return;
    }
    if (choice() === "stopped") this.state = "stopped";
    workers.addEventListener("message", ({ data }) => this.#hear(data));
    workers.startMessages();
    this.#saver = workers.controller;
    this.#saver?.postMessage({ type: "look", mends: choice() !== "stopped" && !this.sparing, sparing: this.sparing });
  }

  /** Whether the device asks to use little data. */
  get sparing() {
    return Boolean(/** @type {any} */ (navigator).connection?.saveData) || matchMedia("(prefers-reduced-data: reduce)").matches;
  }

  /** Whether the reader may be asked, which happens once. */
  get unasked() {
    return this.state === "off" && choice() === null && !this.sparing;
  }

  /** Record that the reader declined. */
  decline() {
    if (choice() === null) remember("no");
  }

  /** Continue saving that an earlier visit began and neither finished nor stopped. An active worker repairs itself. */
  resume() {
    if (!this.#saver && choice() === "yes" && this.state === "off" && !this.sparing) this.begin();
  }

  /** Save the site, or repair the saved copy, unless that is done or in progress. Never rejects. */
  async begin() {
    if (this.#begun || this.state === "ready" || this.state === "unavailable") return;
    remember("yes");
    this.#begun = true;
    this.#setState("saving", this.share);
    // Save even if the browser refuses: it may then delete the copy when storage is short.
    navigator.storage?.persist?.().catch(() => {});
    /** @type {RegistrationOptions} */
    const options = { scope: this.#base.href, updateViaCache: "none" };
    try {
      const registration = await navigator.serviceWorker.register(new URL("offline-worker.js", this.#base), options);
      const { installing, waiting, active } = registration;
      if (installing) this.#watch(installing);
      else (active ?? waiting)?.postMessage({ type: "fill" });
      this.#saver = installing ?? active ?? waiting;
      if (this.#rests) this.rest(true);
      if (choice() === "stopped") this.stop();
    } catch (error) {
      this.#begun = false;
      const isRefused = error instanceof DOMException && (error.name === "SecurityError" || error.name === "NotSupportedError");
      this.#setState(isRefused ? "unavailable" : "failed");
    }
  }

  /** Stop saving. Saved files stay, and saving continues from there when it begins again. */
  stop() {
    remember("stopped");
    this.#saver?.postMessage({ type: "stop" });
    if (this.state === "saving") this.#setState("stopped", this.share);
  }

  /**
   * Pause saving while something else is more urgent (true), or continue it.
   * @param {boolean} rests
   */
  rest(rests) {
    this.#rests = rests;
    if (this.state === "saving") this.#saver?.postMessage({ type: rests ? "rest" : "go on" });
  }

  /**
   * Watch for an installation that ends without a message: browsers end a worker that takes minutes.
   * @param {ServiceWorker} worker
   */
  #watch(worker) {
    const before = this.done;
    worker.addEventListener("statechange", () => {
      if (worker.state !== "redundant" || this.state !== "saving") return;
      const progressed = this.done > before;
      this.#hear({ type: "failed", offline: true });
      if (progressed) this.begin();
    });
  }

  /** @param {any} message */
  #hear(message) {
    if (!message?.offline) return;
    this.total = message.total ?? this.total;
    switch (message.type) {
      case "saving":
        // A newer edition loads in the background while a complete one is active: nothing to show.
        if (this.state === "ready" || this.state === "stopped") return;
        this.done = message.done;
        this.#setState("saving", message.share);
        return;
      case "off":
        this.done = message.done;
        return;
      case "ready":
        this.done = this.total;
        this.#setState("ready", 1);
        return;
      case "failed":
        this.#begun = false;
        if (this.state === "ready") return;
        if (message.why === "full" || message.why === "stopped") this.#setState(message.why, this.share);
        else this.#setState(this.state === "stopped" ? "stopped" : "failed", this.share);
    }
  }

  /** @param {string} state */
  #setState(state, share = 0) {
    this.state = state;
    this.share = share;
    this.dispatchEvent(new Event("state"));
  }
}

function choice() {
  try {
    return localStorage.getItem(REMEMBERED_AS);
  } catch {
    return null;
  }
}

/** @param {string} what */
function remember(what) {
  try {
    localStorage.setItem(REMEMBERED_AS, what);
  } catch {
    // Without storage, the next visit asks again.
  }
}

/** The instance of this visit. */
export const offline = new Offline(base);

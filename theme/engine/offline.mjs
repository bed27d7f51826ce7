// Saving the site on the device, as the page sees it: the offline worker does the work.
import { base } from "./visit.mjs";

/** What the reader said of saving: "no", "yes", or "stopped" where it was begun. Nothing is saved that was not asked for. */
const REMEMBERED_AS = "dw-offline";

/**
 * How saving stands: "unavailable" (no service workers here: plain http, an old browser, a private
 * window), "off", "saving", "stopped", "ready", "failed" (the network), "full" (no room on the device).
 * Dispatches "state" when `state` or `share` (0 to 1) changes.
 */
class Offline extends EventTarget {
  state = "off";
  share = 0;
  /** Bytes that are kept, and that will be once all is; 0 where not known. */
  done = 0;
  total = 0;

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
    if (said() === "stopped") this.state = "stopped";
    workers.addEventListener("message", ({ data }) => this.#hear(data));
    workers.startMessages();
    this.#saver = workers.controller;
    this.#saver?.postMessage({ type: "look", mends: said() !== "stopped" && !this.sparing });
  }

  /** Whether the device asks that data be saved. */
  get sparing() {
    return Boolean(/** @type {any} */ (navigator).connection?.saveData) || matchMedia("(prefers-reduced-data: reduce)").matches;
  }

  /** Whether the reader may be asked, which is done once. */
  get unasked() {
    return this.state === "off" && said() === null && !this.sparing;
  }

  /** The reader was asked, and says no. */
  decline() {
    if (said() === null) remember("no");
  }

  /** Go on with what was begun in an earlier visit and neither ended nor stopped. What is in charge mends itself. */
  resume() {
    if (!this.#saver && said() === "yes" && this.state === "off" && !this.sparing) this.begin();
  }

  /** Save the site, or mend what was saved, unless that is done or under way. Never rejects. */
  async begin() {
    if (this.#begun || this.state === "ready" || this.state === "unavailable") return;
    remember("yes");
    this.#begun = true;
    this.#become("saving", this.share);
    // Whether the browser agrees or not, saving goes on; without, it may be cleared when room is short.
    navigator.storage?.persist?.().catch(() => {});
    /** @type {RegistrationOptions} */
    const options = { scope: this.#base.href, updateViaCache: "none" };
    try {
      const registration = await navigator.serviceWorker.register(new URL("offline-worker.js", this.#base), options);
      const { installing, waiting, active } = registration;
      if (installing) this.#watch(installing);
      else (active ?? waiting).postMessage({ type: "fill" });
      this.#saver = installing ?? active ?? waiting;
      if (this.#rests) this.rest(true);
      if (said() === "stopped") this.stop();
    } catch (error) {
      this.#begun = false;
      this.#become(error.name === "SecurityError" || error.name === "NotSupportedError" ? "unavailable" : "failed");
    }
  }

  /** Stop saving. What has come stays, and saving goes on from there when it is begun again. */
  stop() {
    remember("stopped");
    this.#saver?.postMessage({ type: "stop" });
    if (this.state === "saving") this.#become("stopped", this.share);
  }

  /** Put saving off while something else is more urgent (true), or let it go on. */
  rest(rests) {
    this.#rests = rests;
    if (this.state === "saving") this.#saver?.postMessage({ type: rests ? "rest" : "go on" });
  }

  /** An installation may end without a word: browsers end a worker that takes minutes, which on a slow line it does. */
  #watch(worker) {
    const before = this.done;
    worker.addEventListener("statechange", () => {
      if (worker.state !== "redundant" || this.state !== "saving") return;
      const came = this.done > before;
      this.#hear({ type: "failed", offline: true });
      if (came) this.begin();
    });
  }

  #hear(message) {
    if (!message?.offline) return;
    this.total = message.total ?? this.total;
    switch (message.type) {
      case "saving":
        // A newer edition is being fetched behind one that is whole: that is none of the reader's concern.
        if (this.state === "ready" || this.state === "stopped") return;
        this.done = message.done;
        this.#become("saving", message.share);
        return;
      case "off":
        this.done = message.done;
        return;
      case "ready":
        this.done = this.total;
        this.#become("ready", 1);
        return;
      case "failed":
        this.#begun = false;
        if (this.state === "ready") return;
        this.#become({ full: "full", stopped: "stopped" }[message.why] ?? (this.state === "stopped" ? "stopped" : "failed"), this.share);
    }
  }

  #become(state, share = 0) {
    this.state = state;
    this.share = share;
    this.dispatchEvent(new Event("state"));
  }
}

function said() {
  try {
    return localStorage.getItem(REMEMBERED_AS);
  } catch {
    return null;
  }
}

function remember(what) {
  try {
    localStorage.setItem(REMEMBERED_AS, what);
  } catch {
    // The reader is asked again in the next visit, then.
  }
}

/** The one of this visit. */
export const offline = new Offline(base);

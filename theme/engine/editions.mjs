// Finds out whether the book has a newer edition than the open page, and activates it.
import { offline } from "./offline.mjs";
import { base } from "./visit.mjs";

/** Delay before the server is first asked, so that the page's own files load first. */
const FIRST_LOOK_MS = 20_000;
/** How often an open page asks again. */
const LOOK_EVERY_MS = 60 * 60_000;
/** A page that becomes visible again asks too, but not more often than this. */
const NO_SOONER_MS = 15 * 60_000;
/** How long to wait for the new edition's worker to take control before reloading anyway. */
const CONTROL_MS = 5_000;

/**
 * The edition of this page, and the newer one if any. Dispatches "newer" once that can be activated: for a saved book,
 * when all of it is on the device; otherwise, or on a device that saves data, when the server has it.
 */
export class Editions extends EventTarget {
  newer = false;
  /** Whether the newer one is still to be fetched: a device that saves data fetches it only once the reader takes it. */
  unfetched = false;

  #own = /** @type {string | null} */ (null);
  #active = /** @type {string | null} */ (null);
  #looked = 0;
  #workers = globalThis.navigator?.serviceWorker;

  constructor() {
    super();
    setTimeout(() => this.look(), FIRST_LOOK_MS);
    setInterval(() => this.look(), LOOK_EVERY_MS);
    document.addEventListener("visibilitychange", () => document.hidden || this.#lookAgain());
    addEventListener("online", () => this.#lookAgain());
    this.#workers?.addEventListener("message", ({ data }) => this.#hear(data));
    this.#registration().then((registration) => registration && this.#watch(registration));
    addEventListener("click", (event) => this.#follow(event), true);
  }

  /** Returns the server's edition, {edition, bytes, fetched}, or null if it cannot be reached. */
  static async ofServer() {
    try {
      const response = await fetch(new URL("edition.json", base), { cache: "no-store" });
      return response.ok ? await response.json() : null;
    } catch {
      return null;
    }
  }

  /** Ask the server which edition it has. */
  async look() {
    this.#looked = Date.now();
    const found = await Editions.ofServer();
    if (!found) return;
    const registration = await this.#registration();
    if (registration?.active) {
      this.#watch(registration);
      if (found.edition === this.#active) return;
      if (!offline.sparing) await registration.update().catch(() => {});
      else if (this.#active && !registration.waiting) this.#announce({ unfetched: true });
      return;
    }
    // A page that is not saved came from the server moments ago, so the first reply names its own edition.
    this.#own ??= found.edition;
    if (found.edition !== this.#own) this.#announce();
  }

  /** Reload the page with the newer edition. The input is saved, as whenever the reader leaves a page. */
  async take() {
    const { waiting, active } = (await this.#registration()) ?? {};
    const controlled = new Promise((resolve) => this.#workers?.addEventListener("controllerchange", resolve, { once: true }));
    if (waiting) {
      waiting.postMessage({ type: "take over" });
      await Promise.race([controlled, new Promise((resolve) => setTimeout(resolve, CONTROL_MS))]);
    } else if (active && this.unfetched) {
      // However long it takes: the strip says so, and the reader can go on reading.
      active.postMessage({ type: "take newest" });
      await controlled;
    }
    location.reload();
  }

  #lookAgain() {
    if (this.#looked && Date.now() - this.#looked >= NO_SOONER_MS) this.look();
  }

  async #registration() {
    try {
      return await this.#workers?.getRegistration(base.href);
    } catch {
      return undefined;
    }
  }

  #watched = /** @type {ServiceWorkerRegistration | null} */ (null);

  /** @param {ServiceWorkerRegistration} registration */
  #watch(registration) {
    if (this.#watched === registration) return;
    this.#watched = registration;
    if (registration.waiting && registration.active) this.#announce();
    registration.addEventListener("updatefound", () => {
      const { installing } = registration;
      installing?.addEventListener("statechange", () => {
        // The very first installation is not a newer edition.
        if (installing.state === "installed" && registration.active) this.#announce();
      });
    });
  }

  /** @param {any} message */
  #hear(message) {
    if (!message?.offline) return;
    this.#own ??= message.edition ?? null;
    if (message.type !== "ready" && message.type !== "off") return;
    // This page is older than the active edition if another page has activated a newer one.
    this.#active = message.offline;
    if (this.#own && this.#own !== this.#active) this.#announce();
  }

  /** @param {{unfetched?: boolean}} [how] */
  #announce({ unfetched = false } = {}) {
    this.newer = true;
    this.unfetched = unfetched;
    this.dispatchEvent(new Event("newer"));
  }

  /**
   * Without a saved book, a link leads to the newer edition, so keep instant navigation from handling it.
   * @param {MouseEvent & {target: any}} event
   */
  #follow(event) {
    if (this.newer && !this.#active && event.target.closest?.("a[href]")) event.stopPropagation();
  }
}

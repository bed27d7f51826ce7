// Whether the book has a newer edition than the page that is open, and how the page takes it.
import { base } from "./visit.mjs";

/** When the server is first asked; what the page itself needs comes before. */
const FIRST_LOOK_MS = 20_000;
/** How often it is asked in a page that stays open. */
const LOOK_EVERY_MS = 60 * 60_000;
/** A page that is looked at again asks, unless it has done so just now. */
const NO_SOONER_MS = 15 * 60_000;
/** How long a new edition may take to be in charge before the page is loaded anew all the same. */
const TAKING_MS = 5_000;

/**
 * The edition of this page, and the newer one if there is one. Says "newer" once that can be taken: of a saved book, when it
 * is here whole; else, when the server has it.
 */
export class Editions extends EventTarget {
  newer = false;

  #own = null;
  #active = null;
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

  /** What the server says of its edition, {edition, bytes, fetched}, or null where it cannot be asked. */
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
      if (found.edition !== this.#active) await registration.update().catch(() => {});
      return;
    }
    // What is not saved came from the server a moment before it was first asked.
    this.#own ??= found.edition;
    if (found.edition !== this.#own) this.#tell();
  }

  /** Begin the page anew with the newer edition. What is typed is kept as whenever a page is left. */
  async take() {
    const waiting = (await this.#registration())?.waiting;
    if (waiting) {
      const taken = new Promise((resolve) => this.#workers.addEventListener("controllerchange", resolve, { once: true }));
      waiting.postMessage({ type: "take over" });
      await Promise.race([taken, new Promise((resolve) => setTimeout(resolve, TAKING_MS))]);
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

  #watched = null;

  #watch(registration) {
    if (this.#watched === registration) return;
    this.#watched = registration;
    if (registration.waiting && registration.active) this.#tell();
    registration.addEventListener("updatefound", () => {
      const { installing } = registration;
      installing?.addEventListener("statechange", () => {
        // The first one of all is no newer one.
        if (installing.state === "installed" && registration.active) this.#tell();
      });
    });
  }

  #hear(message) {
    if (!message?.offline) return;
    this.#own ??= message.edition ?? null;
    if (message.type !== "ready" && message.type !== "off") return;
    // Another page has taken a newer one, or the older one has lost parts; this page still has the older.
    this.#active = message.offline;
    if (this.#own && this.#own !== this.#active) this.#tell();
  }

  #tell() {
    this.newer = true;
    this.dispatchEvent(new Event("newer"));
  }

  /** A link from a page that the server alone answers for leads to the newer edition, so it begins anew. */
  #follow(event) {
    if (this.newer && !this.#active && event.target.closest?.("a[href]")) event.stopPropagation();
  }
}

/**
 * Keeps the screen on in bench mode. The browser releases the lock when the page is hidden, so it is requested again
 * when the page is visible.
 */

/** Dispatches "change" when the lock is acquired or released. */
export class Awake extends EventTarget {
  #wanted = false;
  /** @type {WakeLockSentinel | null} */
  #lock = null;

  constructor() {
    super();
    document.addEventListener("visibilitychange", () => this.#ask());
  }

  /** Whether the screen is kept on now. */
  get holds() {
    return Boolean(this.#lock);
  }

  /** Keeps the screen on from now on. */
  begin() {
    this.#wanted = true;
    this.#ask();
  }

  /** Lets the screen go dark as usual. */
  end() {
    this.#wanted = false;
    this.#lock?.release();
  }

  async #ask() {
    if (!this.#wanted || this.#lock || document.visibilityState !== "visible") return;
    try {
      const lock = await navigator.wakeLock.request("screen");
      this.#lock = lock;
      lock.addEventListener("release", () => {
        this.#lock = null;
        this.dispatchEvent(new Event("change"));
      });
      if (!this.#wanted) lock.release();
    } catch {
      // Unsupported, or refused for now, for example on low battery: the page says that the screen may go dark.
    }
    this.dispatchEvent(new Event("change"));
  }
}

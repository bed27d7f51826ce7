/**
 * Keeps the screen on while a how-to is read at the bench. The browser lets go whenever the page is hidden; it is asked
 * again when the page is seen.
 */

/** Says "change" when the screen is held on, or no longer. */
export class Awake extends EventTarget {
  #wanted = false;
  /** @type {WakeLockSentinel | null} */
  #lock = null;

  constructor() {
    super();
    document.addEventListener("visibilitychange", () => this.#ask());
  }

  /** Whether the screen is held on now. */
  get holds() {
    return Boolean(this.#lock);
  }

  /** Holds the screen on from now. */
  begin() {
    this.#wanted = true;
    this.#ask();
  }

  /** Lets the screen go dark as the device has it. */
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
      // Not offered here, or refused for now, say for want of charge: the page tells that the screen may go dark.
    }
    this.dispatchEvent(new Event("change"));
  }
}

/**
 * Lets the bridges of a loose stencil be touched in their drawing: taken away, brought back, moved and added. Each touch
 * changes the typed text, which Python reads.
 */

/** @typedef {{chosen: string, off: string, leave: string, back: string, add: string, added: string, moved: string, gone: string}} Words */

/**
 * @param {HTMLElement} root a .dw-calculator
 * @param {HTMLElement} field the one with the changes
 * @param {AbortSignal} signal ends it
 */
export function wireBridges(root, field, signal) {
  const figure = /** @type {HTMLElement} */ (root.querySelector(`.dw-figure[data-result="${field.dataset.taps}"]`));
  const bridges = new Bridges(figure, /** @type {HTMLInputElement} */ (field.querySelector(".dw-typed")));
  figure.addEventListener("click", (event) => field.hidden || bridges.touched(event), { signal });
}

/** The bridges of one drawing. */
class Bridges {
  #figure;
  #typed;
  #status = document.createElement("p");
  #buttons = document.createElement("div");
  /** The number of the bridge that was touched, or "". */
  #chosen = "";

  /**
   * @param {HTMLElement} figure
   * @param {HTMLInputElement} typed
   */
  constructor(figure, typed) {
    this.#figure = figure;
    this.#typed = typed;
    this.#status.setAttribute("role", "status");
    const panel = Object.assign(document.createElement("div"), { className: "dw-bridges" });
    panel.append(this.#status, this.#buttons);
    figure.append(panel);
  }

  /** @param {MouseEvent} event */
  touched({ target, clientX, clientY }) {
    const svg = /** @type {SVGSVGElement | null} */ (this.#figure.querySelector("svg[data-bridges]"));
    if (!svg || !(target instanceof Element) || !svg.contains(target)) return;
    const words = /** @type {Words} */ (JSON.parse(String(svg.dataset.bridges)));
    const bridge = nearest(svg.querySelectorAll(".dw-bridge"), clientX, clientY);
    if (bridge) this.#touchedBridge(bridge, words);
    else if (target.closest(".dw-opening")) this.#touchedPlace(placeAt(svg, target, clientX, clientY), words);
  }

  /**
   * Brings a bridge back, or chooses it.
   * @param {SVGElement} bridge
   * @param {Words} words
   */
  #touchedBridge(bridge, words) {
    const number = String(bridge.dataset.bridge);
    if (bridge.classList.contains("dw-off")) {
      this.#rewrite(bridge, () => "");
      this.#show(filled(words.back, number));
      return;
    }
    this.#choose(number);
    const takeAway = () => {
      this.#rewrite(bridge, (of) => (of === "new" ? "" : `${of} off`));
      this.#show(filled(words.gone, number));
    };
    this.#show(filled(words.chosen, number), [[words.off, takeAway], [words.leave, () => this.#leave()]]);
  }

  /**
   * Moves the chosen bridge to a place in mm, or offers to add one.
   * @param {string} place
   * @param {Words} words
   */
  #touchedPlace(place, words) {
    const number = this.#chosen;
    const moved = number && this.#figure.querySelector(`.dw-bridge[data-bridge="${number}"]`);
    if (moved) {
      this.#rewrite(/** @type {SVGElement} */ (moved), (of) => `${of} at ${place}`);
      this.#show(filled(words.moved, number, place));
      return;
    }
    const add = () => {
      this.#write([...this.#parts(), `new at ${place}`]);
      this.#show(filled(words.added, "", place));
    };
    this.#show("", [[filled(words.add, "", place), add], [words.leave, () => this.#leave()]]);
  }

  #leave() {
    this.#choose("");
    this.#show("");
  }

  /**
   * Shows a sentence and what can be done.
   * @param {string} text
   * @param {[string, () => void][]} [actions]
   */
  #show(text, actions = []) {
    this.#status.textContent = text;
    this.#buttons.replaceChildren(
      ...actions.map(([label, act]) => {
        const button = Object.assign(document.createElement("button"), { type: "button", textContent: label });
        button.addEventListener("click", act);
        return button;
      }),
    );
  }

  /**
   * Chooses a bridge, or none.
   * @param {string} number
   */
  #choose(number) {
    this.#chosen = number;
    for (const each of this.#figure.querySelectorAll(".dw-bridge")) {
      each.classList.toggle("dw-chosen", /** @type {SVGElement} */ (each).dataset.bridge === number);
    }
  }

  /** Returns the changes that are typed, one a piece. */
  #parts() {
    return this.#typed.value.split(/[,;\n]/).map((each) => each.trim()).filter(Boolean);
  }

  /**
   * Replaces the changes of one bridge.
   * @param {SVGElement} bridge
   * @param {(of: string) => string} change what is written for its number, or for "new"
   */
  #rewrite(bridge, change) {
    const number = String(bridge.dataset.bridge);
    const parts = this.#parts();
    if (bridge.dataset.new) {
      // New bridges have the order of the text.
      const places = parts.flatMap((each, place) => (/^new\b/i.test(each) ? [place] : []));
      parts[places[Number(bridge.dataset.new)]] = change("new");
      this.#write(parts);
    } else {
      const own = new RegExp(`^0*${number}\\s*(off|at\\b)`, "i");
      this.#write([...parts.filter((each) => !own.test(each)), change(number)]);
    }
  }

  /** @param {string[]} parts */
  #write(parts) {
    this.#typed.value = parts.filter(Boolean).join(", ");
    this.#choose("");
    this.#typed.dispatchEvent(new Event("input", { bubbles: true }));
  }
}

/**
 * Fills in a sentence.
 * @param {string} text
 * @param {string} number
 * @param {string} [place]
 */
function filled(text, number, place = "") {
  return text.replace("{number}", number).replace("{place}", place);
}

/**
 * Returns the nearest of the bridges that a finger may mean: their circles overlap where they are close together.
 * @param {Iterable<Element>} bridges
 * @param {number} x
 * @param {number} y
 * @returns {SVGElement | null}
 */
function nearest(bridges, x, y) {
  let found = null;
  let least = Infinity;
  for (const each of bridges) {
    const { left, top, width, height } = /** @type {Element} */ (each.querySelector("circle")).getBoundingClientRect();
    const far = Math.hypot(x - left - width / 2, y - top - height / 2);
    if (far <= width / 2 && far < least) [found, least] = [each, far];
  }
  return /** @type {SVGElement | null} */ (found);
}

/**
 * Returns the place of a touch in mm from the top left corner of the artwork, as it is typed.
 * @param {SVGSVGElement} svg
 * @param {Element} target
 * @param {number} x
 * @param {number} y
 */
function placeAt(svg, target, x, y) {
  const piece = /** @type {SVGElement | null} */ (target.closest(".dw-cut-piece"));
  const toSvg = svg.getScreenCTM()?.inverse();
  if (!piece || !toSvg) return "";
  const at = new DOMPoint(x, y).matrixTransform(toSvg);
  const { left, top, across, down } = piece.dataset;
  /** @param {number} length */
  const typed = (length) => String(Math.round(length * 100) / 100);
  return `${typed((at.x - Number(left)) / Number(across))} ${typed((at.y - Number(top)) / Number(down))}`;
}

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
  const typed = /** @type {HTMLInputElement} */ (field.querySelector(".dw-typed"));
  const panel = Object.assign(document.createElement("div"), { className: "dw-bridges" });
  const status = document.createElement("p");
  status.setAttribute("role", "status");
  const buttons = document.createElement("div");
  panel.append(status, buttons);
  figure.append(panel);
  /** The number of the bridge that was touched, or "". */
  let chosen = "";

  /**
   * Shows a sentence and what can be done.
   * @param {string} text
   * @param {[string, () => void][]} [actions]
   */
  function show(text, actions = []) {
    status.textContent = text;
    buttons.replaceChildren(
      ...actions.map(([label, act]) => {
        const button = Object.assign(document.createElement("button"), { type: "button", className: "dw-button", textContent: label });
        button.addEventListener("click", act);
        return button;
      }),
    );
  }

  /**
   * Chooses a bridge, or none.
   * @param {string} number
   */
  function choose(number) {
    chosen = number;
    for (const each of figure.querySelectorAll(".dw-bridge")) {
      each.classList.toggle("dw-chosen", /** @type {SVGElement} */ (each).dataset.bridge === number);
    }
  }

  /** The changes that are typed, one a piece. */
  const parts = () => typed.value.split(/[,;\n]/).map((each) => each.trim()).filter(Boolean);

  /**
   * Writes the changes of one bridge anew, if any are left.
   * @param {SVGElement} bridge
   * @param {(number: string) => string} change
   */
  function rewrite(bridge, change) {
    const number = String(bridge.dataset.bridge);
    const written = parts();
    if (bridge.dataset.new) {
      // New bridges have the order of the text.
      const places = written.flatMap((each, place) => (/^new\b/i.test(each) ? [place] : []));
      written.splice(places[Number(bridge.dataset.new)], 1, change("new"));
    } else {
      const own = new RegExp(`^0*${number}\\s*(off|at\\b)`, "i");
      written.splice(0, written.length, ...written.filter((each) => !own.test(each)), change(number));
    }
    write(written);
  }

  /** @param {string[]} written */
  function write(written) {
    typed.value = written.filter(Boolean).join(", ");
    choose("");
    typed.dispatchEvent(new Event("input", { bubbles: true }));
  }

  figure.addEventListener(
    "click",
    ({ target, clientX, clientY }) => {
      const svg = /** @type {SVGSVGElement | null} */ (figure.querySelector("svg[data-bridges]"));
      if (!svg || field.hidden || !(target instanceof Element) || !svg.contains(target)) return;
      const words = /** @type {Words} */ (JSON.parse(String(svg.dataset.bridges)));
      /** @param {string} text @param {string} number @param {string} [place] */
      const filled = (text, number, place = "") => text.replace("{number}", number).replace("{place}", place);
      const bridge = /** @type {SVGElement | null} */ (target.closest(".dw-bridge"));
      if (bridge) {
        const number = String(bridge.dataset.bridge);
        if (bridge.classList.contains("dw-off")) {
          rewrite(bridge, () => "");
          show(filled(words.back, number));
          return;
        }
        choose(number);
        show(filled(words.chosen, number), [
          [
            words.off,
            () => {
              rewrite(bridge, (of) => (of === "new" ? "" : `${of} off`));
              show(filled(words.gone, number));
            },
          ],
          [words.leave, () => (choose(""), show(""))],
        ]);
        return;
      }
      const place = target.closest(".dw-opening") ? placeAt(svg, target, clientX, clientY) : "";
      if (!place) return;
      const moved = /** @type {SVGElement | null} */ (chosen && figure.querySelector(`.dw-bridge[data-bridge="${chosen}"]`));
      if (moved) {
        const number = chosen;
        rewrite(moved, (of) => `${of} at ${place}`);
        show(filled(words.moved, number, place));
        return;
      }
      show("", [
        [
          filled(words.add, "", place),
          () => {
            write([...parts(), `new at ${place}`]);
            show(filled(words.added, "", place));
          },
        ],
        [words.leave, () => show("")],
      ]);
    },
    { signal },
  );
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

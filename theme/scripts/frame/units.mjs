/**
 * Millimetres or inches, for the whole site and remembered on the device; and how a typed length
 * keeps its unit when the display changes.
 */

const REMEMBERED_AS = "dw-units";
/** @type {readonly (string | null)[]} */
const KNOWN = ["mm", "in"];

/** Digits, fractions, signs, separators and exponents only: a length that names no unit. tests/typed/ holds it to Python. */
const WITHOUT_UNIT = /^(?:[\p{N}\s.,/⁄∕+−–‐-]|(?<=[\p{N}.,])e(?=[+−–‐-]?\p{N}))+$/iu;
/** An apostrophe before three digits separates thousands ("1’500"); otherwise it means feet. */
const PARTS_THOUSANDS = /(?<=\p{N})['’‘′´`ʼʹ＇](?=\p{N}{3}(?!\p{N}))/gu;

/** The display unit of lengths. Dispatches "change" when it changes. */
export class Units extends EventTarget {
  /** @type {"mm" | "in"} */
  #displayed = "mm";

  constructor() {
    super();
    this.#displayed = remembered() ?? "mm";
    addEventListener("storage", ({ key, newValue }) => {
      if (key === REMEMBERED_AS && KNOWN.includes(newValue)) this.#set(/** @type {Unit} */ (newValue));
    });
  }

  /** @returns {"mm" | "in"} */
  get displayed() {
    return this.#displayed;
  }

  set displayed(unit) {
    this.#set(unit);
    try {
      localStorage.setItem(REMEMBERED_AS, unit);
    } catch {
      // Storage may be disabled: the choice then lasts for this visit.
    }
  }

  toggle() {
    this.displayed = this.#displayed === "mm" ? "in" : "mm";
  }

  /** @param {Unit} unit */
  #set(unit) {
    if (unit === this.#displayed) return;
    this.#displayed = unit;
    this.dispatchEvent(new Event("change"));
  }
}

/** @returns {"mm" | "in" | null} */
function remembered() {
  try {
    const unit = localStorage.getItem(REMEMBERED_AS);
    return KNOWN.includes(unit) ? /** @type {"mm" | "in"} */ (unit) : null;
  } catch {
    return null;
  }
}

/**
 * Returns a typed length with the displayed unit appended, unless it has its own unit or no digit.
 * @param {string} text as typed
 * @param {"mm" | "in"} unit the unit displayed in the field
 * @returns {string}
 */
export function withUnit(text, unit) {
  const trimmed = text.trim();
  // Python folds look-alike characters too: "１．５" is a number there.
  const folded = trimmed.replace(PARTS_THOUSANDS, "").normalize("NFKC");
  return WITHOUT_UNIT.test(folded) && /\p{N}/u.test(folded) ? `${trimmed} ${unit}` : text;
}

/**
 * Returns a typed length for a field in `unit`: without its unit if that is the field's, else as typed.
 * @param {string} typed with its unit
 * @param {"mm" | "in"} unit the unit displayed in the field
 * @returns {string}
 */
export function withoutUnit(typed, unit) {
  const bare = typed.endsWith(` ${unit}`) ? typed.slice(0, -unit.length - 1) : typed;
  return withUnit(bare, unit) === typed ? bare : typed;
}

/**
 * Fields that are edited in place. Python judges what was typed before it is stored; what it refuses stays in the field
 * with a sentence beside it, also when the page is left and opened again.
 */

import { withUnit } from "../frame/units.mjs";
import { byId } from "../keep/markings.mjs";

/** @typedef {{part: "job" | "marking" | "model" | "paint", id?: string, area?: string}} Owner */

const DRAFTS = "decalwright-drafts";

export class Editing {
  #page;
  #queue = Promise.resolve();
  #drafts = new Drafts();

  /** @param {import("./job.mjs").JobPage} page */
  constructor(page) {
    this.#page = page;
  }

  /**
   * Listens to the fields of an element.
   * @param {Element} element
   * @param {Owner} owner
   */
  bind(element, owner) {
    for (const control of controlsOf(element)) {
      const problem = problemOf(control);
      problem.id ||= `problem-${[owner.part, owner.id, owner.area, control.dataset.attribute].filter(Boolean).join("-")}`.replace(/\s+/g, "_");
      control.setAttribute("aria-describedby", problem.id);
      control.addEventListener("change", () => this.take(control, owner));
    }
  }

  /**
   * Writes values into the fields of an element, except where the reader is typing or a draft stands.
   * @param {Element} element
   * @param {Owner} owner
   * @param {any} values
   */
  write(element, owner, values) {
    for (const control of controlsOf(element)) {
      const draft = this.#drafts.get(this.#keyOf(owner, control));
      if (draft && control.dataset.stands !== draft.text) {
        control.dataset.stands = control.value = draft.text;
        showProblem(control, draft.problem);
        // The page was left before it was judged.
        if (!draft.problem) this.take(control, owner);
      }
      if (draft || control === document.activeElement) continue;
      const value = valueAt(values, control.dataset.attribute) ?? control.dataset.default ?? "";
      if (control.value !== String(value)) control.value = String(value);
    }
  }

  /**
   * Takes what was typed into a field, one after the other.
   * @param {any} control
   * @param {Owner} owner
   */
  take(control, owner) {
    const key = this.#keyOf(owner, control);
    const text = (control.dataset.stands = control.value);
    this.#drafts.put(key, { text, problem: "" });
    this.#queue = this.#queue.then(() => this.#page.attempt(() => this.#judge(control, owner, key, text)));
    return this.#queue;
  }

  /**
   * @param {any} control
   * @param {Owner} owner
   * @param {string} key
   * @param {string} text
   */
  async #judge(control, owner, key, text) {
    const { attribute } = control.dataset;
    const isCount = control.closest(".dw-job-field").dataset.as === "count";
    const typed = "length" in control.dataset ? withUnit(text, this.#page.units.displayed) : text;
    const value = isCount && /^\s*\d{1,9}\s*$/.test(text) ? Number(text) : typed;
    const present = await this.#page.store.present();
    const { job, within } = partOf(present.job, owner, (part, whole) => edit(whole, part, attribute, value));
    const { envelope } = await this.#page.ask({ do: "job-read", job });
    const found = envelope.problems?.find((/** @type {any} */ each) => each.field === `${within}${attribute}`) ?? envelope.problems?.[0];
    if (control.value !== text) return; // The reader has typed on.
    const sentence = found ? sentenceOf(found) : "";
    showProblem(control, sentence);
    if (sentence) {
      this.#drafts.put(key, { text, problem: sentence });
      return;
    }
    const read = owned(envelope.job, { ...owner, ...(within.startsWith("markings") && { id: envelope.job.markings[0].id }) });
    await this.#page.change((stored) => {
      const part = owned(stored, owner);
      if (!part) return;
      edit(stored, part, attribute, valueAt(read, attribute) ?? value);
      if (owner.part === "paint" && attribute === "area") renameArea(stored, owner, String(value));
    });
    this.#drafts.remove(key);
    delete control.dataset.stands;
  }

  /** @param {Owner} owner @param {any} control */
  #keyOf({ part, id = "", area = "" }, control) {
    return JSON.stringify([this.#page.present.id, part, id, area, control.dataset.attribute]);
  }
}

/** @param {Element} element @returns {any[]} */
const controlsOf = (element) => [...element.querySelectorAll("[data-attribute]")];

/** @param {Element} control @returns {any} */
const problemOf = (control) => control.closest(".dw-job-field").querySelector(".dw-problem");

/** @param {{text: string, hint?: string}} problem */
export const sentenceOf = ({ text, hint }) => [text, hint].filter(Boolean).map((each) => (/[.!?]$/.test(each) ? each : `${each}.`)).join(" ");

/**
 * Shows or clears the sentence beside a field.
 * @param {any} control
 * @param {string} sentence
 */
export function showProblem(control, sentence) {
  const line = problemOf(control);
  line.textContent = sentence;
  line.hidden = !sentence;
  if (sentence) control.setAttribute("aria-invalid", "true");
  else control.removeAttribute("aria-invalid");
}

/** @param {any} of @param {string} path */
export const valueAt = (of, path) => path.split(".").reduce((/** @type {any} */ at, name) => at?.[name], of);

/**
 * @param {any} of
 * @param {string} path
 * @param {any} value
 */
export function putAt(of, path, value) {
  const names = path.split(".");
  const last = /** @type {string} */ (names.pop());
  let at = of;
  for (const name of names) at = at[name] ??= {};
  at[last] = value;
}

/**
 * Sets an attribute of a part of a job. On another model a marking lies on those paints that it has too.
 * @param {any} job
 * @param {any} part
 * @param {string} attribute
 * @param {any} value
 */
function edit(job, part, attribute, value) {
  putAt(part, attribute, value);
  if (attribute !== "model" || !part.paints) return;
  const areas = job.models?.find((/** @type {any} */ each) => each.id === value)?.paints?.map((/** @type {any} */ each) => each.area) ?? [];
  part.paints = part.paints.filter((/** @type {string} */ each) => areas.includes(each));
}

/**
 * Returns the part of a job that an owner means.
 * @param {any} job
 * @param {Owner} owner
 */
export function owned(job, { part, id = null, area }) {
  if (part === "job") return job;
  if (part === "marking") return byId(job, id);
  const model = job.models?.find((/** @type {any} */ each) => each.id === id);
  return part === "model" ? model : model?.paints?.find((/** @type {any} */ each) => each.area === area);
}

/**
 * Returns a job that holds little more than the part to judge, and the path of that part.
 * @param {any} job
 * @param {Owner} owner
 * @param {(part: any, job: any) => void} change
 */
function partOf(job, owner, change) {
  const copy = structuredClone({ format: job.format, name: job.name ?? "", note: job.note ?? "", available: job.available ?? {}, models: job.models ?? [] });
  if (owner.part !== "marking") {
    const part = owned(copy, owner);
    change(part, copy);
    const at = copy.models.findIndex((/** @type {any} */ each) => each.id === owner.id);
    const place = owner.part === "paint" ? copy.models[at].paints.indexOf(part) : 0;
    return { job: copy, within: { job: "", model: `models[${at}].`, paint: `models[${at}].paints[${place}].` }[owner.part] };
  }
  const { calculators, values, files, ...marking } = structuredClone(byId(job, owner.id ?? null));
  change(marking, copy);
  const twin = marking.partner && byId(job, marking.partner.of);
  return { job: { ...copy, markings: [marking, ...(twin ? [{ id: twin.id, name: twin.name }] : [])] }, within: "markings[0]." };
}

/**
 * Renames an area of paint in all that lies on it.
 * @param {any} job
 * @param {Owner} owner
 * @param {string} name
 */
function renameArea(job, { id, area }, name) {
  for (const marking of job.markings ?? []) {
    if (marking.model === id) marking.paints = marking.paints?.map((/** @type {string} */ each) => (each === area ? name : each));
  }
}

/** What was typed and not stored, for as long as the tab is open. */
class Drafts {
  #drafts = /** @type {Record<string, {text: string, problem: string}>} */ ({});

  constructor() {
    try {
      this.#drafts = JSON.parse(sessionStorage.getItem(DRAFTS) ?? "{}");
    } catch {
      // Without sessionStorage they last as long as the page.
    }
  }

  /** @param {string} key */
  get(key) {
    return this.#drafts[key];
  }

  /** @param {string} key @param {{text: string, problem: string}} draft */
  put(key, draft) {
    this.#drafts[key] = draft;
    this.#store();
  }

  /** @param {string} key */
  remove(key) {
    delete this.#drafts[key];
    this.#store();
  }

  #store() {
    try {
      sessionStorage.setItem(DRAFTS, JSON.stringify(this.#drafts));
    } catch {
      // As above.
    }
  }
}

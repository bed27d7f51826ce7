/**
 * Fields that are edited in place. Python judges what was typed before it is stored; what it refuses stays in the field
 * with a sentence beside it, also when the page is left and opened again.
 */

import { withUnit } from "../frame/units.mjs";
import { byId } from "../keep/markings.mjs";
import { Trouble } from "./trouble.mjs";

/** @typedef {{part: "job" | "marking" | "row" | "model" | "paint", id?: string, area?: string, at?: number}} Owner */

const DRAFTS = "decalwright-drafts";

export class Editing {
  #page;
  #queue = Promise.resolve();
  #drafts = new Drafts();
  /** The value that was stored when the reader last saw it in a field, and its text: another tab may have changed it since. */
  #seen = /** @type {WeakMap<Element, {value: any, text: string}>} */ (new WeakMap());

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
      problem.id ||= `problem-${[owner.part, owner.id, owner.area, owner.at, control.dataset.attribute].filter((each) => each !== undefined).join("-")}`.replace(/\s+/g, "_");
      control.setAttribute("aria-describedby", problem.id);
      control.addEventListener("change", () => this.take(control, owner));
      // Typed before this script had come.
      if (control.value !== (control.defaultValue ?? control.value) && control !== document.activeElement) this.take(control, owner);
    }
  }

  /**
   * Writes values into the fields of an element, except where the reader is typing or a draft stands.
   * @param {Element} element
   * @param {Owner} owner
   * @param {any} values
   */
  write(element, owner, values) {
    if (owner.part === "job") this.#follow(values);
    for (const control of controlsOf(element)) {
      const draft = this.#drafts.get(this.#keyOf(owner, control));
      if (draft && control.dataset.stands !== draft.text) {
        control.dataset.stands = control.value = draft.text;
        this.#see(control, draft.seen);
        showProblem(control, draft.problem);
        if (draft.replaces) this.#offer(control, owner);
        // The page was left before it was judged.
        if (!draft.problem) this.take(control, owner);
      }
      const isTyping = control === document.activeElement && control.value !== (this.#seen.get(control)?.text ?? control.value);
      if (draft || isTyping) continue;
      const text = this.#see(control, valueAt(values, control.dataset.attribute));
      if (control.value !== text) control.value = text;
    }
  }

  /**
   * What was typed before there was a job belongs to the job that has been made since, unless that has a value already.
   * @param {any} job
   */
  #follow(job) {
    const { id } = this.#page.present;
    this.#drafts.rename((key) => {
      const [of, ...rest] = JSON.parse(key);
      return id && of === null && valueAt(job, rest.at(-1)) === undefined ? JSON.stringify([id, ...rest]) : key;
    });
  }

  /**
   * Notes what the reader sees, and returns its text.
   * @param {any} control
   * @param {any} value
   */
  #see(control, value) {
    const text = String(value ?? control.dataset.default ?? "");
    this.#seen.set(control, { value, text });
    return text;
  }

  /**
   * Takes what was typed into a field, one after the other.
   * @param {any} control
   * @param {Owner} owner
   */
  take(control, owner) {
    const text = (control.dataset.stands = control.value);
    this.#drafts.put(this.#keyOf(owner, control), { text, problem: "", seen: this.#seen.get(control)?.value });
    this.#queue = this.#queue.then(() => this.#page.attempt(() => this.#judge(control, owner, text)));
    return this.#queue;
  }

  /**
   * @param {any} control
   * @param {Owner} owner
   * @param {string} text
   */
  async #judge(control, owner, text) {
    const { attribute } = control.dataset;
    const isCount = control.closest(".dw-job-field").dataset.as === "count";
    const typed = "length" in control.dataset ? withUnit(text, this.#page.units.displayed) : text;
    const value = isCount && /^\s*\d{1,9}\s*$/.test(text) ? Number(text) : typed;
    const present = await this.#page.store.present();
    if (!owned(present.job, owner)) throw new Trouble("changed_elsewhere");
    const { job, within } = partOf(present.job, owner, (part, whole) => edit(whole, part, attribute, value));
    const { envelope } = await this.#page.ask({ do: "job-read", job });
    const found = envelope.problems?.find((/** @type {any} */ each) => each.field === `${within}${attribute}`) ?? envelope.problems?.[0];
    if (control.value !== text) return; // The reader has typed on.
    const sentence = found ? sentenceOf(found) : "";
    showProblem(control, sentence);
    const seen = this.#seen.get(control)?.value;
    if (sentence) {
      this.#drafts.put(this.#keyOf(owner, control), { text, problem: sentence, seen });
      return;
    }
    const read = owned(envelope.job, { ...owner, ...(within.startsWith("markings") && { id: envelope.job.markings[0].id }) });
    const next = valueAt(read, attribute) ?? value;
    let theirs = /** @type {any} */ (null);
    await this.#page.change((stored) => {
      const part = owned(stored, owner);
      if (!part) throw new Trouble("changed_elsewhere");
      const now = valueAt(part, attribute);
      theirs = same(now, seen) || same(now, next) ? null : { now };
      if (theirs) return;
      edit(stored, part, attribute, next);
      if (owner.part === "paint" && attribute === "area") renameArea(stored, owner, String(value));
    });
    if (theirs) this.#ask(control, owner, text, theirs.now);
    else {
      this.#see(control, next);
      this.#drafts.remove(this.#keyOf(owner, control));
      delete control.dataset.stands;
    }
  }

  /**
   * Another tab has changed the value since the reader saw it. What was typed stays, and replaces the other if the reader says so.
   * @param {any} control
   * @param {Owner} owner
   * @param {string} text
   * @param {any} now what is stored
   */
  #ask(control, owner, text, now) {
    const theirs = this.#see(control, now);
    const option = [...(control.options ?? [])].find((/** @type {any} */ each) => each.value === theirs);
    const sentence = this.#page.say("changed_field", { value: option?.text ?? theirs });
    this.#drafts.put(this.#keyOf(owner, control), { text, problem: sentence, seen: now, replaces: true });
    showProblem(control, sentence);
    this.#offer(control, owner);
  }

  /** @param {any} control @param {Owner} owner */
  #offer(control, owner) {
    const button = Object.assign(document.createElement("button"), { type: "button", textContent: this.#page.say("replace") });
    button.addEventListener("click", () => this.take(control, owner));
    problemOf(control).append(" ", button);
  }

  /**
   * Lets what was typed into the rows of a series and not stored follow its row, where one was removed or put back.
   * @param {Owner} owner the row
   * @param {number} by -1 or 1
   */
  moveDrafts({ id, at = 0 }, by) {
    this.#drafts.rename((key) => {
      const [job, part, of, area, place, attribute] = JSON.parse(key);
      if (job !== this.#page.present.id || part !== "row" || of !== id || place < at) return key;
      return by < 0 && place === at ? null : JSON.stringify([job, part, of, area, place + by, attribute]);
    });
  }

  /** @param {Owner} owner @param {any} control */
  #keyOf({ part, id = "", area = "", at = 0 }, control) {
    return JSON.stringify([this.#page.present.id, part, id, area, at, control.dataset.attribute]);
  }
}

/**
 * Returns the fields of an element. Those of the rows of a series are not the marking's.
 * @param {Element} element
 * @returns {any[]}
 */
export function controlsOf(element) {
  const rows = element.closest(".dw-series-rows");
  return [...element.querySelectorAll("[data-attribute]")].filter((each) => each.closest(".dw-series-rows") === rows);
}

/** @param {any} one @param {any} other */
const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);

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
export function owned(job, { part, id = null, area, at = 0 }) {
  if (part === "job") return job;
  if (part === "marking") return byId(job, id);
  if (part === "row") return byId(job, id)?.rows?.[at];
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
  const isOfMarking = owner.part === "marking" || owner.part === "row";
  if (!isOfMarking) {
    const part = owned(copy, owner);
    change(part, copy);
    const at = copy.models.findIndex((/** @type {any} */ each) => each.id === owner.id);
    const place = owner.part === "paint" ? copy.models[at].paints.indexOf(part) : 0;
    return { job: copy, within: { job: "", model: `models[${at}].`, paint: `models[${at}].paints[${place}].` }[/** @type {"job"} */ (owner.part)] };
  }
  const { calculators, values, files, ...marking } = structuredClone(byId(job, owner.id ?? null));
  const isRow = owner.part === "row";
  change(isRow ? marking.rows[owner.at ?? 0] : marking, copy);
  const twin = marking.partner && byId(job, marking.partner.of);
  return { job: { ...copy, markings: [marking, ...(twin ? [{ id: twin.id, name: twin.name }] : [])] }, within: isRow ? `markings[0].rows[${owner.at}].` : "markings[0]." };
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

/**
 * What was typed and not stored, for as long as the tab is open.
 * @typedef {{text: string, problem: string, seen: any, replaces?: boolean}} Draft
 */
class Drafts {
  #drafts = /** @type {Record<string, Draft>} */ ({});

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

  /** @param {string} key @param {Draft} draft */
  put(key, draft) {
    this.#drafts[key] = draft;
    this.#store();
  }

  /** @param {string} key */
  remove(key) {
    delete this.#drafts[key];
    this.#store();
  }

  /** @param {(key: string) => string | null} keyOf returns the new key, or null if the draft goes */
  rename(keyOf) {
    const renamed = Object.entries(this.#drafts).map(([key, draft]) => /** @type {const} */ ([keyOf(key), draft]));
    this.#drafts = Object.fromEntries(renamed.filter(([key]) => key !== null));
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

/** The rows of the markings. A row is a line; what is changed less often is made when it is first opened. */

import { addMarking, addPartner, asUsed, byId, duplicate, holderOf, separate } from "../keep/markings.mjs";
import { hashOf } from "../keep/database.mjs";
import { printedOf } from "./checks.mjs";
import { controlsOf } from "./editing.mjs";
import { Series } from "./series.mjs";
import { Trouble } from "./trouble.mjs";

/** Rows made in one task. */
const AT_ONCE = 15;

/** @param {import("./job.mjs").JobPage} page */
export function wireMarkings(page) {
  const rows = new Rows(page);
  page.addEventListener("shown", () => page.attempt(() => rows.show()));
  page.checks.addEventListener("found", (/** @type {any} */ { detail }) => rows.showVerdicts(detail));
  page.addEventListener("end", () => rows.end());
  page.on("add", async () => {
    const added = { id: "" };
    await page.change((job) => {
      added.id = mayAdd(page, job) && addMarking(page.places, job).id;
    });
    await page.show();
    await rows.drawn;
    page.tell(page.say("added", { name: page.marking(added.id)?.name }));
    rows.focus(added.id);
  });
}

/** @param {import("./job.mjs").JobPage} page @param {any} job */
function mayAdd(page, job) {
  if ((job.markings?.length ?? 0) >= page.places.most) throw new Trouble("full");
  return true;
}

class Rows {
  #page;
  #list;
  #rows = /** @type {Map<string, Row>} */ (new Map());
  #seen;
  drawn = /** @type {Promise<void>} */ (Promise.resolve());

  /** @param {import("./job.mjs").JobPage} page */
  constructor(page) {
    this.#page = page;
    this.#list = page.find(".dw-job-markings");
    this.#seen = new IntersectionObserver((entries) => {
      for (const { target, isIntersecting } of entries) if (isIntersecting) this.#rows.get(/** @type {any} */ (target).dataset.marking)?.showPicture();
    }, { rootMargin: "300px" });
  }

  end() {
    this.#seen.disconnect();
    for (const row of this.#rows.values()) row.end();
  }

  show() {
    this.drawn = this.#draw();
    return this.drawn;
  }

  async #draw() {
    const { job } = this.#page.present;
    const markings = job.markings ?? [];
    const { say } = this.#page;
    const count = say(markings.length === 1 ? "one_marking" : "markings", { count: markings.length });
    this.#page.find('[data-part="markings"]').textContent = markings.length ? count : say("no_markings");
    const empty = this.#page.find(".dw-job-empty");
    empty.textContent = say("empty");
    empty.hidden = markings.length > 0;
    const ids = new Set(markings.map((/** @type {any} */ each) => each.id));
    for (const [id, row] of this.#rows) {
      if (ids.has(id)) continue;
      row.end();
      row.element.remove();
      this.#rows.delete(id);
    }
    let made = 0;
    for (const [place, marking] of markings.entries()) {
      let row = this.#rows.get(marking.id);
      if (!row) {
        row = new Row(this.#page, marking.id);
        this.#rows.set(marking.id, row);
        this.#seen.observe(row.element);
        made += 1;
      }
      row.show(job, marking);
      if (this.#list.children[place] !== row.element) this.#list.insertBefore(row.element, this.#list.children[place] ?? null);
      if (made && made % AT_ONCE === 0) await new Promise((resolve) => setTimeout(resolve, 0));
      if (this.#page.present.job !== job) return; // It is shown again.
    }
    this.#showPictures(job);
  }

  /**
   * Rows out of view get their pictures too, one after the other: paper shows them all, and printing waits for none.
   * @param {any} job
   */
  async #showPictures(job) {
    for (const row of this.#rows.values()) {
      await new Promise((resolve) => (globalThis.requestIdleCallback ?? setTimeout)(resolve));
      if (this.#page.present.job !== job || this.#page.ended.aborted) return;
      await row.showPicture();
    }
  }

  /** @param {string[]} ids */
  showVerdicts(ids) {
    for (const id of ids) this.#rows.get(id)?.showVerdicts();
  }

  /**
   * Goes to the name of a row, its first field, unless the reader has gone to another field meanwhile.
   * @param {string} id
   */
  focus(id) {
    if (this.#page.find("[data-attribute]:focus")) return;
    const row = this.#rows.get(id)?.element;
    const name = row?.querySelector("input");
    row?.scrollIntoView({ block: "nearest" });
    name?.focus();
    name?.select();
  }
}

/** @param {any} used @returns {number} how many pieces of a marking there are to be */
const piecesOf = ({ rows = [], copies = 1 }) => (rows.length ? rows.reduce((/** @type {number} */ sum, /** @type {any} */ row) => sum + (row.copies ?? 1), 0) : copies);

class Row {
  #page;
  #id;
  #body = /** @type {any} */ (null);
  #series = /** @type {any} */ (null);
  #shown = "";
  #verdicts = "";
  #picture = { hash: "", media: "", address: "", isWanted: false };

  /**
   * @param {import("./job.mjs").JobPage} page
   * @param {string} id
   */
  constructor(page, id) {
    this.#page = page;
    this.#id = id;
    this.element = /** @type {any} */ (page.find("#dw-marking-row").content.firstElementChild.cloneNode(true));
    this.element.dataset.marking = id;
    page.editing.bind(this.element, { part: "marking", id });
    this.element.querySelector(".dw-marking-more").addEventListener("toggle", () => this.#open());
  }

  end() {
    if (this.#picture.address) URL.revokeObjectURL(this.#picture.address);
  }

  /**
   * @param {any} job
   * @param {any} marking
   */
  show(job, marking) {
    const used = asUsed(this.#page.places, job, marking);
    const model = job.models?.find((/** @type {any} */ each) => each.id === used.model);
    const state = JSON.stringify([used, marking.partner, model, this.#body && job.models]);
    if (state === this.#shown) return;
    this.#shown = state;
    const pieces = piecesOf(used);
    this.#page.editing.write(this.element, { part: "marking", id: this.#id }, used.rows?.length ? { ...used, copies: pieces } : used);
    this.#showSummary(used, model, pieces);
    this.#showTwin(job, marking);
    if (this.#body) this.#showBody(job, marking, used, model);
    const file = printedOf(used);
    if ((file?.hash ?? "") !== this.#picture.hash) {
      this.end();
      this.element.querySelector(".dw-marking-picture").replaceChildren();
      this.#picture = { hash: file?.hash ?? "", media: file?.media ?? "", address: "", isWanted: this.#picture.isWanted };
      if (this.#picture.isWanted) this.showPicture();
    }
    this.showVerdicts();
  }

  /** @param {any} used @param {any} model @param {number} pieces */
  #showSummary(used, model, pieces) {
    const { say } = this.#page;
    const counted = [used, ...(used.rows ?? [])].map(({ bench = {} }) => bench);
    const [printed, onModel] = ["printed", "on_model"].map((name) => counted.reduce((/** @type {number} */ sum, /** @type {any} */ bench) => sum + (bench[name] ?? 0), 0));
    const facts = [
      model?.name ?? say("no_model"),
      used.place,
      used.paints?.length && say("on", { paints: used.paints.join(", ") }),
      used.rows?.length && say("series", { count: used.rows.length }),
      onModel ? say("done_of", { done: onModel, pieces }) : say("printed_of", { done: printed, pieces }),
    ];
    const summary = this.element.querySelector("summary");
    this.element.setAttribute("aria-label", used.name);
    summary.textContent = facts.filter(Boolean).join(" · ");
    summary.setAttribute("aria-label", `${say("open_row", { name: used.name })}: ${summary.textContent}`);
  }

  /**
   * What a partner has from its twin is changed there.
   * @param {any} job
   * @param {any} marking
   */
  #showTwin(job, marking) {
    const follows = Boolean(marking.partner && (marking.partner.follows ?? true));
    const own = this.#page.places.own;
    for (const control of controlsOf(this.element)) {
      const [attribute] = control.dataset.attribute.split(".");
      // A series has its copies in its rows.
      control.disabled = (follows && !own.includes(attribute)) || (attribute === "copies" && Boolean(marking.rows?.length));
    }
    if (!this.#body) return;
    const line = this.#body.querySelector(".dw-marking-twin");
    line.hidden = !marking.partner;
    const twin = marking.partner && byId(job, marking.partner.of);
    line.textContent = twin ? `${this.#page.partners[marking.partner.how ?? "same"]}. ${follows ? this.#page.say("as_twin", { name: twin.name }) : ""}` : "";
    this.#body.querySelector('[data-does="separate"]').hidden = !follows;
    this.#body.querySelector(".dw-job-partner").hidden = Boolean(marking.partner);
    for (const box of this.#body.querySelectorAll(".dw-marking-paints input, [data-does=picture]")) box.disabled = follows;
  }

  #open() {
    const details = this.element.querySelector(".dw-marking-more");
    if (this.#body || !details.open) return;
    this.#body = this.#page.find("#dw-marking-more").content.firstElementChild.cloneNode(true);
    details.append(this.#body);
    this.#page.editing.bind(this.#body, { part: "marking", id: this.#id });
    this.#series = new Series(this.#page, this.#id, this.#body.querySelector(".dw-marking-series"));
    /** @type {Record<string, (control: any) => Promise<unknown>>} */
    const acts = {
      duplicate: () => this.#change((_, job) => void (mayAdd(this.#page, job) && duplicate(this.#page.places, job, this.#id))),
      partner: () => this.#addPartner(),
      separate: () => this.#change((_, job) => separate(this.#page.places, job, this.#id)),
      delete: () => this.#delete(),
      picture: (control) => this.#takePicture(control),
    };
    for (const [does, act] of Object.entries(acts)) {
      const control = this.#body.querySelector(`[data-does="${does}"]`);
      control.addEventListener(control.type === "file" ? "change" : "click", () => this.#page.attempt(() => act(control)));
    }
    this.#shown = "";
    this.show(this.#page.present.job, this.#page.marking(this.#id));
  }

  /** @param {(marking: any, job: any) => any} act */
  #change(act) {
    return this.#page.changeMarking(this.#id, act);
  }

  #addPartner() {
    const name = this.#page.say("partner_name", { name: this.#page.marking(this.#id).name }).slice(0, 80);
    const how = this.#body.querySelector("[data-part=how]").value;
    return this.#change((_, job) => void (mayAdd(this.#page, job) && addPartner(this.#page.places, job, this.#id, how, name)));
  }

  async #delete() {
    const { name } = this.#page.marking(this.#id);
    const restore = await this.#page.store.remove(this.#id);
    await this.#page.show();
    this.#page.offerUndo(this.#page.say("deleted", { name }), async () => {
      await restore();
      this.#page.tell(this.#page.say("restored", { name }));
    });
  }

  /** @param {any} control */
  async #takePicture(control) {
    const [chosen] = control.files;
    control.value = "";
    if (!chosen) return;
    const bytes = await chosen.arrayBuffer();
    const hash = await hashOf(bytes);
    if (!hash) throw new Trouble("unavailable");
    const isOutlines = /svg/.test(`${chosen.type}${chosen.name}`);
    await this.#page.store.putFiles([{ hash, bytes }]);
    await this.#change((marking, job) => {
      const file = { hash, name: chosen.name.slice(0, 255), media: chosen.type.slice(0, 100), size: chosen.size };
      (marking.files ??= {})[isOutlines ? "outlines" : "picture"] = { file, at: (job.revision ?? 0) + 1 };
      if (!isOutlines) delete marking.files.outlines;
      marking.kind = isOutlines ? "outlines" : "picture";
    });
  }

  /**
   * @param {any} job
   * @param {any} marking
   * @param {any} used
   * @param {any} model
   */
  #showBody(job, marking, used, model) {
    const select = this.#body.querySelector('[data-attribute="model"]');
    const options = [["", this.#page.say("no_model")], ...(job.models ?? []).map((/** @type {any} */ each) => [each.id, each.name])];
    select.replaceChildren(...options.map(([value, text]) => Object.assign(document.createElement("option"), { value, textContent: text })));
    select.value = used.model ?? "";
    const paints = this.#body.querySelector(".dw-marking-paints");
    const boxes = (model?.paints ?? []).map((/** @type {any} */ { area }) => this.#paintBox(area, used));
    paints.hidden = !boxes.length;
    paints.querySelector("div").replaceChildren(...boxes);
    const follows = holderOf(job, marking) !== marking;
    // A series is counted row by row; a partner of one as a whole, which it keeps when it is separated.
    const isCounted = Object.values(used.bench ?? {}).some(Boolean);
    this.#body.querySelector(".dw-marking-bench").hidden = Boolean(used.rows?.length) && !follows && !isCounted;
    this.#showTwin(job, marking);
    this.#series.show(used.rows ?? [], follows);
  }

  /** @param {string} area @param {any} used */
  #paintBox(area, used) {
    const label = document.createElement("label");
    label.className = "dw-check";
    const box = Object.assign(document.createElement("input"), { type: "checkbox", checked: used.paints?.includes(area) ?? false });
    box.addEventListener("change", () => this.#page.attempt(() => this.#change((marking) => {
      const others = (marking.paints ?? []).filter((/** @type {string} */ each) => each !== area);
      marking.paints = box.checked ? [...others, area] : others;
    })));
    label.append(box, Object.assign(document.createElement("span"), { textContent: area }));
    return label;
  }

  showVerdicts() {
    const { found, isStale } = this.#page.checks.of(this.#id);
    const refused = this.#page.checks.refusalOf(this.#picture.hash);
    const state = JSON.stringify([found, isStale, refused]);
    if (state === this.#verdicts) return;
    this.#verdicts = state;
    const { say } = this.#page;
    const verdicts = this.element.querySelector(".dw-marking-verdicts");
    this.element.toggleAttribute("data-stale", isStale);
    verdicts.replaceChildren(...(found?.stages ?? []).map((/** @type {any} */ each) => {
      const line = this.#link(each.calculator, `${each.stage}: ${each.words}`);
      line.classList.add("dw-job-verdict");
      line.dataset.level = each.level;
      return line;
    }));
    if (!found || isStale) verdicts.append(Object.assign(document.createElement("span"), { className: "dw-job-note", textContent: say(found ? "stale" : "unchecked") }));
    if (refused) verdicts.append(Object.assign(document.createElement("span"), { className: "dw-job-note", textContent: refused }));
    this.element.querySelector(".dw-marking-next").replaceChildren(...(found ? [this.#next(found)] : []));
  }

  /** @param {any} found */
  #next({ next, step }) {
    if (step in this.#page.calculators) return this.#link(step, next);
    const control = { width: "width", model: "model", picture: "" }[/** @type {string} */ (step)];
    if (control === undefined) return Object.assign(document.createElement("span"), { textContent: next });
    const button = Object.assign(document.createElement("button"), { type: "button", textContent: next });
    button.addEventListener("click", () => {
      if (!control) this.#page.attempt(() => this.#page.checks.run());
      else this.#goTo(control);
    });
    return button;
  }

  /** @param {string} attribute */
  #goTo(attribute) {
    if (attribute === "model") this.element.querySelector(".dw-marking-more").open = true;
    this.#open();
    this.element.querySelector(`[data-attribute="${attribute}"]`).focus();
  }

  /**
   * A link to a calculator, which then works on this marking.
   * @param {string} calculator
   * @param {string} text
   */
  #link(calculator, text) {
    const link = document.createElement("a");
    link.href = `../${this.#page.calculators[calculator].url}`;
    link.textContent = text;
    link.addEventListener("click", (event) => {
      if (link.dataset.chosen) return;
      event.preventDefault();
      event.stopPropagation();
      const { ctrlKey, metaKey, shiftKey } = event;
      this.#page.attempt(async () => {
        await this.#page.store.choose(this.#id);
        link.dataset.chosen = "yes";
        link.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true, ctrlKey, metaKey, shiftKey }));
        delete link.dataset.chosen;
      });
    });
    return link;
  }

  async showPicture() {
    this.#picture.isWanted = true;
    const { hash, media, address } = this.#picture;
    if (!hash || address) return;
    this.#picture.address = "wanted";
    const small = await this.#page.store.thumbnail(hash, media).catch(() => /** @type {any} */ (null));
    if (this.#picture.hash !== hash) return;
    this.#picture.address = small ? URL.createObjectURL(small) : "";
    if (small) this.element.querySelector(".dw-marking-picture").replaceChildren(Object.assign(new Image(), { src: this.#picture.address, alt: "", decoding: "async" }));
  }
}

/**
 * Loads and saves a form's values: the store, a link, the worked example.
 */

import { config, engine } from "../../engine/visit.mjs";
import { awaitFilling } from "../form/afresh.mjs";
import { sourceOf } from "../form/another_picture.mjs";
import { differsFromDelivered, everyField, fieldsOf, markFilled } from "../form/fields.mjs";
import { shownName } from "../frame/words.mjs";
import { current } from "./current.mjs";
import { hashOf, NotStored } from "./database.mjs";
import { fragmentOf, readFragment } from "./link.mjs";
import { byId, holderOf } from "./places.mjs";
import { offeredTo, readShared, sharedBy, takenFrom } from "./sharing.mjs";

/** Storage failures already reported: each is shown once a visit, not on every page. */
const reported = new Set();

/** Loads and saves one form. */
export class Keeping {
  #form;
  #calculator;
  #visit;
  #say;
  #linked = false;
  /** Whether there is something stored that the form may have typed or taken over. */
  #isUsed = false;
  /**
   * What Python works out of a full size, by the names that fields share; undefined until it has. It is not saved as if it
   * had been typed, or the full size would be lost.
   * @type {Record<string, string | undefined>}
   */
  #worked = {};
  /** Settles once that is in the form. The engine may take long to come, so `begin` does not wait for it. */
  workedOut = Promise.resolve();

  /**
   * @param {import("../form/form.mjs").Form} form
   * @param {string} calculator id
   * @param {import("../form/form.mjs").Visit} visit
   */
  constructor(form, calculator, visit) {
    this.#form = form;
    this.#calculator = calculator;
    this.#visit = visit;
    this.#say = visit.say;
  }

  /**
   * Fills the form from a link or from the store, except fields that the reader has touched.
   * @param {Set<Element>} touched
   */
  async begin(touched) {
    const signal = this.#form.ended;
    const { store } = this.#visit;
    store.addEventListener("changed", (event) => this.#changedElsewhere(/** @type {CustomEvent} */ (event).detail), { signal });
    store.addEventListener("leaving", () => this.#form.flush(), { signal });
    store.addEventListener("chosen", () => this.#otherMarking(), { signal });
    addEventListener("hashchange", () => this.#takeLink(), { signal });
    if (this.#takeLink()) return;
    await this.#fill((entry, leave) => entry && this.#write(entry, leave), (field) => touched.has(field));
  }

  /** Fills the form with the values of the marking that is current now, however many fields were typed into before. */
  async #otherMarking() {
    if (this.#linked) return;
    // What they offer to undo was done to the other marking.
    for (const note of ["reset", "again", "shared", "points", "file", "tabs"]) this.#form.unnote(note);
    await this.#fill((entry) => this.#write(entry), () => false);
  }

  /**
   * @param {(entry: import("./store.mjs").Entry | null, leave: Leave) => void} write
   * @param {Leave} leave
   */
  #fill(write, leave) {
    return this.#trying(async () => {
      const { store } = this.#visit;
      const [entry, shared, present] = [await store.load(this.#calculator), await store.shared(), await store.present()];
      if (this.#form.ended.aborted) return;
      this.#isUsed ||= Boolean(entry) || Object.keys(shared).length > 0;
      const pending = (this.#worked = isFullSize(present) ? pendingWidths() : {});
      write(entry, leave);
      this.#offer(shared, leave, Boolean(entry));
      this.#label(shared, leave);
      if (Object.keys(pending).length) this.workedOut = this.#workOut(present, pending, leave, Boolean(entry));
    });
  }

  /**
   * Fills in how wide a marking is on the model, of which the full size was decided.
   * @param {{job: any, marking: string | null}} present
   * @param {Record<string, undefined>} pending the names of the values
   * @param {Leave} leave
   * @param {boolean} asked
   */
  async #workOut({ job, marking }, pending, leave, asked) {
    const { envelope } = await engine.ask({ do: "typed-for", job, marking, calculator: this.#calculator }, { limitMs: 20_000 });
    // The reader may have gone on to another marking.
    if (this.#form.ended.aborted || envelope.outcome !== "typed" || this.#worked !== pending) return;
    const fields = [...fieldsOf(this.#form.element)].filter(([, { dataset }]) => dataset.shares in pending);
    this.#worked = Object.fromEntries(fields.map(([field, { dataset }]) => [dataset.shares, envelope.inputs[field] ?? ""]));
    const found = Object.entries(this.#worked).filter(([, text]) => text);
    this.#offer(Object.fromEntries(found.map(([name, text]) => [name, { text }])), leave, asked);
  }

  /**
   * Takes over into the job what Python could read of the typed values.
   * @param {Record<string, any>} inputs
   * @param {Envelope} reply
   */
  answered(inputs, reply) {
    if (!this.#isUsed || this.#linked) return;
    // What was typed is stored by now. If this fails, the next answer decides it.
    this.#visit.store.settle(this.#calculator, readShared(this.#form.element, inputs, reply)).catch(() => {});
  }

  /**
   * Labels each field whose value comes from another calculator with the name of that calculator.
   * @param {Record<string, import("./sharing.mjs").Shared>} shared
   * @param {Leave} leave
   */
  #label(shared, leave) {
    for (const [field, calculator] of takenFrom(this.#form.element, this.#form.typed(), shared)) {
      const title = calculator !== this.#calculator && config.titles[calculator];
      if (title && !leave(field)) markFilled(field, this.#say("from_calculator", { title }));
    }
  }

  get #isExample() {
    return !this.#form.typed().files.size && ![...everyField(this.#form.element).values()].some(differsFromDelivered);
  }

  /**
   * Saves the values that a next step passes to other calculators, unless they come from the worked example or a link.
   * @param {Record<string, string>} values texts by the name that fields share
   */
  carry(values) {
    if (this.#linked || this.#isExample) return;
    // What the form itself is asked with counts there too, so that the next answer settles it.
    const own = [...fieldsOf(this.#form.element)].filter(([, { dataset }]) => dataset.shares in values);
    if (own.length) {
      const { inputs, files } = this.#form.typed();
      this.#form.write({ ...inputs, ...Object.fromEntries(own.map(([field, { dataset }]) => [field, values[dataset.shares]])) }, files);
    }
    const carried = Object.entries(values).map(([name, text]) => [name, { text }]);
    const entry = this.#entry();
    this.#save(entry, { ...this.#sharedBy(entry), ...Object.fromEntries(carried) });
  }

  /** Saves the current input. */
  edited() {
    this.#leaveLink();
    const entry = this.#entry();
    this.#save(entry, this.#sharedBy(entry));
  }

  /** @param {import("./store.mjs").Entry} entry */
  #sharedBy({ inputs, files }) {
    const shared = Object.entries(sharedBy(this.#form.element, { inputs, files: new Map(Object.entries(files)) }));
    const worked = this.#worked;
    return Object.fromEntries(
      shared.filter(([name, { text }]) => !(name in worked) || (text && worked[name] !== undefined && worked[name] !== text)),
    );
  }

  #entry() {
    const { inputs, files } = this.#form.typed();
    return { inputs, files: Object.fromEntries([...files].filter(([, { hash }]) => hash).map(fileRecord)) };
  }

  /** Resets to the worked example; can be undone. */
  reset() {
    this.#replace("reset_done", () => {
      this.#form.write({}, new Map());
      this.#save(null);
    });
  }

  /** Empties the form; can be undone. */
  empty() {
    this.#replace("empty_done", () => {
      this.#form.empty();
      this.edited();
    });
  }

  /**
   * @param {string} done
   * @param {() => void} act
   */
  #replace(done, act) {
    const { inputs, files } = this.#form.typed();
    const undo = () => {
      this.#form.write(inputs, files);
      this.edited();
    };
    this.#leaveLink();
    act();
    this.#form.note("reset", this.#say(done), { actions: [{ label: this.#say("undo"), act: undo }] });
  }

  /** Copies a link with the input; shows it if the clipboard is blocked. */
  async copyLink() {
    const { inputs, files } = this.#form.typed();
    const { origin, pathname, search } = location;
    const address = `${origin}${pathname}${search}#${fragmentOf(inputs)}`;
    const without = files.size ? ` ${this.#say("link_without_files")}` : "";
    try {
      await navigator.clipboard.writeText(address);
      this.#form.note("link", this.#say("link_copied") + without);
    } catch {
      this.#form.note("link", this.#say("link_by_hand") + without, { address });
    }
  }

  /** Fills the form from the page's fragment. Returns whether it did. */
  #takeLink() {
    const link = readFragment(location.hash);
    if (!link) return false;
    if (!link.inputs) {
      this.#form.note("linked", this.#say("link_version", { version: link.version }));
      return false;
    }
    this.#linked = true;
    const unknown = [...link.unread, ...this.#form.write(link.inputs, new Map())];
    this.#form.note("linked", this.#say("from_link"), {
      actions: [{ label: this.#say("own_values"), act: () => this.#takeOwn() }],
    });
    if (unknown.length) this.#form.note("unknown", this.#say("link_unknown", { names: unknown.map(shownName).join(", ") }));
    return true;
  }

  /** From the first edit on, the values belong to the reader and no longer to the link. */
  #leaveLink() {
    if (!readFragment(location.hash)) return;
    this.#linked = false;
    history.replaceState(history.state, "", location.pathname + location.search);
    for (const note of ["linked", "unknown"]) this.#form.unnote(note);
  }

  #takeOwn() {
    this.#leaveLink();
    this.#form.unnote("unknown");
    return this.#trying(async () => this.#write(await this.#visit.store.load(this.#calculator)));
  }

  /** @param {{calculator?: string, job: string, marking?: string}} change */
  async #changedElsewhere({ calculator, job, marking }) {
    const here = current();
    if (calculator !== this.#calculator || this.#linked || job !== (here.job ?? job) || marking !== (here.marking ?? marking)) return;
    const take = () => this.#trying(async () => this.#write(await this.#visit.store.load(calculator)));
    if (this.#form.inHand) {
      this.#form.note("tabs", this.#say("other_tab_waits"), { actions: [{ label: this.#say("take_them"), act: take }] });
      return;
    }
    await take();
    this.#form.note("tabs", this.#say("other_tab_changed"));
  }

  /**
   * Takes the job's shared values; if the reader has typed here before, only after asking.
   * @param {Record<string, import("./sharing.mjs").Shared>} shared
   * @param {Leave} leave
   * @param {boolean} asked
   */
  #offer(shared, leave, asked) {
    const typed = this.#form.typed();
    const offered = offeredTo(this.#form.element, typed, shared, leave);
    if (!offered.labels.length) return;
    const names = offered.labels.join(", ");
    const take = () => {
      this.#form.write({ ...typed.inputs, ...offered.inputs }, new Map([...typed.files, ...offered.files]), leave);
      awaitFilling(this.#form.element, leave);
      this.#label(shared, leave);
    };
    if (asked) {
      const act = () => {
        take();
        this.edited();
      };
      this.#form.note("shared", this.#say("shared_offered", { names }), {
        actions: [{ label: this.#say("shared_take"), act }],
      });
      return;
    }
    take();
    const back = () => {
      this.#form.write(typed.inputs, typed.files, leave);
      // Rejecting it here leaves it shared with other calculators.
      this.#save(this.#entry());
    };
    this.#form.note("shared", this.#say("shared_used", { names }), {
      actions: [{ label: this.#say("shared_not_wanted"), act: back }],
    });
  }

  /**
   * Saves a file made here for other calculators.
   * @param {string} value
   * @param {{name: string, media: string, bytes: ArrayBuffer}} file
   */
  async keep(value, { name, media, bytes }) {
    const hash = await hashOf(bytes);
    if (!hash) {
      this.#form.note("file", this.#say("file_not_stored"));
      return;
    }
    await this.#trying(async () => {
      // Traced outlines are aligned with their picture, so they have its width.
      const of = media.includes("svg") ? sourceOf(this.#form.typed().files.get("picture")) : undefined;
      await this.#visit.store.share(this.#calculator, value, { hash, of, name, media, size: bytes.byteLength, bytes });
      this.#form.note("shared", this.#say("shared_stored", { name: shownName(name) }));
    });
  }

  /** @param {import("./store.mjs").Entry | null} entry */
  #write(entry, /** @type {Leave} */ leave = () => false) {
    const files = Object.entries(entry?.files ?? {}).map(([field, file]) => [field, { ...file, fresh: false, seen: false }]);
    this.#form.write(entry?.inputs ?? {}, new Map(/** @type {[string, any][]} */ (files)), leave);
    awaitFilling(this.#form.element, leave);
  }

  /**
   * @param {import("./store.mjs").Entry | null} entry
   * @param {Record<string, any>} [shared]
   */
  #save(entry, shared) {
    this.#isUsed = true;
    return this.#trying(() => this.#visit.store.save(this.#calculator, entry, shared));
  }

  /** @param {() => Promise<void>} act */
  async #trying(act) {
    try {
      await act();
    } catch (error) {
      if (!(error instanceof NotStored)) throw error;
      if (reported.has(error.why)) return;
      reported.add(error.why);
      this.#form.note("storage", this.#say(`unstored_${error.why}`));
    }
  }
}

/** @param {[string, any]} file */
const fileRecord = ([address, { hash, of, name, media, size, bytes }]) => [address, { hash, of, name, media, size, bytes }];

/** Returns the names that fields share of what follows from a full size, none of them worked out yet. */
function pendingWidths() {
  const { choice, of } = /** @type {import("./places.mjs").Places} */ (config.job).widths;
  /** @type {Record<string, undefined>} */
  const names = { [choice]: undefined };
  for (const { name } of Object.values(of)) names[name] = undefined;
  return names;
}

/** @param {{job: any, marking: string | null}} present */
function isFullSize({ job, marking }) {
  const { width, size = config.job.widths.size } = holderOf(job, byId(job, marking)) ?? {};
  return Boolean(width) && size !== config.job.widths.size;
}

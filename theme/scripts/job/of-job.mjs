/** Values of the current marking within the text of a page (builder/of_job.py), and messages to copy that hold them. */

import { config, engine } from "../../engine/visit.mjs";
import { withUnit } from "../frame/units.mjs";
import { wordsFrom } from "../frame/words.mjs";
import { store } from "../keep/device.mjs";
import { byId, holderOf, Values } from "../keep/places.mjs";

/** A calculator that takes either width; Python alone knows how wide a marking of full size is on the model. */
const TAKES_WIDTH = "placement-template";

/**
 * Fills the places of the page, also when the job changes.
 * @returns {{end: () => void}[]}
 */
export function mount() {
  const ending = new AbortController();
  const { signal } = ending;
  const places = [...document.querySelectorAll(".dw-of-job")].map((place) => ({ place, otherwise: place.textContent }));
  let latest = 0;
  const show = async () => {
    const number = (latest += 1);
    const { job, marking: id } = await store.present();
    const marking = byId(job, id);
    for (const { place, otherwise } of places) {
      const text = marking && (await textOf(place.dataset, job, marking));
      if (signal.aborted || number !== latest) return;
      place.textContent = text || otherwise;
      place.toggleAttribute("data-known", Boolean(text));
    }
  };
  const attempt = () => show().catch(() => {}); // A job that cannot be read leaves the words of the page.
  for (const event of ["wrote", "changed", "chosen"]) store.addEventListener(event, attempt, { signal });
  attempt();
  for (const message of document.querySelectorAll(".dw-message")) wireCopy(message, wordsFrom(config.messages));
  return [{ end: () => ending.abort() }];
}

/**
 * Returns what the job has for a place, "" if nothing. A partner has what its twin has, but for what is its own.
 * @param {DOMStringMap} place
 * @param {any} job
 * @param {any} marking
 */
async function textOf({ of, own, shared, calculator, labels, width, default: usual = "" }, job, marking) {
  const holder = own === undefined ? holderOf(job, marking) : marking;
  const values = new Values(store.places, job, holder).all();
  if (width !== undefined) return widthOf(values, job, holder);
  const typed = calculator === undefined ? holder : holder.calculators?.[calculator]?.inputs;
  const text = values[shared]?.text || typed?.[of] || (typed ? usual : "");
  return labels ? (JSON.parse(labels)[text] ?? "") : String(text);
}

/**
 * @param {Record<string, import("../keep/sharing.mjs").Shared>} values
 * @param {any} job
 * @param {any} marking
 */
async function widthOf(values, job, { id, width, size }) {
  const { choice, of: kinds, size: onModel } = store.places.widths;
  const { name } = kinds[values[choice]?.text] ?? Object.values(kinds)[0];
  if (values[name]) return withUnit(values[name].text, "mm");
  if (!width || size === onModel) return "";
  const { envelope } = await engine.ask({ do: "typed-for", job, marking: id, calculator: TAKES_WIDTH }, { limitMs: 20_000 });
  const worked = parseFloat(envelope.inputs?.own_width_mm ?? envelope.inputs?.width_mm);
  // It comes in mm with all its digits, so that nothing is lost where it goes on; a shop needs no more than these.
  return Number.isNaN(worked) ? "" : `${Number(worked.toFixed(2))} mm`;
}

/**
 * @param {HTMLElement} message
 * @param {Say} say
 */
function wireCopy(message, say) {
  const button = message.querySelector("button");
  const note = message.querySelector("[role=status]");
  button.hidden = false;
  button.addEventListener("click", async () => {
    const text = [...message.querySelectorAll("p, li")].map((each) => each.textContent.trim().replace(/\s+/g, " ")).join("\n\n");
    try {
      await navigator.clipboard.writeText(text);
      note.textContent = say("message_copied");
    } catch {
      getSelection().selectAllChildren(message);
      note.textContent = say("message_not_copied");
    }
  });
}

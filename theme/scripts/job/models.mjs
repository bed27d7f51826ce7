/** The models of a job and their paints. */

import { newModel, numbered } from "../keep/places.mjs";
import { Trouble } from "./trouble.mjs";

/** @param {import("./job.mjs").JobPage} page */
export function wireModels(page) {
  const list = page.find(".dw-models");
  let shown = "";
  page.addEventListener("shown", () => {
    const models = page.present.job.models ?? [];
    page.find('[data-part="models"]').textContent = models.length ? `(${models.length})` : "";
    // Built anew only when models or areas came or went, so that no field is taken from under a reader.
    const state = JSON.stringify([page.present.id, models.map((/** @type {any} */ each) => [each.id, (each.paints ?? []).map((/** @type {any} */ { area }) => area)])]);
    const focused = [...list.querySelectorAll("[data-attribute]")].indexOf(document.activeElement);
    const isNew = state !== shown;
    if (isNew) list.replaceChildren(...models.map((/** @type {any} */ model) => modelRow(page, model)));
    shown = state;
    for (const [at, row] of [...list.children].entries()) write(page, row, models[at]);
    if (isNew && focused >= 0) list.querySelectorAll("[data-attribute]")[focused]?.focus();
  });
  page.on("add-model", () => {
    page.mayAddTo(list);
    return page.change((job) => void newModel(page.places, job));
  });
}

/**
 * @param {import("./job.mjs").JobPage} page
 * @param {any} model
 */
function modelRow(page, model) {
  const row = page.find("#dw-model-row").content.firstElementChild.cloneNode(true);
  page.editing.bind(row.querySelector(".dw-job-grid"), { part: "model", id: model.id });
  row.querySelector(".dw-paints").append(...(model.paints ?? []).map((/** @type {any} */ { area }) => paintRow(page, model.id, area)));
  row.querySelector('[data-does="add-paint"]').addEventListener("click", () => page.attempt(() => {
    page.mayAddTo(row.querySelector(".dw-paints"));
    return page.change((job) => {
      const paints = (modelOf(job, model.id).paints ??= []);
      const area = numbered("Paint", new Set(paints.map((/** @type {any} */ each) => each.area)), paints.length + 1);
      paints.push({ area });
    });
  }));
  row.querySelector('[data-does="delete-model"]').addEventListener("click", () => page.attempt(() => deleteModel(page, model.id)));
  return row;
}

/**
 * @param {import("./job.mjs").JobPage} page
 * @param {string} id
 * @param {string} area
 */
function paintRow(page, id, area) {
  const row = page.find("#dw-paint-row").content.firstElementChild.cloneNode(true);
  page.editing.bind(row, { part: "paint", id, area });
  const remove = row.querySelector('[data-does="remove-paint"]');
  remove.setAttribute("aria-label", page.say("remove_paint", { name: area }));
  remove.addEventListener("click", () => page.attempt(async () => {
    await page.change((job) => {
      const model = modelOf(job, id);
      const isUsed = (job.markings ?? []).some((/** @type {any} */ each) => each.model === id && each.paints?.includes(area));
      if (isUsed) throw new Trouble("paint_used", { name: area });
      model.paints = model.paints.filter((/** @type {any} */ each) => each.area !== area);
    });
  }));
  return row;
}

/**
 * @param {import("./job.mjs").JobPage} page
 * @param {string} id
 */
async function deleteModel(page, id) {
  const { job } = page.present;
  const model = modelOf(job, id);
  const place = job.models.indexOf(model);
  await page.change((stored) => {
    if ((stored.markings ?? []).some((/** @type {any} */ each) => each.model === id)) throw new Trouble("model_used", { name: model.name });
    stored.models = stored.models.filter((/** @type {any} */ each) => each.id !== id);
  });
  page.offerUndo(page.say("model_deleted", { name: model.name }), async () => {
    await page.change((stored) => {
      if (!stored.models?.some((/** @type {any} */ each) => each.id === id)) (stored.models ??= []).splice(place, 0, model);
    });
  });
}

/**
 * @param {import("./job.mjs").JobPage} page
 * @param {any} row
 * @param {any} model
 */
function write(page, row, model) {
  page.editing.write(row.querySelector(".dw-job-grid"), { part: "model", id: model.id }, model);
  for (const [at, each] of [...row.querySelectorAll(".dw-paint")].entries()) {
    const paint = model.paints[at];
    page.editing.write(each, { part: "paint", id: model.id, area: paint.area }, paint);
    const swatch = each.querySelector(".dw-paint-swatch");
    swatch.style.backgroundColor = CSS.supports("color", paint.colour ?? "") ? paint.colour : "transparent";
  }
}

/** @param {any} job @param {string} id */
function modelOf(job, id) {
  const found = job.models?.find((/** @type {any} */ each) => each.id === id);
  if (!found) throw new Trouble("changed_elsewhere");
  return found;
}

/**
 * Shows problems that the reader can fix: each beside its field, and one sentence at the top of the form with a link to
 * the first.
 */

import { controlOf, everyField, labelOf } from "./fields.mjs";
import { fieldKind } from "./kinds.mjs";

/**
 * Shows all problems, without moving what the reader looks at. An empty list clears them.
 * @param {HTMLElement} form
 * @param {{field: string, text: string, hint?: string}[]} problems
 * @param {(key: string, parts?: object) => string} say
 */
export function showProblems(form, problems, say) {
  const top = form.querySelector(".dw-problems");
  const fields = everyField(form);
  const elsewhere = problems.filter((problem) => !focusable(fields.get(problem.field)));
  steadily(form, () => {
    top.hidden = !problems.length;
    top.querySelector(".dw-problems-title").replaceChildren(...sentenceOf(fields, problems, say));
    top.querySelector("ul").replaceChildren(...elsewhere.map(itemOf));
    for (const [address, field] of fields) {
      mark(field, problems.find((problem) => problem.field === address));
    }
  });
}

/**
 * @param {Problem[]} problems
 * @param {Say} say
 */
export const titleOf = (problems, say) =>
  problems.length === 1 ? say("one_problem") : say("several_problems", { count: problems.length });

/**
 * Returns the sentence at the top, with a link to the first field that has a problem.
 * @param {Map<string, HTMLElement>} fields
 * @param {Problem[]} problems
 * @param {Say} say
 */
function sentenceOf(fields, problems, say) {
  if (!problems.length) return [];
  const title = titleOf(problems, say);
  const first = problems.map((problem) => fields.get(problem.field)).find(focusable);
  if (!first) return [`${title}.`];
  const mark = "\u0000";
  const [before, after] = say(problems.length === 1 ? "only_problem" : "first_problem", { title, field: mark }).split(mark);
  return [before, linkTo(focusable(first), labelOf(first)), after];
}

/**
 * @param {HTMLElement} control
 * @param {string} text
 */
function linkTo(control, text) {
  const link = document.createElement("a");
  link.href = `#${encodeURIComponent(control.id)}`;
  link.textContent = text;
  link.addEventListener("click", (event) => {
    // Do not follow it: the fragment may hold inputs, and the theme would treat it as navigation.
    event.preventDefault();
    event.stopPropagation();
    control.focus();
    control.scrollIntoView({ block: "center" });
  });
  return link;
}

/**
 * Lists a problem whose field is not on this page, so that it appears somewhere.
 * @param {Problem} problem
 */
function itemOf(problem) {
  const item = document.createElement("li");
  item.textContent = wholeOf(problem);
  return item;
}

/** @param {Problem} problem */
const wholeOf = ({ text, hint }) => (hint ? `${text}. ${hint}` : `${text}.`);

/** @param {Element | undefined} field */
const focusable = (field) => field && (controlOf(field) ?? field.querySelector("input, select, textarea, button"));

/**
 * @param {HTMLElement} field
 * @param {Problem | undefined} problem
 */
function mark(field, problem) {
  const place = [...field.querySelectorAll(".dw-problem")].find(
    (each) => each.id === `problem-${field.dataset.field}`,
  );
  if (!place) return;
  place.hidden = !problem;
  place.textContent = problem ? wholeOf(problem) : "";
  field.toggleAttribute("data-problem", Boolean(problem));
  if (problem) for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  const control = fieldKind(field).holdsFields ? null : focusable(field);
  if (problem) control?.setAttribute("aria-invalid", "true");
  else control?.removeAttribute("aria-invalid");
}

/**
 * Changes the form without moving the focused field on the screen.
 * @param {HTMLElement} form
 * @param {() => void} change
 */
export function steadily(form, change) {
  const inHand = form.contains(document.activeElement) ? document.activeElement : null;
  const before = inHand?.getBoundingClientRect().top;
  change();
  const moved = inHand ? inHand.getBoundingClientRect().top - before : 0;
  if (moved) scrollBy({ top: moved, behavior: "instant" });
}

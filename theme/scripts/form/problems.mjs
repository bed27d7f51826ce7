/**
 * What the reader can put right, beside its field and in a list at the top of the form.
 */

import { controlOf, everyField } from "./fields.mjs";
import { fieldKind } from "./kinds.mjs";

/**
 * Shows all problems at once, without moving what the reader looks at. None clears them.
 * @param {HTMLElement} form
 * @param {{field: string, text: string, hint?: string}[]} problems
 * @param {(key: string, parts?: object) => string} say
 */
export function showProblems(form, problems, say) {
  const list = form.querySelector(".dw-problems");
  const items = problems.map((problem) => itemOf(form, problem));
  steadily(form, () => {
    list.hidden = !problems.length;
    list.querySelector(".dw-problems-title").textContent = problems.length ? titleOf(problems, say) : "";
    list.querySelector("ul").replaceChildren(...items);
    for (const [address, field] of everyField(form)) {
      mark(field, problems.find((problem) => problem.field === address));
    }
  });
}

export const titleOf = (problems, say) =>
  problems.length === 1 ? say("one_problem") : say("several_problems", { count: problems.length });

function itemOf(form, { field: address, text, hint }) {
  const item = document.createElement("li");
  const control = focusable(everyField(form).get(address));
  if (!control) {
    item.textContent = wholeOf({ text, hint });
    return item;
  }
  const link = document.createElement("a");
  link.href = `#${encodeURIComponent(control.id)}`;
  link.textContent = text;
  link.addEventListener("click", (event) => {
    // Not followed: the fragment may carry inputs, and the theme would take it for a move to another page.
    event.preventDefault();
    event.stopPropagation();
    control.focus();
    control.scrollIntoView({ block: "center" });
  });
  item.append(link);
  return item;
}

const wholeOf = ({ text, hint }) => (hint ? `${text}. ${hint}` : text);

const focusable = (field) => field && (controlOf(field) ?? field.querySelector("input, select, textarea, button"));

function mark(field, problem) {
  const place = [...field.querySelectorAll(".dw-problem")].find(
    (each) => each.id === `problem-${field.dataset.field}`,
  );
  if (!place) return;
  place.hidden = !problem;
  place.textContent = problem ? wholeOf(problem) : "";
  field.toggleAttribute("data-problem", Boolean(problem));
  const control = fieldKind(field).holdsFields ? null : focusable(field);
  if (problem) control?.setAttribute("aria-invalid", "true");
  else control?.removeAttribute("aria-invalid");
}

/** Makes a change to the form while the field in hand stays where it is on the screen. */
export function steadily(form, change) {
  const inHand = form.contains(document.activeElement) ? document.activeElement : null;
  const before = inHand?.getBoundingClientRect().top;
  change();
  const moved = inHand ? inHand.getBoundingClientRect().top - before : 0;
  if (moved) scrollBy({ top: moved, behavior: "instant" });
}

/** The next steps of the job. The values that a step carries are saved when the reader takes it (form.mjs). */

/** @type {import("../kinds.mjs").ResultKind} */
export const result = {
  rendererFor: (slot) => ({
    isEmpty: ({ shown }) => !shown.length,
    show: ({ shown }) => slot.querySelector("ul").replaceChildren(...shown.map(step)),
  }),
};

/** @param {{shown: string, href: string, carries: Record<string, string>}} lead */
function step({ shown, href, carries }) {
  const link = Object.assign(document.createElement("a"), { href, textContent: shown });
  if (Object.keys(carries).length) link.dataset.carries = JSON.stringify(carries);
  const item = document.createElement("li");
  item.append(link);
  return item;
}

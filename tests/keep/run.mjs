// node run.mjs < cases: does in the page's modules what each case says, and writes the results. Cases: [{job, marking, acts}].
import { readFileSync } from "node:fs";

import { addMarking, addPartner, asUsed, duplicate, forgetTyped, removeMarking, separate } from "../../theme/scripts/keep/markings.mjs";
import { byId, holderOf, lineOf, newId } from "../../theme/scripts/keep/places.mjs";
import { Settling } from "../../theme/scripts/keep/settling.mjs";

const { places, cases } = JSON.parse(readFileSync(0, "utf8"));

const acts = {
  put: (job, values, name, value) => values.put(name, value),
  remove: (job, values, name) => values.remove(name),
  settle: (job, values, typed) => values.settle(typed),
  set: (job, values, id, parts) => {
    const before = structuredClone(job);
    Object.assign(byId(job, id), parts);
    forgetTyped(places, before, job);
  },
  add: (job, values, after, parts) => addMarking(places, job, after, parts).id,
  duplicate: (job, values, id) => duplicate(places, job, id).id,
  partner: (job, values, id, how, name) => addPartner(places, job, id, how, name).id,
  separate: (job, values, id) => separate(places, job, id),
  removeMarking: (job, values, id) => removeMarking(places, job, id),
  used: (job, values, id) => asUsed(places, job, byId(job, id)),
  newId: (job, values, name) => newId(name, job.markings),
  lineOf: (job, values, text) => lineOf(text, 255),
};

const results = cases.map(({ job, marking, acts: list }) => {
  const values = () => new Settling(places, job, holderOf(job, byId(job, marking)));
  const answers = list.map(([name, ...more]) => acts[name](job, byId(job, marking) && values(), ...more) ?? null);
  return { job, answers, values: byId(job, marking) ? values().all() : null };
});
process.stdout.write(JSON.stringify(results));

// node read_in_engine.mjs TASK.json: hands files to the engine under node, one after the other, and prints
// what came of each: {answers: [{outcome, problems, ms}], boots, grown: bytes by which the process grew}.
// The task: {site: folder, config, calculator, field, files: [{name, path, pixels: null | {width, height}}]}
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

import "../engine/worker_in_node.mjs";
import { Engine } from "../../theme/engine/engine.mjs";

const task = JSON.parse(readFileSync(process.argv[2], "utf8"));
const engine = new Engine(task.config, pathToFileURL(`${task.site}/`));
const ask = (files) => engine.ask({ do: "answer", calculator: task.calculator, inputs: {}, files }, { limitMs: 30_000 });
await ask({});

const before = process.memoryUsage().rss;
let most = before;
const answers = [];
for (const { name, path, pixels } of task.files) {
  const file = { name, bytes: new Uint8Array(readFileSync(path)).buffer };
  if (pixels) file.pixels = { ...pixels, rgba: new ArrayBuffer(4 * pixels.width * pixels.height) };
  const asked = performance.now();
  const { envelope } = await ask({ [task.field]: file });
  answers.push({ outcome: envelope.outcome, problems: envelope.problems ?? [], trace: envelope.trace, ms: performance.now() - asked });
  most = Math.max(most, process.memoryUsage().rss);
}
process.stdout.write(JSON.stringify({ answers, boots: engine.boots, grown: most - before }), () => process.exit(0));

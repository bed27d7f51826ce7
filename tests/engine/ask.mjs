// node ask.mjs TASK.json: asks the engine under node, one request after the other, and prints a report.
// The task: {site: folder, config, plain, requests: [{request, files: {field: {name, path, pixels}}}]}
// with files and pixels ({width, height, path}) by their paths.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

import { workers } from "./worker_in_node.mjs";
import { Engine } from "../../theme/engine/engine.mjs";

const task = JSON.parse(readFileSync(process.argv[2], "utf8"));
const bytesOf = (path) => new Uint8Array(readFileSync(path)).buffer;

function given({ name, path, pixels }) {
  const file = { name, bytes: bytesOf(path) };
  if (pixels) file.pixels = { width: pixels.width, height: pixels.height, rgba: bytesOf(pixels.path) };
  return file;
}

const engine = new Engine(task.config, pathToFileURL(`${task.site}/`), { plain: task.plain });
const answers = [];
const texts = [];
// How much had been fetched, and waited for, when each answer came.
const reached = [];
let copied = true;
for (const { files = {}, ...request } of task.requests) {
  const loaded = Object.fromEntries(Object.entries(files).map(([field, file]) => [field, given(file)]));
  const { envelope, buffers } = await engine.ask({ ...request, files: loaded });
  answers.push(envelope);
  reached.push([workers[0].fetched.length, workers[0].waitedFor.length]);
  texts.push(buffers.map((buffer) => new TextDecoder().decode(buffer)));
  copied &&= Object.values(loaded).every(({ bytes, pixels }) => bytes.byteLength && (!pixels || pixels.rgba.byteLength));
}
const { way, boots, received } = engine;
const [{ fetched, waitedFor }] = workers;
process.stdout.write(JSON.stringify({ answers, texts, reached, copied, way, boots, received, fetched, waitedFor }), () => process.exit(0));

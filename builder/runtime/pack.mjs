// node pack.mjs TASK.json: starts Pyodide, and runs in it what the builder asks for, one line of standard input after another.
// The task: {pyodide: folder, sources: Python's library as a zip of sources, ours: folder of our packages and the libraries that they import,
// archives: [zips that are placed in /pack], made: folder that Python sees as /pack/made}
// A line: {script: path of survey.py or pack.py, globals, asks: [texts]}, or {asks} for the script of the line before. Its answer is a line
// of JSON: {report: the last expression of the script, asked: {each of asks: what the script's function ask returns}}.
import { mkdirSync, readFileSync, readdirSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

import { task } from "./task.mjs";

const { loadPyodide } = await import(pathToFileURL(join(task.pyodide, "pyodide.mjs")).href);
// Answers alone go to standard output.
const python = await loadPyodide({ stdLibURL: task.sources, stdout: console.error });

/**
 * @param {string} from
 * @param {string} to
 */
function copyIn(from, to) {
  python.FS.mkdirTree(to);
  for (const name of readdirSync(from)) {
    if (name === "__pycache__") continue;
    const [source, target] = [join(from, name), `${to}/${name}`];
    if (statSync(source).isDirectory()) copyIn(source, target);
    else python.FS.writeFile(target, readFileSync(source));
  }
}

copyIn(task.ours, "/pack/ours");
for (const archive of [task.sources, ...task.archives]) python.FS.writeFile(`/pack/${basename(archive)}`, readFileSync(archive));
mkdirSync(task.made, { recursive: true });
python.mountNodeFS("/pack/made", task.made);
// Each script finds Python as it was at the start: what ran before it must not show in what it finds.
const reset = python.runPython(
  `
import sys
modules, path = frozenset(sys.modules), sys.path[:]

def reset():
    sys.path[:] = path
    for name in set(sys.modules) - modules:
        del sys.modules[name]

reset
`,
  { globals: python.toPy({}) },
);
/** @type {any} */
let values;
for await (const line of createInterface({ input: process.stdin })) {
  const { script, globals, asks } = JSON.parse(line);
  let report = null;
  if (script) {
    reset();
    values = python.toPy(globals);
    report = JSON.parse(python.runPython(readFileSync(script, "utf8"), { globals: values, filename: basename(script) }));
  }
  process.stdout.write(`${JSON.stringify({ report, asked: asked(asks) })}\n`);
}

/**
 * Call the function ask of the script with each text, with Python's memory as the script left it.
 * @param {string[]} asks
 */
function asked(asks) {
  if (!asks.length) return {};
  const memory = python._module.HEAPU8.slice();
  return Object.fromEntries(asks.map((each) => {
    const answer = JSON.parse(python.runPython(`ask(${JSON.stringify(each)})`, { globals: values }));
    const now = python._module.HEAPU8;
    now.set(memory);
    now.fill(0, memory.length);
    return [each, answer];
  }));
}

// node pack.mjs TASK.json: packs Python's library in a zip and our packages in parts (see pack.py).
// The task: {pyodide: folder, sources: Python's library as a zip of sources, survey: survey.py, python: pack.py, readyMade: ready_made.py, splitting: stage_parts.py,
// wheels: [libraries of single calculators], ours: folder of our packages, packages: [their names], needed: {file of ours: [stages that need it]}, jobs: name of the part for jobs,
// forJobs: [its files], libraries: {late part: {sources: zip of the library that it brings, modules: [those of ours that import it]}}, late: [modules that come when they are first imported], leftOut, library: zip to write, parts: folder to write}
import { mkdirSync, readFileSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";

import { task } from "./task.mjs";

const { loadPyodide } = await import(pathToFileURL(join(task.pyodide, "pyodide.mjs")).href);
const python = await loadPyodide({ stdLibURL: task.sources });

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

python.FS.mkdirTree("/pack/parts");
copyIn(task.ours, "/pack/ours");
python.FS.writeFile("/pack/theirs.zip", readFileSync(task.sources));
python.FS.writeFile("/pack/stage_parts.py", readFileSync(task.splitting));
for (const wheel of task.wheels) python.FS.writeFile(`/pack/${basename(wheel)}`, readFileSync(wheel));
const wheels = task.wheels.map((/** @type {string} */ wheel) => `/pack/${basename(wheel)}`);
/**
 * @param {string} path
 * @param {object} globals
 */
const run = (path, globals) => python.runPython(readFileSync(path, "utf8"), { globals: python.toPy(globals), filename: basename(path) });
/** @type {Record<string, {sources: string, modules: string[]}>} */
const libraries = {};
for (const [part, { sources, modules }] of Object.entries(/** @type {typeof libraries} */ (task.libraries))) {
  libraries[part] = { sources: `/pack/${basename(sources)}`, modules };
  python.FS.writeFile(libraries[part].sources, readFileSync(sources));
}
const surveyed = JSON.parse(run(task.survey, { packages: task.packages, wheels, late: task.late, libraries }));
python.runPython("import sys; sys.path.append('/pack')");
const report = run(task.python, {
  needed: task.needed,
  jobs: task.jobs,
  for_jobs: task.forJobs,
  left_out: task.leftOut,
  library: "/pack/theirs.zip",
  ready_made: readFileSync(task.readyMade, "utf8"),
  libraries,
  surveyed,
});
writeFileSync(task.library, python.FS.readFile("/pack/library.zip"));
mkdirSync(task.parts);
for (const part of JSON.parse(report).parts) writeFileSync(join(task.parts, part), python.FS.readFile(`/pack/parts/${part}`));
process.stdout.write(report);

// node pack.mjs TASK.json: packs Python's library and our packages, each in a zip of its own (see pack.py).
// The task: {pyodide: folder, python: pack.py, wheel, include: [folders], packages, leftOut,
// library: zip to write, calculators: zip to write}
import { readFileSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";

import { task } from "./task.mjs";

const { loadPyodide } = await import(pathToFileURL(join(task.pyodide, "pyodide.mjs")));
const python = await loadPyodide();

function copyIn(from, to) {
  python.FS.mkdirTree(to);
  for (const name of readdirSync(from)) {
    if (name === "__pycache__") continue;
    const [source, target] = [join(from, name), `${to}/${name}`];
    if (statSync(source).isDirectory()) copyIn(source, target);
    else python.FS.writeFile(target, readFileSync(source));
  }
}

python.FS.mkdirTree("/pack/ours");
python.unpackArchive(new Uint8Array(readFileSync(task.wheel)), "wheel", { extractDir: "/pack/ours" });
for (const folder of task.include) copyIn(folder, `/pack/ours/${basename(folder)}`);
python.FS.writeFile("/pack/theirs.zip", readFileSync(join(task.pyodide, "python_stdlib.zip")));
const globals = python.toPy({ packages: task.packages, left_out: task.leftOut, library: "/pack/theirs.zip" });
const report = python.runPython(readFileSync(task.python, "utf8"), { globals, filename: "pack.py" });
for (const zip of ["library", "calculators"]) writeFileSync(task[zip], python.FS.readFile(`/pack/${zip}.zip`));
process.stdout.write(report);

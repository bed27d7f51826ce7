// node pack.mjs TASK.json: packs Python's library in a zip and our packages in parts (see pack.py).
// The task: {pyodide: folder, python: pack.py, splitting: stage_parts.py, wheel, include: [folders], packages, leftOut,
// library: zip to write, parts: folder to write}
import { mkdirSync, readFileSync, readdirSync, statSync, writeFileSync } from "node:fs";
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
python.FS.mkdirTree("/pack/parts");
python.unpackArchive(new Uint8Array(readFileSync(task.wheel)), "wheel", { extractDir: "/pack/ours" });
for (const folder of task.include) copyIn(folder, `/pack/ours/${basename(folder)}`);
python.FS.writeFile("/pack/theirs.zip", readFileSync(join(task.pyodide, "python_stdlib.zip")));
python.FS.writeFile("/pack/stage_parts.py", readFileSync(task.splitting));
python.runPython("import sys; sys.path.append('/pack')");
const globals = python.toPy({ packages: task.packages, left_out: task.leftOut, library: "/pack/theirs.zip" });
const report = python.runPython(readFileSync(task.python, "utf8"), { globals, filename: "pack.py" });
writeFileSync(task.library, python.FS.readFile("/pack/library.zip"));
mkdirSync(task.parts);
for (const part of JSON.parse(report).parts) writeFileSync(join(task.parts, part), python.FS.readFile(`/pack/parts/${part}`));
process.stdout.write(report);

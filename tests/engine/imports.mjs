// node imports.mjs TASK.json: starts Python with the two packed zips alone and tells which of the
// modules it cannot import. The task: {pyodide: folder, library: zip, calculators: zip, modules: [names]}
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const task = JSON.parse(readFileSync(process.argv[2], "utf8"));
const { loadPyodide } = await import(pathToFileURL(`${task.pyodide}/pyodide.mjs`));
const python = await loadPyodide({ stdLibURL: task.library });
python.FS.writeFile("/lib/calculators.zip", readFileSync(task.calculators));
const missing = python.runPython(
  `
import importlib, json, sys
sys.path.append("/lib/calculators.zip")
missing = []
for name in modules:
    try:
        importlib.import_module(name)
    except ImportError as error:
        missing.append(f"{name}: {error}")
json.dumps(missing)
`,
  { globals: python.toPy({ modules: task.modules }) },
);
process.stdout.write(missing);

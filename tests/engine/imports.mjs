// node imports.mjs TASK.json: starts Python with the packed library alone and tells which of the
// modules it cannot import. The task: {pyodide: folder, library: zip, modules: [names]}
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const task = JSON.parse(readFileSync(process.argv[2], "utf8"));
const { loadPyodide } = await import(pathToFileURL(`${task.pyodide}/pyodide.mjs`));
const python = await loadPyodide({ stdLibURL: task.library });
const missing = python.runPython(
  `
import importlib, json
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

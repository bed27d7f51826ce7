// node imports.mjs TASK.json: starts Python with the packed library and all packed parts alone and tells which of the
// modules it cannot import. The task: {pyodide: folder, library: zip, parts: [files], modules: [names]}
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { gunzipSync } from "node:zlib";

import { PLACE, placePart } from "../../theme/worker/parts.mjs";

const task = JSON.parse(readFileSync(process.argv[2], "utf8"));
const { loadPyodide } = await import(pathToFileURL(`${task.pyodide}/pyodide.mjs`));
const python = await loadPyodide({ stdLibURL: task.library });
for (const part of task.parts) placePart(python.FS, gunzipSync(readFileSync(part)));
const missing = python.runPython(
  `
import importlib, json, sys
sys.path.append(place)
# What late parts bring of libraries.
sys.path.insert(0, f"{place}/library")
missing = []
for name in modules:
    try:
        importlib.import_module(name)
    except ImportError as error:
        missing.append(f"{name}: {error}")
json.dumps(missing)
`,
  { globals: python.toPy({ modules: task.modules, place: PLACE }) },
);
process.stdout.write(missing);

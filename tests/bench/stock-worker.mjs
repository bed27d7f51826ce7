import { loadPyodide } from "./pyodide/pyodide.mjs";

const python = await loadPyodide();
self.postMessage(python.runPython("1+1"));

// node bundle.mjs TASK.json: bundles scripts with esbuild and prints a report.
// The task: {root, esbuild: its main script, entries: {name: path of a script}, out: folder,
// define: {NAME: JSON text that replaces it}, beside: {import: path that the page loads},
// made: {import: text of a script, whose imports start at root}, legible,
// apart: whether each entry is a bundle of its own that shares nothing}
// The report: {loads: {name of an entry: [the files that come with it, itself first]}, inputs: [paths below root],
// mistakes: [{file, line, column, text}]}
import { basename, relative } from "node:path";
import { pathToFileURL } from "node:url";

import { task } from "./task.mjs";

const { build } = (await import(pathToFileURL(task.esbuild).href)).default;

// Imports of separate files stay imports, since all bundles are in one folder with those files.
/** @type {import("esbuild").Plugin} */
const beside = {
  name: "beside",
  setup: ({ onResolve }) =>
    onResolve({ filter: /^[a-z-]+$/ }, ({ path }) => (path in task.beside ? { path: task.beside[path], external: true } : undefined)),
};

// Scripts that the builder passes as text instead of as files.
/** @type {import("esbuild").Plugin} */
const made = {
  name: "made",
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^[a-z-]+$/ }, ({ path }) => (path in task.made ? { path, namespace: "made" } : undefined));
    onLoad({ filter: /.*/, namespace: "made" }, ({ path }) => ({ contents: task.made[path], resolveDir: task.root }));
  },
};

const options = {
  absWorkingDir: task.root,
  entryPoints: task.entries,
  outdir: task.out,
  outExtension: { ".js": ".mjs" },
  chunkNames: "[name]-[hash]",
  bundle: true,
  // Names of shared files follow from the paths of their parts, which must not depend on where a link leads.
  preserveSymlinks: true,
  splitting: !task.apart,
  format: "esm",
  target: "esnext",
  charset: "utf8",
  minify: !task.legible,
  define: task.define,
  plugins: [beside, made],
  metafile: true,
  logLevel: "silent",
};

/** @typedef {{loads: Record<string, string[]>, inputs: string[], mistakes: object[]}} Report */

const report = await build(options).then((/** @type {any} */ { metafile }) => summarised(metafile), failed);
process.stdout.write(JSON.stringify(report));

/**
 * @param {import("esbuild").Metafile} metafile
 * @returns {Report}
 */
function summarised({ inputs, outputs }) {
  /** @param {string} path */
  const named = (path) => relative(task.out, `${task.root}/${path}`);
  /** @param {string} path */
  const withImports = (path, found = new Set()) => {
    if (found.has(path)) return found;
    found.add(path);
    for (const { kind, path: next, external } of outputs[path].imports) {
      if (kind === "import-statement" && !external) withImports(next, found);
    }
    return found;
  };
  const entries = Object.keys(outputs).filter((path) => outputs[path].entryPoint && basename(path, ".mjs") in task.entries);
  const loads = Object.fromEntries(entries.map((path) => [basename(path, ".mjs"), [...withImports(path)].map(named)]));
  return { loads, inputs: Object.keys(inputs), mistakes: [] };
}

/**
 * @param {any} error
 * @returns {Report}
 */
function failed(error) {
  if (!error.errors) throw error;
  const mistakes = error.errors.map((/** @type {any} */ { text, location }) => ({
    file: location?.file ?? "", line: location?.line ?? 0, column: (location?.column ?? -1) + 1, text,
  }));
  return { loads: {}, inputs: [], mistakes };
}

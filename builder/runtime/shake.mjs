// Removes from Pyodide's script what neither the script, its loader nor the WebAssembly file uses.

const HEAD = "async function _createPyodideModule(moduleArg={}){";
const TAIL = "return moduleRtn}export default _createPyodideModule;";
// While the function's body is a module, it imports the function's argument from here.
const ARGUMENT = "module-argument";

/**
 * Return a smaller script. The whole script is one function, inside which a bundler removes nothing. So turn its body into
 * a module, let the bundler remove unused code, and turn it into a function again. `others` are texts that may use names
 * of the script.
 * @param {string} script
 * @param {string[]} others
 * @param {typeof import("esbuild")} esbuild
 */
export async function shaken(script, others, { build, transform }) {
  const body = unpublished(withoutLocalEval(bodyOf(script)), others);
  const made = await build({
    stdin: { contents: `import{moduleArg}from"${ARGUMENT}";${body};export{moduleRtn}`, loader: "js" },
    bundle: true, treeShaking: true, external: ["node:*", "ws", ARGUMENT], platform: "node",
    format: "esm", target: "esnext", charset: "utf8", write: false, logLevel: "silent",
  });
  const text = made.outputFiles[0].text;
  const inner = cutOut(cutOut(text, `import { moduleArg } from "${ARGUMENT}";`), "export {\n  moduleRtn\n};");
  const whole = `export default async function(moduleArg={}){${inner}\nreturn moduleRtn}`;
  return (await transform(whole, { minify: true, format: "esm", target: "esnext", charset: "utf8" })).code;
}

/** @param {string} script */
function bodyOf(script) {
  const text = script.trim();
  if (!text.startsWith(HEAD) || !text.endsWith(TAIL)) throw new Error("pyodide.asm.mjs: has an unexpected form");
  return text.slice(HEAD.length, -TAIL.length);
}

/**
 * Make local eval global. Code in a local eval may use every name around it, so the bundler could remove nothing. Only
 * libraries that are loaded later have such code, and we load none.
 * @param {string} text
 */
function withoutLocalEval(text) {
  return text.replace(/(?<![\w$.])eval\(/g, "(0,eval)(");
}

/**
 * Remove exports to the module object (`Module["name"]=name`) that nothing uses.
 * @param {string} text
 * @param {string[]} others
 */
function unpublished(text, others) {
  const sets = /(?<=[;}\n])Module(?:\.([\w$]+)|\["([\w$]+)"\])=([\w$]+);/g;
  const bare = text.replace(sets, "");
  const asked = new Set([bare, ...others].flatMap((each) => [...each.matchAll(/(?:\.|["'`])([\w$]+)/g)].map(([, name]) => name)));
  return text.replace(sets, (all, dotted, quoted, value) => ((dotted ?? quoted) === value && !asked.has(value) ? "" : all));
}

/**
 * @param {string} text
 * @param {string} piece
 */
function cutOut(text, piece) {
  const around = text.split(piece);
  if (around.length !== 2) throw new Error(`pyodide.asm.mjs: there is not one "${piece}"`);
  return around.join("");
}

// Takes from Pyodide's script what nothing in it, in its loader or in the WebAssembly file asks for.

const HEAD = "async function _createPyodideModule(moduleArg={}){";
const TAIL = "return moduleRtn}export default _createPyodideModule;";
// The function's argument comes from here while its body is a module of its own.
const GIVEN = "given-module-argument";

/**
 * Return the script smaller. All of it stands in one function, in which a bundler leaves everything; so its body is made a module,
 * what is unused falls away, and it is made a function again. `others` are the texts that may ask the script for something by name.
 */
export async function shaken(script, others, { build, transform }) {
  const body = unpublished(withoutLocalEval(bodyOf(script)), others);
  const made = await build({
    stdin: { contents: `import{moduleArg}from"${GIVEN}";${body};export{moduleRtn}`, loader: "js" },
    bundle: true, treeShaking: true, external: ["node:*", "ws", GIVEN], platform: "node",
    format: "esm", target: "esnext", charset: "utf8", write: false, logLevel: "silent",
  });
  const text = made.outputFiles[0].text;
  const inner = cutOut(cutOut(text, `import { moduleArg } from "${GIVEN}";`), "export {\n  moduleRtn\n};");
  const whole = `export default async function(moduleArg={}){${inner}\nreturn moduleRtn}`;
  return (await transform(whole, { minify: true, format: "esm", target: "esnext", charset: "utf8" })).code;
}

function bodyOf(script) {
  const text = script.trim();
  if (!text.startsWith(HEAD) || !text.endsWith(TAIL)) throw new Error("pyodide.asm.mjs: is of another form than expected");
  return text.slice(HEAD.length, -TAIL.length);
}

/** What a text evaluates may use every name around it, so nothing could be left out. Only libraries that are loaded later bring such texts. */
function withoutLocalEval(text) {
  return text.replace(/(?<![\w$.])eval\(/g, "(0,eval)(");
}

/** The script without those of its functions set on its module that nobody takes from there: `Module["name"]=name`. */
function unpublished(text, others) {
  const sets = /(?<=[;}\n])Module(?:\.([\w$]+)|\["([\w$]+)"\])=([\w$]+);/g;
  const bare = text.replace(sets, "");
  const asked = new Set([bare, ...others].flatMap((each) => [...each.matchAll(/(?:\.|["'`])([\w$]+)/g)].map(([, name]) => name)));
  return text.replace(sets, (all, dotted, quoted, value) => ((dotted ?? quoted) === value && !asked.has(value) ? "" : all));
}

function cutOut(text, piece) {
  const around = text.split(piece);
  if (around.length !== 2) throw new Error(`pyodide.asm.mjs: there is not one "${piece}"`);
  return around.join("");
}

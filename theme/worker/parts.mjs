// The parts of our packages: what a calculator needs is fetched with its page, or when it is asked; what requests about jobs need, with the first of them.
// Written by builder/runtime/pack.py: u32 length of the head, the head (JSON, [[path, bytes], ...]), then the files.

// The same as in builder/runtime: the snapshot refers to our modules by this path.
export const PLACE = "/lib/ours";
// Modules of Python's library that came in a part, in the folder LIBRARY of builder/stage_parts.py. They are to be found
// before the library itself, which would be fetched as a whole; those of packages that are imported already, too.
const PLACED_LIBRARY = `${PLACE}/library`;
const FIND_PLACED = `
import os, sys
if "${PLACED_LIBRARY}" not in sys.path:
    sys.path.insert(0, "${PLACED_LIBRARY}")
for name in os.listdir("${PLACED_LIBRARY}"):
    path, place = getattr(sys.modules.get(name), "__path__", None), f"${PLACED_LIBRARY}/{name}"
    if path is not None and place not in path:
        path.insert(0, place)
`;
// How much of a file is looked at to see whether it may be an SVG, in bytes.
const LOOKED_AT = 4096;
// How fonts begin, those in WOFF2 files last.
const WOFF2 = "wOF2";
const FONTS = ["\0\x01\0\0", "true", "OTTO", "wOFF", WOFF2];

/**
 * Write the files of a part where Python looks for them. They stay views of `part`, a Uint8Array.
 * @param {any} FS
 * @param {Uint8Array} part
 */
export function placePart(FS, part) {
  const length = new DataView(part.buffer, part.byteOffset, part.byteLength).getUint32(0, true);
  let at = 4 + length;
  const made = new Set();
  for (const [path, size] of JSON.parse(new TextDecoder().decode(part.subarray(4, at)))) {
    const folder = `${PLACE}/${path.slice(0, path.lastIndexOf("/"))}`;
    if (!made.has(folder)) FS.mkdirTree(folder);
    made.add(folder);
    FS.writeFile(`${PLACE}/${path}`, part.subarray(at, at + size), { canOwn: true });
    at += size;
  }
}

/** The parts of the calculators, each fetched once. */
export class Parts {
  #site;
  #config;
  #fetching = new Map();
  #placed = new Set();
  #decodes = false;

  /**
   * `site` fetches files; `config` comes from build_runtime.
   * @param {import("./boot.mjs").Site} site
   * @param {any} config
   */
  constructor(site, config) {
    this.#site = site;
    this.#config = config;
  }

  /**
   * The parts that a request needs, by the names under which the builder lists them.
   * @param {string} does
   * @param {string} [calculator]
   * @param {ArrayBuffer[]} [files]
   * @returns {string[]}
   */
  neededFor(does, calculator = "", files = []) {
    const drawings = files.some(mayBeDrawing) ? ["svg"] : [];
    const fonts = files.some((file) => FONTS.includes(beginning(file))) ? ["fonts"] : [];
    const { requests, calculators, used } = this.#config;
    const own = calculators[calculator];
    return [...(requests[does] ?? []), ...(own ? [own] : []), ...(used[calculator] ?? []), ...drawings, ...fonts];
  }

  /**
   * Start to fetch what a calculator needs.
   * @param {string} [calculator]
   */
  expect(calculator) {
    for (const path of this.#missing(...this.neededFor("answer", calculator))) this.#fetched(path).catch(() => {}); // Handled when the part is needed.
  }

  /**
   * Load all that calculators, or requests, need into `python`. Rejects if that fails; the next call tries again.
   * @param {any} python
   * @param {...string} names
   */
  async load(python, ...names) {
    const missing = this.#missing(...names);
    if (!missing.length) return;
    const parts = await Promise.all(missing.map((path) => this.#fetched(path)));
    this.#place(python, missing, parts);
  }

  /**
   * Load the decoder of WOFF2 fonts into `python` if one is among the files of a request.
   * @param {any} python
   * @param {ArrayBuffer[]} files
   */
  async loadDecoder(python, files) {
    if (this.#decodes || !files.some((file) => beginning(file) === WOFF2)) return;
    const { brotli, brotliWasm } = this.#config.files;
    const [{ decoder }, wasm] = await Promise.all([import(this.#site.address(brotli)), this.#site.unpacked(brotliWasm)]);
    const sys = python.pyimport("sys");
    const { modules } = sys;
    modules.set("page_brotli", decoder(wasm)); // Kept for the life of the worker.
    modules.destroy();
    sys.destroy();
    this.#decodes = true;
  }

  /**
   * Let Python fetch modules of ours on import. The worker loads in advance what a calculator needs, so this is only for
   * modules whose names are composed at run time, which the builder cannot find in the sources, and for late ones whose
   * need does not show before.
   * @param {any} python
   */
  watch(python) {
    const machinery = python.pyimport("importlib.machinery");
    const finder = machinery.PathFinder.copy(); // Kept for the life of the worker.
    machinery.destroy();
    const ours = ["calculators", ...this.#config.include];
    /**
     * @param {string} name
     * @param {unknown} path
     */
    const find_spec = (name, path) => {
      const [top, below] = name.split(".");
      if (!ours.includes(top)) return undefined;
      const { late, stages, parts } = this.#config;
      // A module of a shared package may be in any part.
      const missing = this.#missing(...(name in late ? [late[name]] : (stages[below] ?? Object.keys(parts))));
      if (!missing.length) return undefined;
      this.#place(python, missing, missing.map((each) => unpackedAtOnce(python, this.#site.readAtOnce(each))));
      return finder.find_spec(name, path);
    };
    const sys = python.pyimport("sys");
    sys.meta_path.append({ find_spec });
    sys.destroy();
  }

  /** @param {...string} names */
  #missing(...names) {
    const paths = new Set(names.flatMap((name) => this.#config.parts[name] ?? []));
    return [...paths].filter((path) => !this.#placed.has(path));
  }

  /** @param {string} path */
  #fetched(path) {
    if (!this.#fetching.has(path)) {
      const fetching = this.#site.unpacked(path);
      fetching.catch(() => this.#fetching.delete(path));
      this.#fetching.set(path, fetching);
    }
    return this.#fetching.get(path);
  }

  /**
   * @param {any} python
   * @param {string[]} paths
   * @param {Uint8Array[]} parts
   */
  #place(python, paths, parts) {
    paths.forEach((path, at) => {
      if (this.#placed.has(path)) return; // A request that was stopped meanwhile has loaded it too.
      placePart(python.FS, parts[at]);
      this.#placed.add(path);
      this.#fetching.delete(path);
    });
    if (python.FS.analyzePath(PLACED_LIBRARY).exists) python.runPython(FIND_PLACED);
    const catalogue = python.pyimport("calculators.catalogue");
    catalogue.refresh();
    catalogue.destroy();
  }
}

/**
 * The first four bytes of a file as text.
 * @param {ArrayBuffer} file
 */
function beginning(file) {
  return new TextDecoder("latin1").decode(new Uint8Array(file, 0, Math.min(file.byteLength, 4)));
}

/**
 * Whether a file may be an SVG: a tag of that name is near its beginning, or it is packed. Python reads it properly.
 * @param {ArrayBuffer} file
 */
function mayBeDrawing(file) {
  const head = new Uint8Array(file, 0, Math.min(file.byteLength, LOOKED_AT));
  return (head[0] === 0x1f && head[1] === 0x8b) || /<(\w+:)?svg[\s>/]/.test(new TextDecoder("latin1").decode(head));
}

/**
 * Unpack with Python's zlib, since the browser's DecompressionStream is not synchronous.
 * @param {any} python
 * @param {Uint8Array} packed
 */
function unpackedAtOnce(python, packed) {
  const held = [python.pyimport("zlib"), python.toPy(packed)];
  const [zlib, compressed] = held;
  try {
    const made = zlib.decompress(compressed, 31); // 31: gzip format.
    held.push(made);
    return made.toJs();
  } finally {
    for (const each of held) each.destroy();
  }
}

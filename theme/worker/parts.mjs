// The parts of our packages: what the calculators of a stage need comes with a page of that stage, or when one of them is asked.
// Written by builder/runtime/pack.py: u32 length of the head, the head (JSON, [[path, bytes], ...]), then the files.

// As in builder/runtime: the snapshot knows our modules by this place.
export const PLACE = "/lib/ours";
// Wheels of libraries, which Python imports from as they are.
const LIBRARIES = "/lib/libraries";

/** Write the files of a part (Uint8Array, which stays their memory) to where Python looks for them. */
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

/** The parts of the calculators' stages, each fetched once. */
export class Parts {
  #site;
  #config;
  #coming = new Map();
  #placed = new Set();
  #libraries = new Set();

  /** `site` fetches; `config` is the answer of build_runtime. */
  constructor(site, config) {
    this.#site = site;
    this.#config = config;
  }

  /** The stage of a calculator; undefined for one that is not known. */
  stageOf(calculator) {
    return this.#config.stages[calculator];
  }

  /** Begin to fetch what a stage needs. */
  expect(stage) {
    for (const path of this.#missing(stage)) this.#fetched(path).catch(() => {}); // Looked at when it is asked for.
  }

  /** Have all that a stage needs, so that `python` finds it. Rejects when it does not come; the next call fetches it again. */
  async load(python, stage) {
    const missing = this.#missing(stage);
    if (!missing.length) return;
    const came = await Promise.all(missing.map((path) => this.#fetched(path)));
    this.#place(python, missing, came);
  }

  /**
   * Have the libraries that a calculator needs, so that `python` finds them. Pyodide's own way would fetch the whole of Python's
   * library first, for what it unpacks and looks up with.
   */
  async loadLibraries(python, calculator) {
    const { needs, folder, lock } = this.#config.packages;
    const missing = (needs[calculator] ?? []).filter((name) => !this.#libraries.has(name));
    await Promise.all(missing.map(async (name) => {
      const wheel = lock.packages[name].file_name;
      const bytes = new Uint8Array(await (await this.#site.fetched(folder + wheel)).arrayBuffer());
      if (this.#libraries.has(name)) return; // A request that was stopped meanwhile waited for it as well.
      python.FS.mkdirTree(LIBRARIES);
      python.FS.writeFile(`${LIBRARIES}/${wheel}`, bytes, { canOwn: true });
      const sys = python.pyimport("sys");
      sys.path.append(`${LIBRARIES}/${wheel}`);
      sys.destroy();
      this.#libraries.add(name);
    }));
  }

  /**
   * Let Python itself ask for a module of ours that has not come. The worker loads what a calculator needs before it
   * asks, so this is for a module that is imported by a name made up while it runs, which no source shows.
   */
  watch(python) {
    const machinery = python.pyimport("importlib.machinery");
    const finder = machinery.PathFinder.copy(); // Held for the life of the worker.
    machinery.destroy();
    const ours = ["calculators", ...this.#config.include];
    const find_spec = (name, path) => {
      const [top, below] = name.split(".");
      if (!ours.includes(top)) return undefined;
      // A module of a package that several stages share may be in any part.
      const missing = this.#missing(...(below in this.#config.parts ? [below] : Object.keys(this.#config.parts)));
      if (!missing.length) return undefined;
      this.#place(python, missing, missing.map((each) => unpackedAtOnce(python, this.#site.readAtOnce(each))));
      return finder.find_spec(name, path);
    };
    const sys = python.pyimport("sys");
    sys.meta_path.append({ find_spec });
    sys.destroy();
  }

  #missing(...stages) {
    const paths = new Set(stages.flatMap((stage) => this.#config.parts[stage] ?? []));
    return [...paths].filter((path) => !this.#placed.has(path));
  }

  #fetched(path) {
    if (!this.#coming.has(path)) {
      const coming = this.#site.unpacked(path);
      coming.catch(() => this.#coming.delete(path));
      this.#coming.set(path, coming);
    }
    return this.#coming.get(path);
  }

  #place(python, paths, parts) {
    paths.forEach((path, at) => {
      if (this.#placed.has(path)) return; // A request that was stopped meanwhile waited for it as well.
      placePart(python.FS, parts[at]);
      this.#placed.add(path);
      this.#coming.delete(path);
    });
    const catalogue = python.pyimport("calculators.catalogue");
    catalogue.refresh();
    catalogue.destroy();
  }
}

/** Unpack with Python's own zlib: the browser's way would have to be waited for. */
function unpackedAtOnce(python, packed) {
  const held = [python.pyimport("zlib"), python.toPy(packed)];
  const [zlib, given] = held;
  try {
    const made = zlib.decompress(given, 31); // 31: in gzip's form.
    held.push(made);
    return made.toJs();
  } finally {
    for (const each of held) each.destroy();
  }
}

// Starts Python in the worker: from the memory snapshot, or without it from Python's library ("plain").
import { restoring, unpackMemory } from "./memory.mjs";
import { PLACE, Parts, placePart } from "./parts.mjs";

const WASM = "pyodide.asm.wasm";
const LIBRARY = "library.zip";

/**
 * Start to fetch the runtime and return {parts, started}. `started` is a promise of {python, way}, with way "snapshot" or
 * "plain"; it rejects if neither way starts Python. `parts` fetches what calculators need.
 *
 * `config` comes from build_runtime, and `base` is the address of the site's root. `onBytes(received, expected)` is
 * called with additional numbers of bytes, `onUnfetched(error)` if Python cannot import what was not fetched before.
 * Throws if the browser cannot run it.
 * @param {any} config
 * @param {string} base
 * @param {{plain: boolean, onBytes: (received: number, expected?: number) => void, onUnfetched: (error: unknown) => void}} options
 */
export function boot(config, base, { plain, onBytes, onUnfetched }) {
  if (typeof DecompressionStream === "undefined") throw new Error("this browser has no DecompressionStream");
  const site = new Site(config, base, onBytes, onUnfetched);
  const parts = new Parts(site, config);
  const started = startEitherWay(site, config, plain).then((booted) => {
    parts.watch(booted.python);
    return booted;
  });
  return { parts, started };
}

/**
 * @param {Site} site
 * @param {any} config
 * @param {boolean} plain
 */
async function startEitherWay(site, config, plain) {
  if (config.files.snapshot && !plain) {
    try {
      return await startFromSnapshot(site);
    } catch (error) {
      if (site.wasmFault) throw error; // The plain way needs the same file.
      console.warn("The memory snapshot could not be used; Python is started without it.", error);
    }
  }
  return await startPlainly(site);
}

/** The files of the runtime, each fetched once, as Pyodide asks for them. */
export class Site {
  wasmFault = /** @type {unknown} */ (null);

  /**
   * @param {any} config
   * @param {string} base
   * @param {(received: number, expected?: number) => void} onBytes
   * @param {(error: unknown) => void} onUnfetched
   */
  constructor(config, base, onBytes, onUnfetched) {
    this.config = config;
    this.onBytes = onBytes;
    this.onUnfetched = onUnfetched;
    this.folder = new URL("engine/", base).href;
    this.address = (/** @type {string} */ path) => new URL(path, base).href;
    // Compiles while it downloads, and while the scripts download.
    this.wasm = WebAssembly.compileStreaming(this.#unpacked(config.files.wasm, "application/wasm"));
    this.wasm.catch(() => {}); // Handled when Pyodide asks for it.
    this.modules = Promise.all([import(this.address(config.files.pyodide)), import(this.address(config.files.module))]);
  }

  /** The exports of pyodide.mjs and pyodide.asm.mjs: {loadPyodide, createModule}. */
  async pyodide() {
    const [{ loadPyodide }, { default: createModule }] = await this.modules;
    return { loadPyodide, createModule };
  }

  /**
   * The uncompressed bytes of a gzipped file.
   * @param {string} path
   */
  async unpacked(path) {
    const unpacked = await this.#unpacked(path, "application/octet-stream");
    return new Uint8Array(await unpacked.arrayBuffer());
  }

  /**
   * Call loadPyodide with the files that are already being fetched. Rejects if the WebAssembly file cannot be used;
   * loadPyodide itself would never settle then.
   * @param {(options: object) => Promise<any>} loadPyodide
   * @param {object} options
   * @param {() => Promise<Response>} library
   */
  async load(loadPyodide, options, library) {
    const { fetch, WebAssembly } = globalThis;
    const { instantiateStreaming } = WebAssembly;
    const answers = { [this.folder + WASM]: async () => new Response(), [this.folder + LIBRARY]: library };
    globalThis.fetch = (asked, ...more) => {
      const answer = answers[asked instanceof Request ? asked.url : String(asked)];
      return answer ? answer() : fetch(asked, ...more);
    };
    try {
      return await new Promise((resolve, reject) => {
        /** @param {unknown} error */
        const fail = (error) => {
          this.wasmFault = error;
          reject(error);
        };
        WebAssembly.instantiateStreaming = (_, imports) => {
          const made = this.wasm.then(async (module) => ({ module, instance: await WebAssembly.instantiate(module, imports) }));
          made.catch(fail);
          return made;
        };
        this.wasm.catch(fail);
        loadPyodide({
          indexURL: this.folder,
          stdLibURL: this.folder + LIBRARY,
          lockFileContents: this.config.lock,
          env: { PYTHONHASHSEED: "0" },
          ...options,
        }).then(resolve, reject);
      });
    } finally {
      globalThis.fetch = fetch;
      WebAssembly.instantiateStreaming = instantiateStreaming;
    }
  }

  /** @param {string} path */
  async fetched(path) {
    this.onBytes(0, this.config.sizes?.[path] ?? 0);
    const response = await fetch(this.address(path));
    if (!response.ok) throw new Error(`${path}: the server answered ${response.status}`);
    const counted = new TransformStream({
      transform: (chunk, controller) => {
        this.onBytes(chunk.byteLength);
        controller.enqueue(chunk);
      },
    });
    return new Response(response.body?.pipeThrough(counted));
  }

  /**
   * @param {string} path
   * @param {string} type
   */
  async #unpacked(path, type) {
    const packed = await this.fetched(path);
    return new Response(packed.body?.pipeThrough(new DecompressionStream("gzip")), { headers: { "Content-Type": type } });
  }

  /**
   * Put a placeholder where Python expects its library. The library is fetched when something is first read from it.
   * @param {any} module
   */
  placeLibrary(module) {
    const name = `python${module.API.pyVersionTuple.slice(0, 2).join("")}.zip`;
    const node = module.FS.lookupPath(`/lib/${name}`).node;
    const { librarySize, files } = this.config;
    let bytes;
    Object.defineProperties(node, {
      usedBytes: { value: librarySize },
      contents: { get: () => (bytes ??= this.readAtOnce(files.library, librarySize)) },
    });
  }

  /**
   * Fetch a file synchronously, since Python's import cannot wait for a promise. `size` is its length, if known.
   * @param {string} path
   * @param {number | null} size
   */
  readAtOnce(path, size = null) {
    const request = new XMLHttpRequest();
    request.open("GET", this.address(path), false);
    request.responseType = "arraybuffer";
    try {
      request.send();
      const bytes = new Uint8Array(request.response ?? new ArrayBuffer(0));
      if (request.status !== 200 || (size !== null && bytes.length !== size)) throw new Error(`${path}: could not be read`);
      return bytes;
    } catch (error) {
      this.onUnfetched(error);
      throw error;
    }
  }
}

/** @param {Site} site */
async function startFromSnapshot(site) {
  const snapshot = site.unpacked(site.config.files.snapshot).then(unpackMemory);
  snapshot.catch(() => {}); // Handled once Pyodide's module exists.
  const { loadPyodide, createModule } = await site.pyodide();
  // The start-up reads nothing from the library: everything it needs is in the snapshot, the engine included.
  const options = restoring(createModule, snapshot, (module) => site.placeLibrary(module));
  const python = await site.load(loadPyodide, options, async () => new Response(new Uint8Array(0)));
  // Without a new seed, every reader would get the random numbers of the snapshot.
  python.runPython("import sys; 'random' in sys.modules and sys.modules['random'].seed()");
  return { python, way: "snapshot" };
}

/** @param {Site} site */
async function startPlainly(site) {
  const library = site.fetched(site.config.files.library);
  library.catch(() => {}); // Handled when Pyodide asks for it.
  const engine = site.unpacked(site.config.files.engine);
  engine.catch(() => {}); // Handled once Python has started.
  const { loadPyodide, createModule } = await site.pyodide();
  const python = await site.load(loadPyodide, { createPyodideModule: createModule }, () => library);
  placePart(python.FS, await engine);
  const sys = python.pyimport("sys");
  sys.path.append(PLACE);
  sys.destroy();
  const catalogue = python.pyimport("calculators.catalogue");
  for (const name of site.config.include) catalogue.include(name);
  catalogue.destroy();
  return { python, way: "plain" };
}

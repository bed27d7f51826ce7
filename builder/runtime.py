"""The Python that the page runs: Pyodide's core, what of its library is used, and our packages in parts.

Two ways to start are packed. The quick one restores the memory of a Python that has what every request
needs imported already (made here in node); the plain one boots Python and imports. Both run the same
files, and the page falls back to the plain one by itself. What only calculators need is in no memory, since a
module weighs three times as much there: it comes in parts, those of its own stage with a page, others when a
calculator of theirs is asked. ``stage_parts`` says what is in which.
"""

from __future__ import annotations

import hashlib
import importlib.metadata
import json
import shutil
import tempfile
import zipfile
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any

import deflate

from builder import stage_parts
from builder.bundle import ESBUILD, bundle
from builder.left_out import LEFT_OUT
from builder.node import SCRIPTS, RuntimeFault, node_version, run_script
from builder.packages import empty_lock, write_modules, write_sources
from builder.packed import OWN, Inputs, Library, Packed, Split, machine, pack
from builder.stored import Stored
from calculators import catalogue, tables
from calculators.declare import Calculator
from calculators.job_requests import MODULE as JOBS
from calculators.job_requests import PART, REQUESTS

#: In the folder of an engine: what it was made of, its files and its configuration.
RECORD = ".inputs.json"
#: The most thorough level of deflate's library: 3 % smaller than the best of zlib, in less than twice its time.
_HARDEST = 12
#: The only file that names the others: pages refer to it alone, so they do not change when the others do.
_WORKER = "worker.mjs"
#: The modules that every request needs. A calculator is imported when it is first asked.
_ENGINE = ("calculators.answer", "calculators.catalogue")
#: The parts of modules that are large and seldom needed: functions import them. The worker fetches a part when one of
#: its module is imported, and "svg" before that if it finds a drawing among the files of a request.
LATE = {
    "calculators.files.outline_reader": "svg",
    "calculators.shapes.outer_edges": "outlines",
    "calculators.lettering.drawing": "letters",
    "calculators.lettering.ship_drawing": "letters",
    "calculators.lettering.ship_sentences": "letters",
    "calculators.tables.lettering_rows": "letters",
    "calculators.lettering.fonts.drawing": "fonts",
    "calculators.lettering.fonts.work": "fonts",
    "calculators.cut.traced": "tracing",
    "calculators.sheets.pixel_sheet": "raster",
}
#: The part of each calculator that needs far more than the others of its stage, in place of the stage's.
APART = {"underlay": "white", "cut-file": "cutting", "sheet": "layout"}
#: The library that a late part brings with it: those of its modules that are imported with the modules of the part, and
#: what these import of Python's library beyond what every page has.
LIBRARIES = {"fonts": "fonttools"}
#: What has always come before a part: the stage that alone uses it, or the late part that does.
OWNERS = {
    "outlines": "artwork",
    "letters": "size",
    "fonts": "letters",
    "white": "underlay",
    "tracing": "layout",
    "raster": "layout",
}
#: Late parts that a calculator uses whatever it is asked: the worker fetches them before, and Python does not wait.
USED = {
    "placement-template": ["outlines"],
    "lettering": ["letters"],
    "load-line": ["letters"],
}
#: Below the root: what steps have made, for all builds of a checkout.
_STORED = Path("build", "packed")
#: Modules of Pyodide's own that are replaced by our files of the same path.
_STAND_INS = SCRIPTS / "stand_ins"


def build_runtime(
    root: Path, out_dir: Path, wheel: Path, include: Sequence[Path], snapshot: bool = True
) -> dict[str, Any]:
    """Write the runtime below ``out_dir`` and return where its parts are: the
    worker for the page, the rest for the worker.

    ``wheel`` holds ``calculators`` with its tables; ``include`` names folders of further packages of
    calculators. All paths in the answer start at the site's root, where ``out_dir`` becomes
    ``engine/``. Nothing is packed again while no input has changed: an engine with a snapshot also serves a build that
    needs none. Raises ``RuntimeFault``.
    """
    pyodide = root / "node_modules" / "pyodide"
    if not (pyodide / "pyodide.asm.wasm").is_file():
        raise RuntimeFault(f"{pyodide}: is missing (run make setup)")
    needs = needed_packages()
    inputs = _digest(root, pyodide, wheel, include, needs)
    record = out_dir / RECORD
    if record.is_file():
        recorded = json.loads(record.read_text("utf-8"))
        config: dict[str, Any] = recorded["config"]
        has_all = config["files"]["snapshot"] or not snapshot
        if recorded["inputs"] == inputs and has_all and all((out_dir / name).is_file() for name in recorded["files"]):
            return config

    shutil.rmtree(out_dir, ignore_errors=True)
    out_dir.mkdir(parents=True)
    with tempfile.TemporaryDirectory(dir=out_dir.parent) as scratch:
        config = _pack(root, Path(scratch), out_dir, pyodide, wheel, include, snapshot)
    files = sorted(path.relative_to(out_dir).as_posix() for path in out_dir.rglob("*") if path.is_file())
    record.write_text(json.dumps({"inputs": inputs, "files": files, "config": config}, indent=1), "utf-8")
    return config


def needed_packages() -> dict[str, list[str]]:
    """Return the packages that calculators load for themselves, by id of the calculator."""
    return {id: list(each.needs) for id, each in catalogue.every().items() if getattr(each, "needs", ())}


def parts_of_modules() -> dict[str, str]:
    """Return the part of each calculator by the name of its module: that of its stage, or one of its own."""
    return {module: APART.get(calculator.id, calculator.stage) for module, calculator in catalogue.modules().items()}


def _parts_by_stage() -> dict[str, list[str]]:
    """Return the parts in which modules of each stage's package may be."""
    by_stage: dict[str, list[str]] = {}
    for id, each in catalogue.every().items():
        parts = by_stage.setdefault(each.stage, [])
        if (part := APART.get(id, each.stage)) not in parts:
            parts.append(part)
    return by_stage


def _pack(
    root: Path,
    scratch: Path,
    out: Path,
    pyodide: Path,
    wheel: Path,
    include: Sequence[Path],
    snapshot: bool,
) -> dict[str, Any]:
    stored = Stored(root / _STORED)
    sources, trimmed, ours = (scratch / name for name in ("sources.zip", "pyodide", "ours"))
    _unpack(wheel, include, ours)
    _write_sources(pyodide / "python_stdlib.zip", sources)
    own_needs, every_need = _write_needed(ours)
    run_script("trim.mjs", scratch, {"pyodide": str(pyodide), "esbuild": str(root / ESBUILD), "out": str(trimmed)})
    names = [folder.name for folder in include]
    inputs = Inputs(
        pyodide, sources, ours, names, *_asked(ours), own_needs, every_need, list(LATE), _libraries(scratch)
    )
    packed = pack(scratch, inputs, _split(ours, [OWN, *names, *every_need]), stored)
    keep = partial(_keep_packed, out, stored)
    packed_paths = {part: keep(part, content) for part, content in packed.parts.items()}
    library = _keep(out, "library.zip", packed.library)
    files: dict[str, Any] = {
        "pyodide": _keep(out, "pyodide.mjs", (pyodide / "pyodide.mjs").read_bytes()),
        "module": _keep(out, "pyodide.asm.mjs", (trimmed / "pyodide.asm.mjs").read_bytes()),
        "wasm": keep("wasm", (trimmed / "pyodide.asm.wasm").read_bytes()),
        "library": library,
        "engine": packed_paths[stage_parts.ENGINE],
        "snapshot": None,
        **_brotli(root, scratch, out, keep),
    }
    if snapshot:
        files["snapshot"] = keep("snapshot", _memory(root, scratch, names, packed, trimmed, stored))
    stored.tidy()
    config = {
        "files": files,
        "librarySize": len(packed.library),
        "sizes": _sizes(out),
        "include": names,
        "parts": _files_by_part(packed_paths),
        "calculators": {id: APART.get(id, each.stage) for id, each in catalogue.every().items()},
        "stages": _parts_by_stage(),
        "late": LATE,
        "used": USED,
        "requests": {request: [PART, *stages] for request, stages in REQUESTS.items()},
        "lock": empty_lock(pyodide),
    }
    _write_worker(root, scratch, out, config)
    return {"worker": f"engine/{_WORKER}", **config}


def _unpack(wheel: Path, include: Sequence[Path], out: Path) -> None:
    """Write all our packages below ``out``."""
    zipfile.ZipFile(wheel).extractall(out)
    for folder in include:
        shutil.copytree(folder, out / folder.name, ignore=shutil.ignore_patterns("__pycache__"))


def _asked(ours: Path) -> tuple[dict[str, list[str]], list[str]]:
    """Return our calculators' ids with the files that an answer of each depends on, and the ids of the others."""
    modules = {name.rpartition(".")[2]: name for name in catalogue.modules()}
    own = {id: modules[id.replace("-", "_")] for id, each in catalogue.every().items() if _is_ours(each)}
    files = stage_parts.files_behind(ours, [OWN], _ENGINE, own.values(), tables.TABLES)
    return {id: files[module] for id, module in own.items()}, [id for id in catalogue.every() if id not in own]


def _write_needed(ours: Path) -> tuple[list[str], list[str]]:
    """Write the libraries that calculators need beside our packages; return the packages of those that our own need,
    and all.
    """
    every = catalogue.every()
    own = {name for id, names in needed_packages().items() if _is_ours(every[id]) for name in names}
    others = {name for names in needed_packages().values() for name in names} - own
    of_ours = write_modules(sorted(own), ours)
    return of_ours, [*of_ours, *write_modules(sorted(others), ours)]


def _is_ours(calculator: Calculator) -> bool:
    return calculator.compute.__module__.startswith(f"{OWN}.")


def _split(ours: Path, packages: list[str]) -> Split:
    """Return what the sources of ``packages``, ours and the libraries they import, say on where each file belongs."""
    needed = stage_parts.needed_files(ours, packages, _ENGINE, parts_of_modules(), tables.TABLES, LATE, OWNERS)
    return Split(
        {path: sorted(needed[path]) for path in sorted(needed)},
        PART,
        stage_parts.part_alone(ours, packages, _ENGINE, JOBS, tables.TABLES, LATE),
    )


def _sizes(out: Path) -> dict[str, int]:
    """Return the bytes of what a page loads, for its progress bar."""
    packed = (path for path in sorted(out.iterdir()) if path.suffix in (".packed", ".zip"))
    return {f"engine/{path.name}": path.stat().st_size for path in packed}


def _memory(root: Path, scratch: Path, names: Sequence[str], packed: Packed, trimmed: Path, stored: Stored) -> bytes:
    """Return the memory of a started Python with the modules of the engine, from which a page starts."""
    memory, library, parts = (scratch / name for name in ("memory", "library.zip", "parts"))
    library.write_bytes(packed.library)
    parts.mkdir()
    for part, content in packed.parts.items():
        (parts / part).write_bytes(content)
    worker = root / "theme" / "worker"
    task = {"include": names, "engine": packed.engine, "used": packed.used}

    def make() -> bytes:
        places = {"pyodide": trimmed, "library": library, "parts": parts, "worker": worker, "out": memory}
        python = str(SCRIPTS / "prepare.py")
        run_script("snapshot.mjs", scratch, {**task, "python": python, **{name: str(places[name]) for name in places}})
        return memory.read_bytes()

    scripts = [SCRIPTS / "prepare.py", worker / "memory.mjs", worker / "parts.mjs"]
    made_of: list[str | bytes] = [
        *("memory", machine(trimmed, library, "snapshot.mjs"), node_version(), json.dumps(task)),
        *(path.read_bytes() for path in scripts),
        # The other parts are tried with it: their modules only, since they read their data when they are asked.
        *(content for part in sorted(packed.parts) for content in _modules_in(part, packed.parts[part])),
    ]
    return stored.of(made_of, make)


def _modules_in(part: str, content: bytes) -> list[str | bytes]:
    """Return the names of the files in a part, and its modules; all of the engine."""
    if part == stage_parts.ENGINE:
        return [part, content]
    length = int.from_bytes(content[:4], "little")
    at, found = 4 + length, list[str | bytes]([part])
    for name, size in json.loads(content[4:at]):
        found += [name, content[at : at + size] if name.endswith(".pyc") else b""]
        at += size
    return found


def _libraries(scratch: Path) -> dict[str, Library]:
    """Return the sources of each library that a late part brings, and which modules import it."""
    return {
        part: Library(
            write_sources(library, scratch / f"{library}.zip"),
            [module for module, each in LATE.items() if each == part],
        )
        for part, library in LIBRARIES.items()
    }


def _brotli(root: Path, scratch: Path, out: Path, keep: Callable[[str, bytes], str]) -> dict[str, str]:
    """Write the decoder for WOFF2 files, which is loaded with the first of them, and return its two paths."""
    bundle(root, {"brotli": root / "theme" / "worker" / "brotli.mjs"}, scratch / "brotli")
    decoder = root / "node_modules" / "brotli-dec-wasm" / "pkg" / "brotli_dec_wasm_bg.wasm"
    return {
        "brotli": _keep(out, "brotli.mjs", (scratch / "brotli" / "brotli.mjs").read_bytes()),
        "brotliWasm": keep("brotli", decoder.read_bytes()),
    }


def _write_worker(root: Path, scratch: Path, out: Path, config: Mapping[str, Any]) -> None:
    # Keep names, since readers see and report the trace of a fault.
    bundle(
        root,
        {"worker": root / "theme" / "worker" / "worker.mjs"},
        scratch / "bundle",
        define={"RUNTIME": config},
        legible=True,
    )
    shutil.copyfile(scratch / "bundle" / "worker.mjs", out / _WORKER)


def _write_sources(theirs: Path, out: Path) -> None:
    """Write the sources of Python's library and of Pyodide's own modules, with our replacements."""
    with zipfile.ZipFile(theirs) as stock, zipfile.ZipFile(out, "w") as archive:
        content = {name: stock.read(name) for name in stock.namelist()}
        for path in sorted(_STAND_INS.rglob("*.py")):
            content[path.relative_to(_STAND_INS).as_posix()] = path.read_bytes()
        for name in sorted(content):
            archive.writestr(zipfile.ZipInfo(name), content[name])


def _files_by_part(paths: Mapping[str, str]) -> dict[str, list[str]]:
    """Return the files of each part. Those of a calculator apart are also what comes before it."""
    by_part: dict[str, list[str]] = {}
    for name, path in paths.items():
        for part in stage_parts.stages_of(name):
            by_part.setdefault(part, []).append(path)
    for part in set(APART.values()) & OWNERS.keys():
        by_part[part] = sorted({*by_part[part], *by_part[OWNERS[part]]})
    return by_part


def _keep(out: Path, name: str, content: bytes) -> str:
    stem, _, ending = name.rpartition(".")
    named = f"{stem}.{hashlib.sha256(content).hexdigest()[:12]}.{ending}"
    (out / named).write_bytes(content)
    return f"engine/{named}"


def _keep_packed(out: Path, stored: Stored, name: str, content: bytes) -> str:
    made_of: list[str | bytes] = ["packed", importlib.metadata.version("deflate"), str(_HARDEST), content]
    packed = stored.of(made_of, lambda: bytes(deflate.gzip_compress(content, _HARDEST)))
    # Hosts neither unpack nor compress files with this ending.
    return _keep(out, f"{name}.packed", packed)


def _digest(root: Path, pyodide: Path, wheel: Path, include: Sequence[Path], needs: Mapping[str, Sequence[str]]) -> str:
    """Return a digest of all that the runtime is made of."""
    versions = {library: importlib.metadata.version(library) for library in ("deflate", *LIBRARIES.values())}
    digest = hashlib.sha256(json.dumps([LEFT_OUT, needs, versions]).encode())
    sources = [
        Path(__file__),
        *sorted(path for path in SCRIPTS.rglob("*") if path.is_file() and path.suffix != ".pyc"),
        *sorted((root / "theme" / "worker").iterdir()),
        pyodide / "package.json",
        root / "node_modules" / "esbuild" / "package.json",
        root / "node_modules" / "brotli-dec-wasm" / "package.json",
        Path(stage_parts.__file__),
        *(Path(__file__).with_name(f"{name}.py") for name in ("bundle", "left_out", "packages", "packed", "node")),
    ]
    for folder in include:
        sources += sorted(path for path in folder.rglob("*") if path.is_file() and path.suffix != ".pyc")
    # A wheel is a zip, so digest the unpacked contents.
    for path in [wheel, *sources]:
        digest.update(path.name.encode() + b"\0" + hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()

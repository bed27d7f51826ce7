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
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import deflate

from builder import stage_parts
from builder.bundle import ESBUILD, bundle
from builder.left_out import LEFT_OUT
from builder.node import SCRIPTS, RuntimeFault, run_script
from builder.packages import write_packages, write_sources
from calculators import catalogue, tables
from calculators.job_requests import MODULE as JOBS
from calculators.job_requests import PART, REQUESTS

_RECORD = ".inputs.json"
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
}
#: The part of each calculator that needs far more than the others of its stage, in place of the stage's.
APART = {"underlay": "white", "cut-file": "cutting", "sheet": "layout"}
#: The library that a late part brings with it: those of its modules that are imported with the modules of the part, and
#: what these import of Python's library beyond what every page has.
LIBRARIES = {"fonts": "fonttools"}
#: What has always come before a part: the stage that alone uses it, or the late part that does.
OWNERS = {"outlines": "artwork", "letters": "size", "fonts": "letters", "white": "underlay"}
#: Late parts that a calculator uses whatever it is asked: the worker fetches them before, and Python does not wait.
USED = {
    "placement-template": ["outlines"],
    "lettering": ["letters"],
    "load-line": ["letters"],
    "sheet": ["svg"],
}
#: The scripts that pack.mjs runs in Pyodide, and what they leave out.
_PACKED_BY = {
    "survey": str(SCRIPTS / "survey.py"),
    "python": str(SCRIPTS / "pack.py"),
    "readyMade": str(SCRIPTS / "ready_made.py"),
    "splitting": stage_parts.__file__,
    "leftOut": list(LEFT_OUT),
}
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
    record = out_dir / _RECORD
    if record.is_file():
        recorded = json.loads(record.read_text("utf-8"))
        config: dict[str, Any] = recorded["config"]
        has_all = config["files"]["snapshot"] or not snapshot
        if recorded["inputs"] == inputs and has_all and all((out_dir / name).is_file() for name in recorded["files"]):
            return config

    shutil.rmtree(out_dir, ignore_errors=True)
    out_dir.mkdir(parents=True)
    with tempfile.TemporaryDirectory(dir=out_dir.parent) as scratch:
        config = _pack(root, Path(scratch), out_dir, pyodide, wheel, include, needs, snapshot)
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
    needs: Mapping[str, Sequence[str]],
    snapshot: bool,
) -> dict[str, Any]:
    names = [folder.name for folder in include]
    sources, trimmed, ours, library, parts = (
        scratch / name for name in ("sources.zip", "pyodide", "ours", "library.zip", "parts")
    )
    _unpack(wheel, include, ours)
    _write_sources(pyodide / "python_stdlib.zip", sources)
    packages = write_packages(out, pyodide, needs)
    run_script("trim.mjs", scratch, {"pyodide": str(pyodide), "esbuild": str(root / ESBUILD), "out": str(trimmed)})
    packed = run_script(
        "pack.mjs",
        scratch,
        {
            "pyodide": str(pyodide),
            "sources": str(sources),
            "wheels": [str(path) for path in sorted((out / "packages").glob("*.whl"))],
            **_PACKED_BY,
            "ours": str(ours),
            **_split(ours, ["calculators", *names]),
            "libraries": _libraries(scratch),
            "library": str(library),
            "parts": str(parts),
        },
    )
    packed_paths = {part: _keep_packed(out, part, (parts / part).read_bytes()) for part in packed["parts"]}
    files: dict[str, Any] = {
        "pyodide": _keep(out, "pyodide.mjs", (pyodide / "pyodide.mjs").read_bytes()),
        "module": _keep(out, "pyodide.asm.mjs", (trimmed / "pyodide.asm.mjs").read_bytes()),
        "wasm": _keep_packed(out, "wasm", (trimmed / "pyodide.asm.wasm").read_bytes()),
        "library": _keep(out, "library.zip", library.read_bytes()),
        "engine": packed_paths[stage_parts.ENGINE],
        "snapshot": None,
        **_brotli(root, scratch, out),
    }
    if snapshot:
        places = {"pyodide": str(trimmed), "library": str(library), "parts": str(parts)}
        files["snapshot"] = _keep_packed(out, "snapshot", _memory(root, scratch, names, packed, places))
    config = {
        "files": files,
        "librarySize": library.stat().st_size,
        "sizes": _sizes(out),
        "include": names,
        "parts": _files_by_part(packed_paths),
        "calculators": {id: APART.get(id, each.stage) for id, each in catalogue.every().items()},
        "stages": _parts_by_stage(),
        "late": LATE,
        "used": USED,
        "requests": {request: [PART, *stages] for request, stages in REQUESTS.items()},
        "packages": packages,
    }
    _write_worker(root, scratch, out, config)
    return {"worker": f"engine/{_WORKER}", **config}


def _unpack(wheel: Path, include: Sequence[Path], out: Path) -> None:
    """Write all our packages below ``out``."""
    zipfile.ZipFile(wheel).extractall(out)
    for folder in include:
        shutil.copytree(folder, out / folder.name, ignore=shutil.ignore_patterns("__pycache__"))


def _split(ours: Path, packages: list[str]) -> dict[str, Any]:
    """Return what the sources of ``packages`` say on where each file of them belongs, for pack.mjs."""
    needed = stage_parts.needed_files(ours, packages, _ENGINE, parts_of_modules(), tables.TABLES, LATE, OWNERS)
    return {
        "packages": packages,
        # In a fixed order: what is compiled before a module shows in its bytes.
        "needed": {path: sorted(needed[path]) for path in sorted(needed)},
        "jobs": PART,
        "forJobs": stage_parts.part_alone(ours, packages, _ENGINE, JOBS, tables.TABLES, LATE),
        "late": list(LATE),
    }


def _sizes(out: Path) -> dict[str, int]:
    """Return the bytes of what a page loads, for its progress bar."""
    packed = (path for path in sorted(out.iterdir()) if path.suffix in (".packed", ".zip"))
    return {f"engine/{path.name}": path.stat().st_size for path in packed}


def _memory(
    root: Path, scratch: Path, names: Sequence[str], packed: Mapping[str, Any], places: Mapping[str, str]
) -> bytes:
    """Return the memory of a started Python with the modules of the engine, from which a page starts."""
    memory = scratch / "memory"
    run_script(
        "snapshot.mjs",
        scratch,
        {
            **places,
            "worker": str(root / "theme" / "worker"),
            "python": str(SCRIPTS / "prepare.py"),
            "include": names,
            "engine": packed["engine"],
            "used": packed["used"],
            "out": str(memory),
        },
    )
    return memory.read_bytes()


def _libraries(scratch: Path) -> dict[str, dict[str, Any]]:
    """Return for pack.mjs the sources of each library that a late part brings, and which modules import it."""
    return {
        part: {
            "sources": str(write_sources(library, scratch / f"{library}.zip")),
            "modules": [module for module, each in LATE.items() if each == part],
        }
        for part, library in LIBRARIES.items()
    }


def _brotli(root: Path, scratch: Path, out: Path) -> dict[str, str]:
    """Write the decoder for WOFF2 files, which is loaded with the first of them, and return its two paths."""
    bundle(root, {"brotli": root / "theme" / "worker" / "brotli.mjs"}, scratch / "brotli")
    decoder = root / "node_modules" / "brotli-dec-wasm" / "pkg" / "brotli_dec_wasm_bg.wasm"
    return {
        "brotli": _keep(out, "brotli.mjs", (scratch / "brotli" / "brotli.mjs").read_bytes()),
        "brotliWasm": _keep_packed(out, "brotli", decoder.read_bytes()),
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


def _keep_packed(out: Path, name: str, content: bytes) -> str:
    # Hosts neither unpack nor compress files with this ending.
    return _keep(out, f"{name}.packed", bytes(deflate.gzip_compress(content, _HARDEST)))


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
        *(Path(__file__).with_name(name) for name in ("bundle.py", "left_out.py", "packages.py")),
    ]
    for folder in include:
        sources += sorted(path for path in folder.rglob("*") if path.is_file() and path.suffix != ".pyc")
    # A wheel is a zip, so digest the unpacked contents.
    for path in [wheel, *sources]:
        digest.update(path.name.encode() + b"\0" + hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()

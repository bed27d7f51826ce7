"""Our packages and Python's library as bytecode for the page, in parts and in a zip.

Pyodide compiles them in node, since bytecode only works in the version of Python that made it. What it surveyed and
compiled before is stored by the digest of its inputs, and it does not even start where all of that is stored.
"""

from __future__ import annotations

import json
import zipfile
from collections.abc import Collection, Iterable, Mapping, Sequence, Set
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import deflate

from builder import stage_parts
from builder.left_out import LEFT_OUT
from builder.node import SCRIPTS, Conversation
from builder.stored import Stored, digest

_SURVEY, _PACK = SCRIPTS / "survey.py", SCRIPTS / "pack.py"
#: How thoroughly a file is packed to find its weight.
_FAIRLY = 9
#: Our packages without those that a build includes.
OWN = "calculators"


@dataclass(frozen=True)
class Library:
    """A library that a late part brings: the zip of its sources, and those of our modules that import it."""

    sources: Path
    modules: Sequence[str]


@dataclass(frozen=True)
class Inputs:
    """What is packed.

    Pyodide's folder, Python's library as a zip of sources, the folder of our packages, the names of those that a
    build includes, our calculators' ids with the files that an answer of each depends on, the ids of the
    included calculators, the packages of libraries in that folder that our calculators need and those that the included
    need too, the modules that functions import when they first need them, and the libraries of late parts.
    """

    pyodide: Path
    sources: Path
    ours: Path
    include: Sequence[str]
    own: Mapping[str, Sequence[str]]
    included: Sequence[str]
    own_needs: Sequence[str]
    needs: Sequence[str]
    late: Sequence[str]
    libraries: Mapping[str, Library]


@dataclass(frozen=True)
class Split:
    """The stages that need each file of ours, the name of the part for jobs, and its files."""

    needed: Mapping[str, Sequence[str]]
    jobs: str
    for_jobs: Sequence[str]


@dataclass(frozen=True)
class Packed:
    """The zip of Python's library, the bytes of each part, the modules of the engine, and the modules of the library
    that calculators use.
    """

    library: bytes
    parts: Mapping[str, bytes]
    engine: Sequence[str]
    used: Sequence[str]


def pack(scratch: Path, inputs: Inputs, split: Split, stored: Stored) -> Packed:
    """Pack ``inputs``, with files between below ``scratch``. Raises ``RuntimeFault``."""
    task = {
        "pyodide": str(inputs.pyodide),
        "sources": str(inputs.sources),
        "ours": str(inputs.ours),
        "archives": [str(each.sources) for each in inputs.libraries.values()],
        "made": str(scratch / "made"),
    }
    with Conversation("pack.mjs", scratch, task) as python:
        return _Packer(python, scratch / "made", inputs, stored).packed(split)


def machine(pyodide: Path, sources: Path, *scripts: str) -> str:
    """Return a digest of what all work in Pyodide depends on: its core, Python's library, and scripts of ours."""
    names = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "pyodide-lock.json")
    core = (pyodide / name for name in names)
    ours = (SCRIPTS / name for name in (*scripts, "task.mjs"))
    return digest(path.read_bytes() for path in (*core, sources, *ours))


@dataclass(frozen=True)
class _Surveyed:
    """The modules that are imported once every calculator has answered, and which of them are of Python's library.

    Then those of the library that only requests about jobs import, those that a late part brings, and by module
    the texts that its dataclasses execute.
    """

    started: Set[str]
    used: Sequence[str]
    for_jobs: Sequence[str]
    brought: Mapping[str, Sequence[str]]
    texts: Mapping[str, Sequence[str]]


class _Packer:
    def __init__(self, python: Conversation, made: Path, inputs: Inputs, stored: Stored) -> None:
        self._python = python
        self._made = made
        self._inputs = inputs
        self._stored = stored
        self._machine = machine(inputs.pyodide, inputs.sources, "pack.mjs")
        self._library = _sources_in(inputs.sources)
        self._surveyed = self._survey()

    def packed(self, split: Split) -> Packed:
        files = self._of_ours([*split.needed, *split.for_jobs])
        weights = {name: len(deflate.deflate_compress(files[_packed_name(name)], _FAIRLY)) for name in split.needed}
        stages = {name: frozenset(each) for name, each in split.needed.items()}
        names = stage_parts.parts(stages, weights)
        parts = {
            part: _part({_packed_name(name): files[_packed_name(name)] for name in each} | self._brought_with(part))
            for part, each in names.items()
        }
        for_jobs = {_packed_name(name): files[_packed_name(name)] for name in split.for_jobs}
        parts[split.jobs] = _part(for_jobs | self._placed(self._library, self._surveyed.for_jobs))
        engine = [_module_of(name) for name in names[stage_parts.ENGINE] if name.endswith(".py")]
        return Packed(self._zipped_library(), parts, engine, self._surveyed.used)

    def _run(self, script: Path, values: Mapping[str, Any]) -> Any:
        return self._python.ask({"script": str(script), "globals": values, "asks": []})["report"]

    def _survey(self) -> _Surveyed:
        """Return what calculators import. What a build includes is looked at after our own, which most builds share."""
        files = {f"calculator {id}": each for id, each in self._inputs.own.items()}
        others = ["jobs", *(f"library {part}" for part in self._inputs.libraries)]
        own = self._survey_of([OWN], (), self._inputs.own_needs, [*files, *others], files)
        found = [own["imported"], *(own["asked"][what]["imported"] for what in files)]
        texts = own["texts"]
        if self._inputs.include:
            asks = [f"calculator {id}" for id in self._inputs.included]
            before = _of_library(set().union(*found), own["library"])
            more = self._survey_of(self._inputs.include, before, self._inputs.needs, asks, {})
            found += [more["imported"], *(each["imported"] for each in more["asked"].values())]
            texts = {**texts, **more["texts"]}
        started = set().union(*found)
        return _Surveyed(
            frozenset(started),
            _of_library(started, own["library"]),
            _of_library({*own["asked"]["jobs"]["imported"]} - started, own["library"]),
            {part: sorted({*own["asked"][f"library {part}"]["imported"]} - started) for part in self._inputs.libraries},
            texts,
        )

    def _survey_of(
        self,
        packages: Sequence[str],
        before: Sequence[str],
        needs: Sequence[str],
        asks: Sequence[str],
        files: Mapping[str, Sequence[str]],
    ) -> dict[str, Any]:
        """Return what survey.py reports of ``packages``, and what it finds for each of ``asks``.

        ``files`` has those that an answer depends on, where that is known. Where more were used in fact, it
        depends on all.
        """
        libraries = {} if before else self._inputs.libraries
        values = {
            "packages": packages,
            "before": before,
            "late": [] if before else self._inputs.late,
            "libraries": {
                part: {"sources": f"/pack/{each.sources.name}", "modules": each.modules}
                for part, each in libraries.items()
            },
        }
        needed = _content_of(self._inputs.ours, needs)
        archives = [each.sources.read_bytes() for each in libraries.values()]
        asked_of = digest(
            [self._machine, json.dumps(values), _SURVEY.read_bytes(), *_listed(needed, needed), *archives]
        )
        content = _content_of(self._inputs.ours, [OWN, *packages])
        every = ["survey", asked_of, *_listed(content, content)]
        ran: list[Any] = []

        def run() -> Any:
            ran.append(self._run(_SURVEY, values))
            return ran[0]

        report: dict[str, Any] = json.loads(self._stored.of(every, lambda: json.dumps(run()).encode()))
        # What an answer imports depends on what is imported already.
        before_all = json.dumps(report["every"])
        whole = {what: digest([*every, "answer", what]) for what in asks}
        fine = {what: digest(["answer", asked_of, before_all, what, *_listed(files[what], content)]) for what in files}
        found = {
            what: self._stored.find(whole[what]) or (self._stored.find(fine[what]) if what in fine else None)
            for what in asks
        }
        missing = [what for what in asks if found[what] is None]
        if missing:
            if not ran:
                run()
            for what, answer in self._python.ask({"asks": missing})["asked"].items():
                is_known = what in files and content.keys() & answer["used"] <= {*files[what]}
                found[what] = self._stored.keep(fine[what] if is_known else whole[what], json.dumps(answer).encode())
        asked = {what: json.loads(each) for what, each in found.items() if each is not None}
        texts = {module: each for answer in asked.values() for module, each in answer["texts"].items()}
        return {**report, "texts": {**report["texts"], **texts}, "asked": asked}

    def _zipped_library(self) -> bytes:
        """Return the zip of what is wanted of Python's library."""
        wanted = [name for name in sorted(self._library) if self._is_wanted(_module_of(name))]
        values = {"library": f"/pack/{self._inputs.sources.name}", "names": wanted, "modules": []}
        values["ready_made"] = (SCRIPTS / "ready_made.py").read_text("utf-8")
        made_of: list[str | bytes] = ["library", self._machine, json.dumps(values), _PACK.read_bytes()]

        def make() -> bytes:
            self._run(_PACK, values)
            return (self._made / "library.zip").read_bytes()

        return self._stored.of(made_of, make)

    def _is_wanted(self, module: str) -> bool:
        tops = {module, *(module[:at] for at, letter in enumerate(module) if letter == ".")}
        return module in self._surveyed.started or not tops.intersection(LEFT_OUT)

    def _of_ours(self, names: Iterable[str]) -> dict[str, bytes]:
        """Return files of ours by their name in a page: bytecode for modules, and other files unchanged."""
        content = {name: (self._inputs.ours / name).read_bytes() for name in dict.fromkeys(names)}
        texts, named = self._surveyed.texts, {OWN, *self._inputs.include}
        modules = {
            name: {
                "source": each.decode(),
                "ours": name.partition("/")[0] in named,
                "texts": texts.get(_module_of(name), []),
            }
            for name, each in content.items()
            if name.endswith(".py")
        }
        others = {name: each for name, each in content.items() if name not in modules}
        return {**others, **self._compiled(modules)}

    def _brought_with(self, part: str) -> dict[str, bytes]:
        """Return the library that a late part brings, with what that needs of Python's."""
        modules = self._surveyed.brought.get(part, ())
        if not modules:
            return {}
        theirs = _sources_in(self._inputs.libraries[part].sources)
        return self._placed(self._library, modules) | self._placed(theirs, modules, asserts=True)

    def _placed(
        self, sources: Mapping[str, bytes], modules: Collection[str], *, asserts: bool = False
    ) -> dict[str, bytes]:
        """Return those of ``modules`` that are among ``sources``: Python's library, which the page would
        otherwise fetch as a whole, or another one.
        """
        found = {
            name: {"source": sources[name].decode(), "asserts": asserts}
            for name in sorted(sources)
            if _module_of(name) in modules
        }
        return {f"{stage_parts.LIBRARY}/{name}": content for name, content in self._compiled(found).items()}

    def _compiled(self, modules: Mapping[str, Mapping[str, Any]]) -> dict[str, bytes]:
        """Return the bytecode of modules, with how pack.py compiles them, by their names in a page."""
        asked = {name: {"name": name, **how} for name, how in modules.items()}
        script = _PACK.read_bytes()
        digests = {
            name: digest(["module", self._machine, script, json.dumps(how, sort_keys=True)])
            for name, how in asked.items()
        }
        found = {name: self._stored.find(digests[name]) for name in asked}
        missing = [name for name in asked if found[name] is None]
        if missing:
            self._run(_PACK, {"modules": [asked[name] for name in missing]})
        return {
            f"{name}c": self._stored.keep(digests[name], (self._made / str(missing.index(name))).read_bytes())
            if content is None
            else content
            for name, content in found.items()
        }


def _sources_in(archive: Path) -> dict[str, bytes]:
    """Return the modules in a zip by their paths in it."""
    with zipfile.ZipFile(archive) as zipped:
        return {name: zipped.read(name) for name in zipped.namelist() if name.endswith(".py")}


def _content_of(folder: Path, packages: Sequence[str]) -> dict[str, bytes]:
    """Return the content of all files of packages by their paths."""
    paths = (path for package in packages for path in sorted((folder / package).rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}


def _of_library(modules: Iterable[str], library: Collection[str]) -> list[str]:
    """Return the modules whose top is one of Python's library, in order."""
    return sorted(name for name in modules if name.partition(".")[0] in library and name != "__main__")


def _listed(paths: Iterable[str], content: Mapping[str, bytes]) -> list[str | bytes]:
    return [part for path in paths for part in (path, content[path])]


def _module_of(name: str) -> str:
    parts = name.removesuffix(".py").split("/")
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _packed_name(name: str) -> str:
    return f"{name}c" if name.endswith(".py") else name


def _part(members: Mapping[str, bytes]) -> bytes:
    """Return a part in the form of theme/worker/parts.mjs."""
    head = json.dumps([[name, len(content)] for name, content in members.items()]).encode()
    return b"".join((len(head).to_bytes(4, "little"), head, *members.values()))

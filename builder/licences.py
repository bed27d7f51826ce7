"""What the site is made of: the text of every licence, the page that lists them, and the bill of materials.

``licence_texts/parts.yaml`` names what is served, with the files that it is. Texts and versions are those of the
installed packages; only parts that lie within a package, and bring no text, have one beside that list.
"""

from __future__ import annotations

import base64
import csv
import importlib.metadata
import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from html import escape
from pathlib import Path, PurePosixPath
from typing import Any

import yaml

from builder.check_file import LOADER
from builder.mistakes import Unable

#: The folder of the texts and of the bill, in the site.
FOLDER = "licences"
BILL = "bill-of-materials.cdx.json"

_TEXTS = Path(__file__).resolve().parent / "licence_texts"
_PINNED = re.compile(r"(?m)^([A-Za-z0-9._-]+)==([^\s;\\]+)")
#: SPDX names of licences that packages name in other words: in their metadata, or as a classifier.
_SPDX = {
    "Apache Software License": "Apache-2.0",
    "BSD License": "BSD-3-Clause",
    "MIT License": "MIT",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
    "Python Software Foundation License": "PSF-2.0",
}


@dataclass(frozen=True, kw_only=True)
class Part:
    """Something that the site serves; ``parts.yaml`` says what each field means."""

    id: str
    name: str
    licence: str
    text: str
    does: str
    package: str = ""
    inside: str = ""
    files: tuple[str, ...] = ()

    def serves(self, path: str) -> bool:
        """Whether the file at ``path``, below the site's root, is of this part. A star does not stand for a slash."""
        return any(_fits(path.split("/"), pattern.split("/")) for pattern in self.files)


def _fits(path: list[str], pattern: list[str]) -> bool:
    if pattern and pattern[0] == "**":
        return len(path) >= 1
    if not path or not pattern:
        return path == pattern
    return fnmatchcase(path[0], pattern[0]) and _fits(path[1:], pattern[1:])


@cache
def parts() -> tuple[Part, ...]:
    """Return what the site serves, in the order in which files are looked for."""
    listed = yaml.load((_TEXTS / "parts.yaml").read_text("utf-8"), Loader=LOADER)
    return tuple(Part(**{**each, "files": tuple(each.get("files", ()))}) for each in listed)


def part_of(path: str) -> Part | None:
    """Return what the file at ``path``, below the site's root, is a part of."""
    return next((part for part in parts() if part.serves(path)), None)


def text_of(root: Path, part: Part) -> str:
    """Return the text of a part's licence. Raises ``Unable`` where the installed package has none."""
    texts = [text for source in part.text.split(" + ") for text in _texts(root, source)]
    if not texts or not all(text.strip() for text in texts):
        raise Unable(
            f"{part.name}: its package holds no licence text ({part.text}). Correct builder/licence_texts/parts.yaml"
        )
    return "\n\n".join(text.strip() for text in texts) + "\n"


def _texts(root: Path, source: str) -> list[str]:
    kind, _, name = source.partition("/")
    if kind == "python":
        return _texts_of_distribution(name)
    path = {"own": _TEXTS, "npm": root / "node_modules", "root": root, "theme": _theme()}[kind] / name
    return [path.read_text("utf-8")] if path.is_file() else [""]


def _texts_of_distribution(name: str) -> list[str]:
    named = re.compile(r"\.dist-info/(?:licenses/)?(?:[^/]*/)*(?:licen[cs]e|copying|notice)[^/]*$", re.IGNORECASE)
    distribution = importlib.metadata.distribution(name)
    # Its list of files as text: some packages have thousands, and a path is made of each of ``distribution.files``.
    listed = [line[0] for line in csv.reader((distribution.read_text("RECORD") or "").splitlines())]
    files = sorted(PurePosixPath(path) for path in listed if named.search(path))
    return [Path(str(distribution.locate_file(file))).read_text("utf-8") for file in files]


def _theme() -> Path:
    """The folder of the theme's templates, where its icons lie with their licences."""
    return Path(str(importlib.metadata.distribution("mkdocs-material").locate_file("material/templates")))


def version_of(root: Path, part: Part) -> str:
    """Return the version that is served; empty for a part within another part."""
    kind, _, name = part.package.partition("/")
    if kind == "python":
        return importlib.metadata.version(name)
    if kind == "npm":
        return str(_npm_package(root, name)["version"])
    return "" if part.inside else str(_project(root)["version"])


def _npm_package(root: Path, name: str) -> dict[str, Any]:
    package: dict[str, Any] = json.loads((root / "node_modules" / name / "package.json").read_text("utf-8"))
    return package


def source_of(root: Path, part: Part) -> str:
    """Return the repository that a part's npm package names; empty if its licence does not require that."""
    kind, _, name = part.package.partition("/")
    if kind != "npm" or not part.licence.startswith("MPL"):
        return ""
    repository = _npm_package(root, name)["repository"]
    address: str = repository["url"] if isinstance(repository, dict) else repository
    return address.removeprefix("git+").removesuffix(".git")


def _project(root: Path) -> dict[str, Any]:
    project: dict[str, Any] = tomllib.loads((root / "pyproject.toml").read_text("utf-8"))["project"]
    return project


def table(base: str) -> str:
    """Return the parts as an HTML table, with the versions that are installed beside this
    builder; ``base`` leads to the site's root.
    """
    root = Path(__file__).resolve().parent.parent
    rows = []
    names = {part.id: part.name for part in parts()}
    for part in parts():
        version = f" {escape(version_of(root, part))}" if part.package else ""
        within = f" (within {escape(names[part.inside])})" if part.inside else ""
        source = f' (<a href="{escape(address)}">its source</a>)' if (address := source_of(root, part)) else ""
        rows.append(
            f"<tr><td>{escape(part.name)}{version}{within}</td><td>{escape(part.does)}{source}</td>"
            f'<td><a href="{base}{FOLDER}/{part.id}.txt">{escape(part.licence)}</a></td></tr>'
        )
    head = "<tr><th>Part</th><th>What it does here</th><th>Licence, with its text</th></tr>"
    return f"<table>\n<thead>{head}</thead>\n<tbody>\n" + "\n".join(rows) + "\n</tbody>\n</table>"


def write_licences(root: Path, out: Path) -> None:
    """Write the texts and the bill of materials into their folder below ``out``. Raises ``Unable``."""
    folder = out / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    for part in parts():
        (folder / f"{part.id}.txt").write_text(text_of(root, part), "utf-8")
    (folder / BILL).write_text(json.dumps(bill(root), indent=1, ensure_ascii=False) + "\n", "utf-8")


# -- The bill of materials, in CycloneDX's words


def bill(root: Path) -> dict[str, Any]:
    """Return the bill: every pinned package that is served or builds the site, and
    every part, with the files that it is.

    Scope ``required`` is served, ``excluded`` only builds. There is no date in it,
    so that equal sources give equal bills.
    """
    served = {part.package: part for part in parts() if part.package}
    components = [*_python_components(root, served), *_npm_components(root, served)]
    components += [
        _component(part.name, version_of(root, part), part)
        for part in parts()
        if not part.package and part.id != "decalwright"
    ]
    project, own = _project(root), next(part for part in parts() if part.id == "decalwright")
    return {
        "$schema": "http://cyclonedx.org/schema/bom-1.6.schema.json",
        "bomFormat": "CycloneDX",
        "specVersion": "1.6",
        "version": 1,
        "metadata": {"component": {**_component(project["name"], project["version"], own), "type": "application"}},
        "components": sorted(components, key=lambda each: each["bom-ref"]),
    }


def _python_components(root: Path, served: dict[str, Part]) -> Iterator[dict[str, Any]]:
    for name, version in _PINNED.findall((root / "requirements-site.txt").read_text("utf-8")):
        part = served.get(f"python/{name}")
        yield _component(
            name, version, part, purl=f"pkg:pypi/{name}@{version}", licence="" if part else _licence_of(name)
        )


def _npm_components(root: Path, served: dict[str, Part]) -> Iterator[dict[str, Any]]:
    lock = json.loads((root / "package-lock.json").read_text("utf-8"))
    for path, held in lock["packages"].items():
        name = path.rpartition("node_modules/")[2]
        if not name:
            continue
        part = served.get(f"npm/{name}")
        purl = f"pkg:npm/{name.replace('@', '%40')}@{held['version']}"
        made = _component(name, held["version"], part, purl=purl, licence="" if part else held.get("license", ""))
        algorithm, _, digest = held.get("integrity", "").partition("-")
        if algorithm == "sha512":
            made["hashes"] = [{"alg": "SHA-512", "content": base64.b64decode(digest).hex()}]
        yield made


def _component(name: str, version: str, part: Part | None, *, purl: str = "", licence: str = "") -> dict[str, Any]:
    named = part.licence if part else licence
    made: dict[str, Any] = {
        "type": "library",
        "bom-ref": purl or (part.id if part else name),
        "name": name,
        **({"version": version} if version else {}),
        "scope": "required" if part else "excluded",
        **({"licenses": [{"expression": named}]} if named else {}),
        **({"purl": purl} if purl else {}),
    }
    if part:
        properties = [
            ("text", f"{FOLDER}/{part.id}.txt"),
            *(("files", each) for each in part.files),
            *([("inside", part.inside)] if part.inside else []),
        ]
        made["properties"] = [{"name": f"decalwright:{what}", "value": value} for what, value in properties]
    return made


def _licence_of(name: str) -> str:
    """Return the SPDX name of an installed package's licence; empty if it is not installed or names none."""
    try:
        metadata = importlib.metadata.metadata(name)
    except importlib.metadata.PackageNotFoundError:
        return ""  # a package for another system
    if "License-Expression" in metadata:
        return metadata["License-Expression"]
    written = metadata["License"].split("\n")[0].strip() if "License" in metadata else ""
    if re.fullmatch(r"[A-Za-z0-9.-]+-[0-9.]+(?:-[A-Za-z]+)?|MIT|ISC|BSD-\d-Clause", written):
        return written
    classified = [
        each.rpartition(" :: ")[2] for each in metadata.get_all("Classifier", []) if each.startswith("License ::")
    ]
    return next((_SPDX[each] for each in [*classified, written] if each in _SPDX), "")

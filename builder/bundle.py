"""The scripts that a page loads, bundled by esbuild: few files, each with all that it needs and nothing else.

Code that several bundles need becomes a file of its own, which esbuild names by its contents. Source maps are not made.
"""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from builder.mistakes import Mistakes
from builder.node import RuntimeFault, run_script

#: The bundler, below the root.
ESBUILD = Path("node_modules/esbuild/lib/main.js")

_PACKAGE = re.compile(r"node_modules/((?:@[^/]+/)?[^/]+)/")
#: Comments that have lines of their own. Notices of licences begin with /*! and stay.
_COMMENT = re.compile(r"^ *(?://.*|/\*\*(?:[^*]|\*(?!/))*\*/)\n", re.MULTILINE)


@dataclass(frozen=True)
class Bundles:
    """What was made, by paths below the folder of the bundles.

    ``loads`` gives for each entry the files that a page fetches for it, the entry first; ``packages`` names the npm
    packages that are in them.
    """

    loads: dict[str, list[str]]
    packages: list[str]


def bundle(
    root: Path,
    entries: Mapping[str, Path],
    out: Path,
    *,
    define: Mapping[str, Any] | None = None,
    beside: Mapping[str, str] | None = None,
    made: Mapping[str, str] | None = None,
    legible: bool = False,
    apart: bool = False,
) -> Bundles:
    """Bundle the scripts ``entries`` as ``<name>.mjs`` into the folder ``out``.

    ``define`` gives values that replace names in the scripts. ``beside`` maps an import to the file in
    ``out`` that the page loads for it, ``made`` an import to the text of the script that it stands for. ``legible``
    leaves names and lines as they are, all but the comments; with ``apart`` each entry has all that it needs, and
    nothing is shared. Raises ``Mistakes`` with the place of each, or
    ``RuntimeFault``.
    """
    esbuild = root / ESBUILD
    if not esbuild.is_file():
        raise RuntimeFault(f"{esbuild}: is missing (run make setup)")
    missing = [f"{path.relative_to(root).as_posix()}: is missing" for path in entries.values() if not path.is_file()]
    if missing:
        raise Mistakes(missing)
    with tempfile.TemporaryDirectory() as scratch:
        report = run_script(
            "bundle.mjs",
            Path(scratch),
            {
                "root": str(root.resolve()),
                "esbuild": str(esbuild.resolve()),
                "out": str(out.resolve()),
                "entries": {name: str(path.resolve()) for name, path in entries.items()},
                "define": {name: json.dumps(value) for name, value in (define or {}).items()},
                "beside": dict(beside or {}),
                "made": dict(made or {}),
                "legible": legible,
                "apart": apart,
            },
        )
    if report["mistakes"]:
        raise Mistakes(["{file}:{line}:{column}: {text}".format_map(each) for each in report["mistakes"]])
    if legible:
        # esbuild leaves those within classes.
        for path in out.glob("*.mjs"):
            path.write_text(without_comments(path.read_text("utf-8")), "utf-8")
    packages = {found[1] for path in report["inputs"] if (found := _PACKAGE.search(path))}
    return Bundles(report["loads"], sorted(packages))


def without_comments(script: str) -> str:
    """Return a script without the comments that have lines of their own."""
    return _COMMENT.sub("", script)

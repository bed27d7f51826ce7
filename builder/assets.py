"""What the theme serves: scripts, styles and fonts, in one folder named by its contents."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from builder.bundle import bundle
from builder.kinds import SCRIPTS_OF_KINDS, scripts_of_kinds
from builder.mistakes import Mistakes
from calculators.jobs.strip_sentences import STRIP

_FONT = re.compile(r"fonts/([a-z0-9-]+\.woff2)")

#: Folders of the theme that keep their layout when served, so that relative addresses stay valid.
SERVED = ("styles", "images")
#: Folders of scripts: what is served are bundles of them.
BUNDLED = ("scripts", "engine", "worker")

#: What pages load, by name: what every page needs, and what only those need that have a calculator, a how-to, a job, a
#: value of one or a data table (theme/scripts/frame/page.mjs). The worker of the search stands alone.
_ENTRIES = {
    "page": "frame/page.mjs",
    "calculators": "form/calculators.mjs",
    "bench": "bench/bench.mjs",
    "job": "job/job.mjs",
    "of-job": "job/of-job.mjs",
    "tables": "frame/tables.mjs",
    "search-worker": "frame/search-worker.js",
}
#: Scripts that a page loads only once it needs them, each a bundle of its own: shared with others they would split the
#: bundles that every page loads. Scripts import them as "alone-<name>", and what they import may hold no state.
ALONE = {
    "jobs": "keep/jobs.mjs",
    "pixels": "picture/pixels.mjs",
    "arrival": "keep/arrival.mjs",
    "eyedropper": "picture/eyedropper.mjs",
    "proposing": "form/proposing.mjs",
    "sheet": "form/sheet.mjs",
    "bridges": "picture/bridges.mjs",
    "carried-rows": "job/carried-rows.mjs",
    "whole-job": "form/whole-job.mjs",
    "strip": "strip/strip.mjs",
    "opened": "strip/opened.mjs",
}
#: What all pages tell their scripts, in a file that is fetched once. Scripts import it as "shared-config".
_SHARED = "config.mjs"
#: All stylesheets in one, in name order: otherwise a page would request two dozen before it renders.
_STYLES = "styles/all.css"
_COMMENT = re.compile(r"/\*.*?\*/\s*", re.DOTALL)


def collect(root: Path) -> dict[str, Path]:
    """Return what is served as it is: the path in the folder to the file that it comes from.

    Fonts are those that a stylesheet or a template of the theme names. Raises ``Mistakes``.
    """
    theme, modules = root / "theme", root / "node_modules"
    served: dict[str, Path] = {}
    for folder in SERVED:
        for path in sorted((theme / folder).rglob("*")):
            name = path.relative_to(theme).as_posix()
            if path.is_file() and not path.name.startswith("."):
                served[name] = path
    mistakes = []
    for path in sorted([*theme.rglob("*.css"), *theme.rglob("*.html")]):
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1):
            for name in _FONT.findall(line):
                found = next(modules.glob(f"@fontsource*/*/files/{name}"), None)
                if found is None:
                    place = f"{path.relative_to(root).as_posix()}:{number}"
                    mistakes.append(f"{place}: there is no font {name} in the packages of package.json")
                    continue
                package = found.parent.parent
                served[f"fonts/{name}"] = found
                served[f"fonts/{package.name}-licence.txt"] = package / "LICENSE"
    mistakes += [
        f"{path.relative_to(root).as_posix()}: is missing (run make setup)"
        for path in served.values()
        if not path.is_file()
    ]
    if mistakes:
        raise Mistakes(mistakes)
    return served


def write_assets(root: Path, out: Path, shared: Mapping[str, Any], *, legible: bool = False) -> dict[str, Any]:
    """Write what is served below ``out`` and return what the templates need of it, as paths below ``out``.

    ``shared`` holds the settings for the scripts of every page; ``legible`` leaves their names and lines in the
    scripts.
    Raises ``Mistakes``.
    """
    served = collect(root)
    with tempfile.TemporaryDirectory() as scratch:
        scripts = Path(scratch)
        loads = _write_scripts(root, scripts, shared, legible)
        served |= {f"scripts/{path.name}": path for path in scripts.iterdir()}
        served[_STYLES] = _together(
            scripts / "all.css", [served.pop(name) for name in sorted(served) if name.endswith(".css")]
        )
        digest = hashlib.sha256()
        for name, path in sorted(served.items()):
            digest.update(f"{name}\0{hashlib.sha256(path.read_bytes()).hexdigest()}\0".encode())
        folder = f"assets/dw-{digest.hexdigest()[:12]}"
        for name, path in served.items():
            target = out / folder / name
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, target)
    return {
        "folder": folder,
        "page": f"{folder}/scripts/page.mjs",
        "loads": {name: [f"{folder}/scripts/{each}" for each in files] for name, files in loads.items()},
        "styles": f"{folder}/{_STYLES}",
    }


def _together(out: Path, sheets: list[Path]) -> Path:
    """Write some stylesheets as one, without their comments, and return its path."""
    out.write_text("".join(_COMMENT.sub("", sheet.read_text("utf-8")) for sheet in sheets), "utf-8")
    return out


def _write_scripts(root: Path, out: Path, shared: Mapping[str, Any], legible: bool) -> dict[str, list[str]]:
    """Write the bundles, what pages share and the licences of what is bundled; return the files of each bundle."""
    scripts = root / "theme" / "scripts"
    beside = {"shared-config": f"./{_SHARED}", **{f"alone-{name}": f"./{name}.mjs" for name in ALONE}}
    made = bundle(
        root,
        {name: scripts / path for name, path in _ENTRIES.items()},
        out,
        beside=beside,
        legible=legible,
        made={SCRIPTS_OF_KINDS: scripts_of_kinds(root / "theme")},
    )
    loads = {**made.loads, "page": [*made.loads["page"], _SHARED]}
    words = {"strip-words": f"export default {json.dumps(STRIP, ensure_ascii=False)};"}
    alone = {name: scripts / path for name, path in ALONE.items()}
    loads |= bundle(root, alone, out, beside=beside, legible=legible, made=words, apart=True).loads
    settings = json.dumps(shared, ensure_ascii=False, separators=(",", ":"))
    (out / _SHARED).write_text(f"export default {settings};\n", "utf-8")
    for name in made.packages:
        shutil.copyfile(root / "node_modules" / name / "LICENSE", out / f"{name.replace('/', '-')}-licence.txt")
    return loads

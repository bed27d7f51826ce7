"""What the theme serves: scripts, styles, fonts and the store's library, in one folder named by its contents."""

from __future__ import annotations

import hashlib
import re
import shutil
from pathlib import Path
from typing import Any

from builder.mistakes import Mistakes

_FONT = re.compile(r"fonts/([a-z0-9-]+\.woff2)")

#: Folders of the theme that are served as they lie there, so that relative imports hold in both places.
SERVED = ("scripts", "styles", "images", "engine")



def collect(root: Path) -> dict[str, Path]:
    """Return what is to be served: the path in the folder to the file that it comes from.

    Fonts are those that a stylesheet or a template of the theme names. Raises ``Mistakes``.
    """
    theme, modules = root / "theme", root / "node_modules"
    served: dict[str, Path] = {}
    for folder in SERVED:
        for path in sorted((theme / folder).rglob("*")):
            name = path.relative_to(theme).as_posix()
            if path.is_file() and not path.name.startswith("."):
                served[name] = path
    served["scripts/idb.mjs"] = modules / "idb" / "build" / "index.js"
    served["scripts/idb-licence.txt"] = modules / "idb" / "LICENSE"
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
    if "scripts/frame/page.mjs" not in served:
        mistakes.append("theme/scripts/frame/page.mjs: is missing")
    if mistakes:
        raise Mistakes(mistakes)
    return served


def write_assets(root: Path, out: Path) -> dict[str, Any]:
    """Write what is served below ``out`` and return what the templates need of it, as paths below ``out``."""
    served = collect(root)
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
        "page": f"{folder}/scripts/frame/page.mjs",
        "styles": [f"{folder}/{name}" for name in sorted(served) if name.startswith("styles/") and name.endswith(".css")],
    }

"""Checkouts of their own for tests that build or change the sources."""

import shutil
from pathlib import Path

from filelock import FileLock

ROOT = Path(__file__).resolve().parents[2]
#: Generated or installed files, which are not sources of the site.
MADE = {"build", "site", "tests", "node_modules"}
#: What a build stores for the next one, which makes it again where its sources changed.
STORED = ("wheel", "engine", "answers")


def checkout_in(folder: Path, *, built: bool = False) -> Path:
    """Copy the sources into ``folder`` and return it; it uses the packages that are installed in this checkout.

    With ``built`` its server finds what the last build of this checkout stored for the next one.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for path in ROOT.iterdir():
        if path.name in MADE or path.name.startswith("."):
            continue
        if path.is_dir():
            shutil.copytree(path, folder / path.name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copyfile(path, folder / path.name)
    if built:
        with FileLock(ROOT / "build" / ".lock"):
            for name in STORED:
                shutil.copytree(ROOT / "build" / name, folder / "build" / "serve" / name)
    (folder / "node_modules").symlink_to((ROOT / "node_modules").resolve())
    return folder

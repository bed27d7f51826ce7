"""Time 10,000 entries from the check to the finished site, against mkdocs alone for the same pages.

    python -m tests.bench.entries [COUNT [TABLE]]

The entries are rows of the real template with a page each, in a copy of the project: a folder of one file a row,
made by a seeded generator from the words of the shipped rows of the table. The runtime is packed once before, since
entries do not change it but for its tables. mkdocs alone takes every page as Markdown. Both times are the processor's,
of whole processes that work on one core: other work on the machine lengthens the time on the clock, which is printed
too, and not this one.
"""

from __future__ import annotations

import json
import os
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

import yaml

from calculators.tables.rules import WAIT

ROOT = Path(__file__).resolve().parents[2]
COPIED = (
    "builder",
    "calculators",
    "content",
    "data",
    "theme",
    "LICENSE",
    "mkdocs.yml",
    "pyproject.toml",
    "package.json",
    "package-lock.json",
    "requirements-site.txt",
    "node_modules",
)
MOST_RATIO = 1.25
#: The folder of the pages of a table's entries.
PAGES = {"substrates": "reference/substrates", "troubleshooting": "rescue"}


def plant(root: Path, count: int, table: str) -> None:
    """Copy the project to ``root``, with ``count`` rows more in one table, a file each."""
    for name in COPIED:
        source = ROOT / name
        if name == "node_modules":
            (root / name).symlink_to(source)
        elif source.is_dir():
            shutil.copytree(source, root / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copyfile(source, root / name)
    folder = root / "data" / table
    if folder.is_dir():
        shipped = [yaml.safe_load(path.read_text("utf-8")) for path in sorted(folder.glob("*.yaml"))]
    else:
        listed = root / "data" / f"{table}.yaml"
        shipped = yaml.safe_load(listed.read_text("utf-8"))
        listed.unlink()
        folder.mkdir()
        for row in shipped:
            write_row(folder / f"{row['id']}.yaml", row)
    draw = random.Random(4)
    for number in range(count):
        row = {name: draw.choice([each for each in shipped if name in each])[name] for name in draw.choice(shipped)}
        named = f"entry-{number}"
        if table == "troubleshooting":
            row["title"] = f"Entry {number}"
            row["waits"] = sorted(
                set(WAIT.findall(json.dumps({name: value for name, value in row.items() if name != "waits"})))
            )
        else:
            row |= {"id": named, "label": f"Entry {number}"}
        write_row(folder / f"{named}.yaml", row)


def write_row(path: Path, row: dict) -> None:
    """Write one row to its file. JSON is YAML; the checker reads it as it would read a contributor's file."""
    text = "\n".join(f"{name}: {json.dumps(value, ensure_ascii=False)}" for name, value in row.items())
    path.write_text(text + "\n", "utf-8")


def seconds(root: Path, *command: str) -> float:
    """Run a command in ``root`` and return its processor time.

    Raises ``CalledProcessError`` after printing its output.
    """
    started, used = time.monotonic(), _used()
    subprocess.run(
        [sys.executable, "-m", *command],
        cwd=root,
        check=True,
        env={**os.environ, "PYTHONPATH": str(root), "NO_MKDOCS_2_WARNING": "1"},
    )
    taken = _used() - used
    print(f"{command[0]}: {taken:.1f} s of processor time, {time.monotonic() - started:.1f} s on the clock", flush=True)
    return taken


def _used() -> float:
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    return usage.ru_utime + usage.ru_stime


def measure(count: int, rounds: int = 3, table: str = "substrates") -> tuple[float, float]:
    """Return the median seconds of the whole build and of mkdocs alone, over interleaved rounds."""
    ours, alone = [], []
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        plant(root, count, table)
        seconds(root, "builder", "build", "--no-snapshot")
        for _ in range(rounds):
            ours.append(seconds(root, "builder", "build", "--no-snapshot"))
            alone.append(
                seconds(
                    root,
                    "mkdocs",
                    "build",
                    "--quiet",
                    "--strict",
                    "--config-file",
                    "build/mkdocs.yml",
                    "--site-dir",
                    str(root / "alone"),
                )
            )
        made = len(list((root / "site" / PAGES[table]).glob("entry-*/index.html")))
        if made != count:
            raise AssertionError(f"{made} pages were made of {count} entries")
    return median(ours), median(alone)


if __name__ == "__main__":
    asked = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    build, mkdocs = measure(asked, table=sys.argv[2] if len(sys.argv) > 2 else "substrates")
    print(
        f"{asked} entries: build {build:.1f} s, mkdocs alone {mkdocs:.1f} s, ratio {build / mkdocs:.2f}, at most "
        f"{MOST_RATIO}"
    )
    sys.exit(build / mkdocs > MOST_RATIO)

"""Drawings from packages of npm with open licences; this stores their names, never the drawings.

flag-icons (MIT) and bootstrap-icons (MIT) are installed with the other packages of npm; openmoji (CC BY-SA 4.0) has 67
MB, so only the long run fetches it. Which drawings are taken stands in package_drawings.json, made by

    python -m tests.corpus.package_drawings [PACKAGE ...]

It walks each package in the order of a hash of the names and takes what both renderers draw alike and what has two to
eight flat colours, until there are enough.
"""

from __future__ import annotations

import hashlib
import json
import re
import sys
from pathlib import Path

from tests.corpus.drawings import Drawing, agree
from tests.corpus.truth import flat_of

ROOT = Path(__file__).resolve().parents[2]
LIST = Path(__file__).with_suffix(".json")
#: Where the long run puts what the usual tests do not need.
LONG_RUN = ROOT / "build" / "corpus" / "npm" / "node_modules"
#: Package: where its drawings lie, licence, kind, and how many are taken. What the usual tests lack comes
#: last, since the design goes by the order of the drawings.
PACKAGES = {
    "flag-icons": (ROOT / "node_modules/flag-icons/flags/4x3", "MIT", "package", 36),
    "bootstrap-icons": (ROOT / "node_modules/bootstrap-icons/icons", "MIT", "icon", 12),
    "openmoji": (LONG_RUN / "openmoji/color/svg", "CC BY-SA 4.0", "package", 24),
}
#: Which names are looked at. Of icons those of plain things, since others are marks
#: of firms; of emoji those of Unicode.
NAMED = {
    "bootstrap-icons": r"(anchor|arrow|badge|bell|bus|caret|compass|cone|door|exclamation|fire|flag|gear|key|life|"
    r"lightning|lock|shield|sign|star|sun|tools|train|truck|water|wrench)\b.*",
    "openmoji": r"[0-9A-D].*",
}
#: Icons are drawn in one colour; here on white and, every second one, light on a dark ground.
ICON_COLOURS = (("#1c2226", ""), ("#ffffff", "#7a2232"), ("#003f87", ""), ("#f6c800", "#1f3b4d"))
#: Flat colours make at least this share of a drawing that is called flat.
FLAT_SHARE, FEWEST, MOST = 0.93, 2, 8
_LOOKED_AT_PX = 960


def is_installed(package: str) -> bool:
    """Return whether a package's drawings are there."""
    return PACKAGES[package][0].is_dir()


def drawings() -> list[Drawing]:
    """Return the drawings of those packages that are installed."""
    names = json.loads(LIST.read_text())
    return [opened(package, stem) for package in PACKAGES if is_installed(package) for stem in names[package]]


def opened(package: str, stem: str) -> Drawing:
    """Return a drawing of a package by the name of its file."""
    folder, licence, kind, _count = PACKAGES[package]
    svg = re.sub(r"<\?xml.*?\?>", "", (folder / f"{stem}.svg").read_text("utf-8"))
    on_nothing = package == "openmoji"
    if kind == "icon":
        number = hashlib.sha256(stem.encode()).digest()[1] % len(ICON_COLOURS)
        colour, ground = ICON_COLOURS[number]
        svg, on_nothing = svg.replace("currentColor", colour), not ground
        if ground:
            svg = re.sub(r"(<svg[^>]*>)", rf'\1<rect width="16" height="16" fill="{ground}"/>', svg, count=1)
    root = re.search(r"<svg[^>]*>", svg)[0]
    svg = svg.replace(root, re.sub(r'\s(width|height)="[^"]*"', "", root), 1)
    return Drawing(f"{package}/{stem}", kind, licence, svg, on_nothing=on_nothing)


def _taken(package: str) -> list[str]:
    folder, _licence, _kind, count = PACKAGES[package]
    named = re.compile(NAMED.get(package, ".*"))
    stems = (each.stem for each in folder.glob("*.svg") if named.fullmatch(each.stem))
    stems = sorted(stems, key=lambda stem: hashlib.sha256(f"{package}/{stem}".encode()).digest())
    taken = []
    for stem in stems:
        drawing = opened(package, stem)
        if not agree(drawing):
            continue
        flat = flat_of(drawing, clear=False, longer_px=_LOOKED_AT_PX)
        if FEWEST <= len(flat.main) <= MOST and flat.share >= FLAT_SHARE:
            taken.append(stem)
        if len(taken) == count:
            return taken
    raise SystemExit(f"{package}: only {len(taken)} drawings will do, {count} are wanted")


def main() -> None:
    """Write the list anew, for the packages named or for all."""
    names = json.loads(LIST.read_text()) if LIST.exists() else {}
    for package in sys.argv[1:] or PACKAGES:
        names[package] = _taken(package)
    LIST.write_text(json.dumps(names, indent=2) + "\n")


if __name__ == "__main__":
    main()

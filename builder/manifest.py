"""What makes the site an app of the device: its manifest, and its icons as pixels, drawn from theme/icons.

Source: Web Application Manifest (W3C), and Web Share Target (WICG) for ``share_target``; the
members and the safe zone of maskable icons from memory.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import yaml

from builder.mistakes import Mistakes
from calculators.colour.srgb import levels_of
from calculators.files.outline_reader import Unread, read_outlines
from calculators.files.png import png
from calculators.shapes.filled import filled
from calculators.values import in_one_go

NAME = "manifest.webmanifest"

#: The same with the share target. Only the offline worker hands it out, in place of the other: without the worker a
#: shared picture would be posted to a static host, which cannot take it.
SHARING = "manifest-sharing.webmanifest"

#: Each icon: the drawing, its side in pixels, and what a device may do with it; None is for a link in the page's head.
ICONS = (
    ("icon", 192, "any"),
    ("icon", 512, "any"),
    ("icon-maskable", 192, "maskable"),
    ("icon-maskable", 512, "maskable"),
    ("icon-maskable", 180, None),
)

#: Pictures that other apps hand over are sent here; the offline worker takes them
#: (builder/templates/offline-shared.js).
SHARE_TARGET = {
    "action": "share/",
    "method": "POST",
    "enctype": "multipart/form-data",
    "params": {"files": [{"name": "picture", "accept": ["image/*", ".svg"]}]},
}


def write_manifest(root: Path, out: Path) -> None:
    """Write both manifests and the icons below ``out``.

    Raises ``Mistakes`` where a drawing or a colour is not as it must be.
    """
    (out / "icons").mkdir(parents=True, exist_ok=True)
    for name, side, _purpose in ICONS:
        (out / _path(name, side)).write_bytes(drawn(root / "theme" / "icons" / f"{name}.svg", side))
    plain = manifest(root)
    for name, members in ((NAME, plain), (SHARING, {**plain, "share_target": SHARE_TARGET})):
        (out / name).write_text(f"{json.dumps(members, ensure_ascii=False, indent=1)}\n", "utf-8")


def manifest(root: Path) -> dict[str, Any]:
    """Return what the manifest says, except for the share target.

    All addresses in it are relative to it, so that it holds for any host and path.
    """
    site = yaml.safe_load((root / "mkdocs.yml").read_text("utf-8"))
    return {
        "id": "./",
        "name": site["site_name"],
        "short_name": site["site_name"],
        "description": site["site_description"].strip(),
        "lang": site["theme"]["language"],
        "start_url": "./",
        "scope": "./",
        "display": "standalone",
        "background_color": _colour(root, "sheet"),
        "theme_color": _colour(root, "film"),
        "icons": [
            {"src": "icons/icon.svg", "sizes": "any", "type": "image/svg+xml", "purpose": "any"},
            *(
                {"src": _path(name, side), "sizes": f"{side}x{side}", "type": "image/png", "purpose": purpose}
                for name, side, purpose in ICONS
                if purpose
            ),
        ],
    }


def _path(name: str, side: int) -> str:
    return f"icons/{name}-{side}.png"


def _colour(root: Path, name: str) -> str:
    """Return a colour of the look, in light."""
    path = root / "theme" / "styles" / "colours.css"
    found = re.search(rf"--dw-{name}: (#[0-9a-f]{{6}});", path.read_text("utf-8"))
    if not found:
        raise Mistakes([f"{path.relative_to(root).as_posix()}: has no --dw-{name}"])
    return found[1]


def drawn(path: Path, side: int) -> bytes:
    """Return a drawing of filled outlines as a PNG file, ``side`` pixels square. Raises ``Mistakes``."""
    try:
        outlines = read_outlines(path.read_bytes())
    except Unread as error:
        raise Mistakes([f"{path}: {error}"]) from None
    left, top, width, height = outlines.box

    def pixel(place: complex) -> complex:
        return complex((place.real - left) * side / width, (place.imag - top) * side / height)

    fills = [
        (
            levels_of(shape.fill),
            [[tuple(map(pixel, piece)) for piece in ring] for ring in shape.rings],
            shape.even_odd,
        )
        for shape in outlines.shapes
    ]
    return png(side, side, in_one_go(filled(fills, side, side)))

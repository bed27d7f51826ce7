"""The offline worker: a list of all files of the site with their digests, and the script that keeps them."""

from __future__ import annotations

import hashlib
import json
import re
import zlib
from pathlib import Path
from urllib.parse import quote

NAME = "offline-worker.js"

#: Says which edition the server has: {"edition": the worker's version, "bytes": what is kept, "fetched": about what is
#: sent for it, packed by the host}. Pages ask for it to see whether theirs is still the one.
EDITION = "edition.json"

_TEMPLATES = Path(__file__).resolve().parent / "templates"
_SCRIPTS = (NAME, "offline-shared.js")

#: What no page asks for: the worker itself, and what is there for search engines alone. (The theme reads sitemap.xml.)
_LEFT_OUT = frozenset({NAME, EDITION, "robots.txt"})

#: The order in which files are saved, so that what is read at the bench is there first if saving is broken off. A file
#: goes with the first pattern that its address begins with.
ORDER = tuple(
    re.compile(pattern)
    for pattern in (
        # What every page needs, the way in, and what is said of danger.
        r"assets/|(index|404|503)\.html$|logo\.|sitemap\.xml$|safety/",
        # How-tos and calculators' pages, and the finding of them.
        r"(size|artwork|underlay|print|seal|sheet|apply|finish|rescue)/[^/]*(/index\.html)?$|search/|figures/",
        # What the calculators run on.
        r"engine/",
        # Single entries for what went wrong; tables, words.
        r"rescue/|(reference|glossary)/",
    )
)

#: What a host does not pack on the way, since it is packed already.
_PACKED = frozenset({".packed", ".woff2", ".png", ".jpg", ".webp", ".zip"})


def files_kept(site: Path) -> list[tuple[str, str, int]]:
    """Return (address below the site's root, digest, size in bytes) of every file that
    is kept for offline use, the first first.

    The digest is the first 16 hexadecimal digits of SHA-256. Files whose name begins with a dot are
    not part of a site.
    """
    return [(address, digest, size) for address, digest, size, _ in _kept(site)]


def _kept(site: Path) -> list[tuple[str, str, int, int]]:
    kept = []
    for path in sorted(site.rglob("*")):
        name = path.relative_to(site)
        if path.is_file() and name.as_posix() not in _LEFT_OUT and not any(part.startswith(".") for part in name.parts):
            content = path.read_bytes()
            # The quickest packing will do: hosts differ more from each other.
            sent = len(content) if path.suffix in _PACKED else len(zlib.compress(content, 1))
            kept.append((quote(name.as_posix()), hashlib.sha256(content).hexdigest()[:16], len(content), sent))
    return sorted(kept, key=lambda file: _place(file[0]))


def _place(address: str) -> int:
    return next((place for place, pattern in enumerate(ORDER) if pattern.match(address)), len(ORDER))


def write_offline_worker(site: Path) -> None:
    """Write the offline worker of the finished site in ``site``, and its edition;
    every other file must have its last form.
    """
    kept = _kept(site)
    listed = ",\n".join(json.dumps(each[:3], separators=(",", ":")) for each in kept)
    script = "".join((_TEMPLATES / name).read_text("utf-8") for name in _SCRIPTS)
    version = hashlib.sha256(f"{listed}\0{script}".encode()).hexdigest()[:12]
    (site / NAME).write_text(f'const VERSION = "{version}";\nconst FILES = [\n{listed}\n];\n{script}', "utf-8")
    told = {"edition": version, "bytes": sum(each[2] for each in kept), "fetched": sum(each[3] for each in kept)}
    (site / EDITION).write_text(json.dumps(told), "utf-8")

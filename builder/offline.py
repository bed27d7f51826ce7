"""The offline worker: a list of all files of the site with their digests, and the script that keeps them."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from urllib.parse import quote

NAME = "offline-worker.js"

_SCRIPT = Path(__file__).resolve().parent / "templates" / NAME

#: What no page asks for: the worker itself, and what is there for search engines alone. (The theme reads sitemap.xml.)
_LEFT_OUT = frozenset({NAME, "robots.txt"})


def files_kept(site: Path) -> list[tuple[str, str, int]]:
    """Return (address below the site's root, digest, size in bytes) of every file that is kept for offline use.

    The digest is the first 16 hexadecimal digits of SHA-256. Files whose name begins with a dot are
    not part of a site.
    """
    kept = []
    for path in sorted(site.rglob("*")):
        name = path.relative_to(site)
        if path.is_file() and name.as_posix() not in _LEFT_OUT and not any(part.startswith(".") for part in name.parts):
            content = path.read_bytes()
            kept.append((quote(name.as_posix()), hashlib.sha256(content).hexdigest()[:16], len(content)))
    return kept


def write_offline_worker(site: Path) -> None:
    """Write the offline worker of the finished site in ``site``; every other file must have its last form."""
    kept = files_kept(site)
    listed = ",\n".join(json.dumps(each, separators=(",", ":")) for each in kept)
    script = _SCRIPT.read_text("utf-8")
    version = hashlib.sha256(f"{listed}\0{script}".encode()).hexdigest()[:12]
    (site / NAME).write_text(f'const VERSION = "{version}";\nconst FILES = [\n{listed}\n];\n{script}', "utf-8")

"""The offline worker: a list of all files of the site with their digests, and the script that stores them."""

from __future__ import annotations

import hashlib
import json
import re
import zlib
from collections import defaultdict
from pathlib import Path
from urllib.parse import quote

from builder.bundle import without_comments
from builder.listing import files_below

NAME = "offline-worker.js"

#: The edition on the server: {"edition": the worker's version, "bytes": the size stored, "fetched": about the size
#: sent, compressed by the host}. Pages fetch it to see whether theirs is current.
EDITION = "edition.json"

_TEMPLATES = Path(__file__).resolve().parent / "templates"
_SCRIPTS = (NAME, "offline-shared.js")

#: Files that no page requests: the worker itself, and files for search engines only. (The theme reads sitemap.xml.)
_LEFT_OUT = frozenset({NAME, EDITION, "robots.txt"})

#: The order in which files are saved, so that pages needed at the bench come first if saving is interrupted. A file
#: belongs to the first pattern that its address begins with.
ORDER = tuple(
    re.compile(pattern)
    for pattern in (
        # What every page needs, the home page, and safety.
        r"assets/|(index|404|503)\.html$|logo\.|sitemap\.xml$|safety/",
        # How-tos, calculators' pages, and the search.
        r"(size|artwork|underlay|print|seal|sheet|apply|finish|rescue)/[^/]*(/index\.html)?$|search/|figures/",
        # What the calculators run on.
        r"engine/",
        # Troubleshooting entries, tables, glossary.
        r"rescue/|(reference|glossary)/",
    )
)

#: File types that hosts do not compress, since they are compressed already.
_PACKED = (".packed", ".woff2", ".png", ".jpg", ".webp", ".zip")

#: So many files of one kind are compressed; of further ones the size is estimated.
_SAMPLE = 200


def offline_files(site: Path) -> list[tuple[str, str, int]]:
    """Return (address below the site's root, digest, size in bytes) of every file for offline use, in the order of
    saving.

    The digest is the first 12 hexadecimal digits of SHA-256: enough to tell one edition's file from the next, and every
    reader fetches all of them again with each edition. Files whose name begins with a dot are not part of a site.
    """
    return [(address, digest, size) for address, digest, size, _ in _files_with_sizes(site)]


def _files_with_sizes(site: Path) -> list[tuple[str, str, int, int]]:
    files = []
    sampled: defaultdict[str, list[int]] = defaultdict(lambda: [0, 0, 0])
    for name in files_below(site):
        if name not in _LEFT_OUT and not name.startswith(".") and "/." not in name:
            with open(f"{site}/{name}", "rb") as file:
                content = file.read()
            sent = len(content) if name.endswith(_PACKED) else _sent(content, sampled[_alike(name)])
            files.append((quote(name), hashlib.sha256(content).hexdigest()[:12], len(content), sent))
    return sorted(files, key=lambda file: _place(file[0]))


def _sent(content: bytes, sample: list[int]) -> int:
    """Return about how many bytes a host sends for a file; ``sample`` sums up others like it: count, size, sent size.

    To compress each of ten thousand pages would take seconds, and those of entries compress alike.
    """
    count, size, sent = sample
    if count >= _SAMPLE:
        return round(len(content) * sent / size)
    # The fastest level is accurate enough: hosts differ more from each other.
    compressed = len(zlib.compress(content, 1))
    sample[:] = count + 1, size + len(content), sent + compressed
    return compressed


def _alike(name: str) -> str:
    """Return what the names of files of one kind have in common: the folder above a page's own, or a file's, and the
    ending.
    """
    folders, _, file = name.rpartition("/")
    return f"{folders.rpartition('/')[0] if file == 'index.html' else folders}*{file.rpartition('.')[2]}"


def _place(address: str) -> int:
    return next((place for place, pattern in enumerate(ORDER) if pattern.match(address)), len(ORDER))


def write_offline_worker(site: Path) -> None:
    """Write the offline worker of the finished site in ``site``, and its edition; every other file must have its last
    form.
    """
    files = _files_with_sizes(site)
    listed = ",\n".join(json.dumps(each[:3], separators=(",", ":")) for each in files)
    # Without its comments: every reader fetches it again with each edition.
    script = without_comments("".join((_TEMPLATES / name).read_text("utf-8") for name in _SCRIPTS))
    version = hashlib.sha256(f"{listed}\0{script}".encode()).hexdigest()[:12]
    (site / NAME).write_text(f'const VERSION = "{version}";\nconst FILES = [\n{listed}\n];\n{script}', "utf-8")
    edition = {"edition": version, "bytes": sum(each[2] for each in files), "fetched": sum(each[3] for each in files)}
    (site / EDITION).write_text(json.dumps(edition), "utf-8")

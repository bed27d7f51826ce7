"""What steps of a build have made, stored for the next build under the digest of all that they are made of."""

from __future__ import annotations

import hashlib
import os
import time
import uuid
from collections.abc import Callable, Iterable
from pathlib import Path

#: What no build has used for so long is deleted.
_UNUSED_S = 7 * 24 * 3600
_SUM = 32


def digest(made_of: Iterable[str | bytes]) -> str:
    """Return a digest of texts and bytes that also tells where each of them ends."""
    found = hashlib.sha256()
    for each in made_of:
        content = each.encode() if isinstance(each, str) else each
        found.update(len(content).to_bytes(8, "little") + content)
    return found.hexdigest()


class Stored:
    """Files in ``folder``, each named by the digest of what it was made of, with a checksum of its content before it.

    Builds may share a folder: whoever writes a name writes the same content.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def find(self, name: str) -> bytes | None:
        """Return what is stored under a digest; None if nothing is, or if it is damaged."""
        path = self._folder / name
        try:
            content = path.read_bytes()
            os.utime(path)
        except FileNotFoundError:
            return None
        return content[_SUM:] if hashlib.sha256(content[_SUM:]).digest() == content[:_SUM] else None

    def keep(self, name: str, content: bytes) -> bytes:
        """Store ``content`` under a digest, and return it."""
        self._folder.mkdir(parents=True, exist_ok=True)
        unfinished = self._folder / f".{uuid.uuid4().hex}"
        unfinished.write_bytes(hashlib.sha256(content).digest() + content)
        unfinished.replace(self._folder / name)
        return content

    def of(self, made_of: Iterable[str | bytes], make: Callable[[], bytes]) -> bytes:
        """Return what is stored of ``made_of``, or call ``make`` and store its result.

        ``made_of`` names the step, and has everything that the result depends on.
        """
        name = digest(made_of)
        found = self.find(name)
        return self.keep(name, make()) if found is None else found

    def tidy(self) -> None:
        """Delete what no build has used for a week."""
        for path in self._folder.glob("*") if self._folder.is_dir() else ():
            if path.stat().st_mtime < time.time() - _UNUSED_S:
                path.unlink(missing_ok=True)

"""Takes addresses for donations out of npm's lock files: ``python -m builder.plain_lock FILE...``."""

from __future__ import annotations

import json
import sys
from pathlib import Path


def plain(lock: str) -> str:
    """Return the text of a lock file without addresses for donations."""
    data = json.loads(lock)
    for package in data["packages"].values():
        package.pop("funding", None)
    return json.dumps(data, indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    for path in map(Path, sys.argv[1:]):
        path.write_text(plain(path.read_text("utf-8")), "utf-8")

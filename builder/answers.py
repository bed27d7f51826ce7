"""A cache of the answers that pages show, since most builds change only prose."""

from __future__ import annotations

import hashlib
import json
import pickle
import shutil
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from calculators.declare import Calculator


class Answers:
    """Stores answers of calculators in the subfolder ``stamp`` of ``folder``.

    ``stamp`` is the digest of the calculators and the data (``wheel.stamp``). Answers under another stamp are deleted.
    Without a folder nothing is stored.
    """

    def __init__(self, content: Path, folder: Path | None = None, stamp: str = "") -> None:
        self._content = content
        self._folder = folder / stamp[:32] if folder and stamp else None
        if folder and folder.is_dir():
            for other in folder.iterdir():
                if other != self._folder:
                    shutil.rmtree(other)

    def of(self, calculator: Calculator, what: str, typed: Mapping[str, Any], work_out: Callable[[], Any]) -> Any:
        """Return the stored answer, or call ``work_out`` and store its result.

        ``what`` separates questions about the same texts.
        """
        # The stamp does not cover calculators from other folders.
        if not calculator.compute.__module__.startswith(f"{Calculator.__module__.partition('.')[0]}."):
            return work_out()
        asked = hashlib.sha256(json.dumps([calculator.id, what, sorted(typed.items())]).encode())
        # Rows are lists, and name no file.
        for text in (each for each in typed.values() if isinstance(each, str)):
            path = self._content / text
            if path.suffix and path.is_file():
                asked.update(path.read_bytes())
        return self._stored(asked.hexdigest(), work_out)

    def of_file(self, what: str, name: str, data: bytes, work_out: Callable[[], Any]) -> Any:
        """Return what is stored of a file, or call ``work_out`` and store its result."""
        asked = hashlib.sha256(json.dumps([what, name]).encode())
        asked.update(data)
        return self._stored(asked.hexdigest(), work_out)

    def _stored(self, name: str, work_out: Callable[[], Any]) -> Any:
        if self._folder is None:
            return work_out()
        stored = self._folder / name
        if stored.is_file():
            return pickle.loads(stored.read_bytes())
        made = work_out()
        self._folder.mkdir(parents=True, exist_ok=True)
        unfinished = stored.with_suffix(".new")
        unfinished.write_bytes(pickle.dumps(made))
        unfinished.replace(stored)
        return made

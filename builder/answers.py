"""Answers that pages show, kept from one build to the next: most builds change words, and no answer."""

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
    """Keeps what calculators answered in a folder below ``folder`` that is named by ``stamp``.

    ``stamp`` is the digest of all that answers follow from besides what is asked (``wheel.stamp``). What was kept under
    another one is taken away. Without a folder nothing is kept.
    """

    def __init__(self, content: Path, folder: Path | None = None, stamp: str = "") -> None:
        self._content = content
        self._folder = folder / stamp[:32] if folder and stamp else None
        if folder and folder.is_dir():
            for other in folder.iterdir():
                if other != self._folder:
                    shutil.rmtree(other)

    def of(self, calculator: Calculator, what: str, typed: Mapping[str, str], work_out: Callable[[], Any]) -> Any:
        """Return what ``work_out`` returns, or returned when the same was asked.

        ``what`` tells apart what is asked of the same texts.
        """
        # A calculator that a folder beside ours brings is not in the stamp.
        if self._folder is None or not calculator.compute.__module__.startswith(
            f"{Calculator.__module__.partition('.')[0]}."
        ):
            return work_out()
        asked = hashlib.sha256(json.dumps([calculator.id, what, sorted(typed.items())]).encode())
        for text in typed.values():
            path = self._content / text
            if path.suffix and path.is_file():
                asked.update(path.read_bytes())
        kept = self._folder / asked.hexdigest()
        if kept.is_file():
            return pickle.loads(kept.read_bytes())
        made = work_out()
        self._folder.mkdir(parents=True, exist_ok=True)
        unfinished = kept.with_suffix(".new")
        unfinished.write_bytes(pickle.dumps(made))
        unfinished.replace(kept)
        return made

"""Calculators worked out for a page: with texts as a reader types them, and with pictures that lie in ``content/``."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from calculators import units
from calculators.declare import Calculator, FileField, SubmittedFile, asked
from calculators.read import read
from calculators.view import view


def worked(content: Path, calculator: Calculator, typed: Mapping[str, Any]) -> Any:
    """Return the results of a calculator for typed texts; what is left out keeps its default.

    A field that takes a file is given its path below ``content``. Raises ``ValueError`` with every problem.
    """
    texts, files = dict(typed), {}
    for name, field in asked(calculator.inputs).items():
        if isinstance(field, FileField) and name in texts:
            path = content / texts.pop(name)
            if not path.is_file():
                raise ValueError(f"There is no file content/{path.relative_to(content).as_posix()}")
            files[name] = SubmittedFile(path.name, path.read_bytes())
    reading = read(calculator.inputs, texts, files)
    if reading.problems:
        raise ValueError("; ".join(f"{each.field}: {each.text}. {each.hint}" for each in reading.problems))
    return calculator.answer(reading.inputs)


def shown(content: Path, calculator: Calculator, typed: Mapping[str, Any]) -> dict[str, Any]:
    """Return the same results as the page of the calculator shows them: titles of verdicts, rounded values."""
    return view(worked(content, calculator, typed), units.MM)

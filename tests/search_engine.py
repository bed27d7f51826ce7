"""Find… without a browser, for questions by the dozen.

The questions and the pages that answer them are in ``search_questions.yaml``.
"""

from __future__ import annotations

import hashlib
import json
import subprocess
from pathlib import Path

import yaml

HERE = Path(__file__).parent
TUNING, TEST = "tuning", "test"


def half(question: str) -> str:
    """Return whether a question may be looked at while the search is tuned, by its own hash."""
    return TUNING if hashlib.sha256(question.encode()).digest()[0] % 2 else TEST


def questions() -> dict[str, set[str]]:
    """Return the pages that answer each question."""
    told = yaml.safe_load((HERE / "search_questions.yaml").read_text("utf-8"))
    return {str(question): set(pages.split()) for question, pages in told.items()}


def found(site: Path, asked: list[str]) -> dict[str, list[str]]:
    """Return the addresses that Find… of a built ``site`` gives to each question, the best first."""
    command = ["node", str(HERE / "search_engine.mjs"), str(site), json.dumps(asked)]
    return json.loads(subprocess.run(command, check=True, capture_output=True, text=True, timeout=120).stdout)

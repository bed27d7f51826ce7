"""Odd requests from grammars end in an answer or in sentences that can be read:
some hundreds here, 20,000 by ``make fuzz``.
"""

from __future__ import annotations

import json
import subprocess
import sys

from calculators import catalogue
from tests.conftest import ROOT
from tests.fuzz.requests import request
from tests.fuzz.run import MOST_MB, MOST_S, tried

SEED, COUNT, SECONDS = 20_261_128, 360, 30


def test_odd_requests_end_without_fault_in_time_and_memory():
    ran = subprocess.run(
        [
            sys.executable,
            "-m",
            "tests.fuzz.run",
            "--seed",
            str(SEED),
            "--count",
            str(COUNT),
            "--minutes",
            str(SECONDS / 60),
        ],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=10 * SECONDS,
        check=False,
    )
    *found, summary = map(json.loads, ran.stdout.splitlines() or ['{"asked": 0}'])
    assert ran.returncode == 0 and found == [], (found, ran.stderr[-2000:])
    assert summary["slowest_s"] <= MOST_S and summary["memory_mb"] <= MOST_MB
    # Even the slowest machine asks at least half of them, and every outcome occurs.
    assert summary["asked"] >= COUNT // 2 and {"result", "problems", "restated", "inspected"} == set(
        summary["outcomes"]
    )


def test_every_calculator_is_asked_reproducibly():
    count = len(catalogue.every())
    asked_for = [request(SEED, number) for number in range(count)]
    assert {each.calculator for each in asked_for} == set(catalogue.every())
    assert asked_for[3] == request(SEED, 3) != request(SEED + 1, 3)


def test_faults_long_sentences_and_broken_lines_are_detected(monkeypatch):
    def replies(reply: dict) -> list[str]:
        monkeypatch.setattr("tests.fuzz.run.answer", lambda envelope, buffers: iter([(json.dumps(reply), [])]))
        number = next(each for each in range(100) if json.loads(request(SEED, each).envelope)["do"] == "answer")
        return tried(request(SEED, number))[1]

    def problem(text: str) -> dict:
        return {"outcome": "problems", "problems": [{"field": "", "text": text, "hint": ""}]}

    assert replies(problem("Enter printed width")) == []
    assert replies({"outcome": "fault", "text": "ValueError", "trace": "…"})
    assert (
        replies(problem(""))
        and replies(problem("x" * 5000))
        and replies(problem("a\nb"))
        and replies(problem("a\u202eb"))
    )

"""Every hostile file is read or refused in words that name it, within its time and its memory, natively."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from calculators.messages import display_name
from tests.hostile.readers import READERS

ROOT = Path(__file__).resolve().parents[2]

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def ran(written) -> subprocess.CompletedProcess:
    """One process for all readers, since each would load and warm up the same calculators."""
    return subprocess.run(
        [sys.executable, "-X", "faulthandler", "-m", "tests.hostile.bounded", str(written), *(r.name for r in READERS)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=1200,
        check=False,
    )


@pytest.mark.parametrize("reader", READERS, ids=lambda each: each.name)
def test_every_file_is_read_or_refused_within_its_bounds(written, ran, reader):
    lines = [json.loads(line) for line in ran.stdout.splitlines()]
    assert ran.returncode != -signal.SIGPROF, f"without end: {lines[-1]}"
    assert ran.returncode == 0, (lines[-1:], ran.stderr[-2000:])
    came = [each for each in lines if "begin" not in each and each["reader"] == reader.name]
    names = json.loads((written / "names.json").read_text("utf-8"))
    assert [each["name"] for each in came] == [name for number, name in enumerate(names) if reader.takes(number, name)]
    assert [each for each in came if each["fault"]] == []
    assert [each for each in came if each["text"] is not None and display_name(each["name"]) not in each["text"]] == []
    assert [each for each in came if each["time"] > 1] == []
    assert [each for each in came if each["memory"] > 1] == []
    refused = sum(each["text"] is not None for each in came)
    assert 0.3 * len(came) < refused < len(came)

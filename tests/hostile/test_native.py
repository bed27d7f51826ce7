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
def lines(written) -> list[dict]:
    """What is printed while all readers read the files."""
    ran = subprocess.run(
        [sys.executable, "-X", "faulthandler", "-m", "tests.hostile.bounded", str(written)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=1200,
        check=False,
    )
    printed = [json.loads(line) for line in ran.stdout.splitlines()]
    ends = [each for each in printed if "ended" in each]
    assert ran.returncode == 0 and len(ends) == len(READERS), ran.stderr[-2000:]
    # Shown beside a test that fails: traces of the processes.
    print(ran.stderr[-4000:] if any(each["ended"] for each in ends) else "")
    return printed


@pytest.mark.parametrize("reader", READERS, ids=lambda each: each.name)
def test_every_file_is_read_or_refused_within_its_bounds(written, lines, reader):
    *own, last = [each for each in lines if each["reader"] == reader.name]
    assert last["ended"] != -signal.SIGPROF, f"without end: {own[-1]}"
    assert last["ended"] == 0, own[-1:]
    came = [each for each in own if "begin" not in each]
    names = json.loads((written / "names.json").read_text("utf-8"))
    assert [each["name"] for each in came] == [name for number, name in enumerate(names) if reader.takes(number, name)]
    assert [each for each in came if each["fault"]] == []
    assert [each for each in came if each["text"] is not None and display_name(each["name"]) not in each["text"]] == []
    assert [each for each in came if each["time"] > 1] == []
    assert [each for each in came if each["memory"] > 1] == []
    refused = sum(each["text"] is not None for each in came)
    assert 0.3 * len(came) < refused < len(came)

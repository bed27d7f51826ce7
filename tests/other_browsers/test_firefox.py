"""The calculators in Firefox, in one session."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path

import pytest

from tests.other_browsers.smoke import check, task
from tests.tools import program


@pytest.mark.browser
def test_the_calculators_answer_in_firefox(workbench_server, screen, tmp_path):
    firefox = program("firefox-esr", "firefox", package="firefox-esr")
    written = tmp_path / "task.json"
    written.write_text(json.dumps({**task(workbench_server.url, tmp_path), "program": firefox}), "utf-8")
    script = Path(__file__).with_name("firefox.mjs")
    # Headless Firefox has no WebGL, so use a screen; render in software, since test machines have no graphics card.
    environment = {**os.environ, "DISPLAY": screen, "LIBGL_ALWAYS_SOFTWARE": "1"}
    ran = subprocess.run(
        ["node", str(script), str(written)], env=environment, capture_output=True, text=True, timeout=600, check=False
    )
    assert ran.returncode == 0, ran.stderr[-3000:]
    check(json.loads(ran.stdout))

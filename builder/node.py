"""Running our scripts in node: each is given its task as a JSON file and prints its report as JSON."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from builder.mistakes import Unable

#: The folder of the scripts.
SCRIPTS = Path(__file__).resolve().parent / "runtime"


class RuntimeFault(Unable):
    """A script of ours failed or cannot run; the text holds its own output."""


def run_script(script: str, scratch: Path, task: Mapping[str, Any]) -> dict[str, Any]:
    """Run a script of builder/runtime and return its report. Raises ``RuntimeFault`` with the script's own words."""
    written = scratch / f"{script}.json"
    written.write_text(json.dumps(task), "utf-8")
    node = shutil.which("node")
    if node is None:
        raise RuntimeFault("node is not on PATH (run make setup)")
    ran = subprocess.run([node, str(SCRIPTS / script), str(written)], capture_output=True, text=True, check=False)
    if ran.returncode:
        raise RuntimeFault(f"builder/runtime/{script} failed:\n{ran.stdout}{ran.stderr}")
    report: dict[str, Any] = json.loads(ran.stdout)
    return report

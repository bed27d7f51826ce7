"""The sourced cases, and the one way of comparing a result with them."""

import json
import math
import re
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent


def _cases() -> list[dict[str, Any]]:
    return [
        {**case, "source": read["source"]}
        for path in sorted(HERE.glob("*.json"))
        for read in [json.loads(path.read_text("utf-8"))]
        for case in read["cases"]
    ]


CASES = _cases()


def compared(case: dict[str, Any], result: dict[str, Any]) -> list[str]:
    """Return what differs between ``result`` and the case, with its source; nothing if all agrees."""
    differences = []
    for path, expected in case["expect"].items():
        got = result
        for step in re.findall(r"[^.\[\]]+", path):
            got = got[int(step)] if isinstance(got, list) else got[step]
        wanted = expected["value"]
        if isinstance(wanted, (int, float)) and not isinstance(wanted, bool):
            near = math.isclose(got, wanted, rel_tol=expected.get("rel", 0), abs_tol=expected.get("abs", 0))
        else:
            near = got == wanted
        if not near:
            differences.append(f"{path}: got {got}, expected {expected} ({case['source']})")
    return differences

"""Every hostile file is answered by the engine in the words of the native readers, within time and memory."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

from calculators.messages import display_name
from tests.hostile.readers import READERS

HERE = Path(__file__).parent
#: Milliseconds for one file: four times what it may take natively. Only the slowest may come near.
LIMIT_MS = 8000
#: Bytes by which the engine's process may grow: the largest file eight times, and a base for node's own.
GROWTH = 8 * (17 << 20) + (256 << 20)


def answers(site, config, tmp_path, calculator, files) -> dict:
    task = {"site": str(site.folder), "config": config, "calculator": calculator, "field": "picture", "files": files}
    written = tmp_path / "task.json"
    written.write_text(json.dumps(task), "utf-8")
    ran = subprocess.run(
        ["node", HERE / "read_in_engine.mjs", written], capture_output=True, text=True, timeout=300, check=False
    )
    assert ran.returncode == 0, ran.stderr[-2000:]
    report = json.loads(ran.stdout)
    assert report["boots"] == 1
    assert [each for each in report["answers"] if each["outcome"] not in ("result", "problems")] == []
    return report


def test_headers_give_the_same_messages_in_the_page(written, site_workbench, config, tmp_path):
    names = json.loads((written / "names.json").read_text("utf-8"))
    files = [{"name": name, "path": str(written / str(number)), "pixels": None} for number, name in enumerate(names)]
    report = answers(site_workbench, config, tmp_path, "drawing-size", files)
    natively = next(each.read for each in READERS if each.name == "drawing-size")
    differing = []
    for file, reply in zip(files, report["answers"], strict=True):
        text = natively(file["name"], Path(file["path"]).read_bytes())
        texts = [each["text"] for each in reply["problems"] if each["field"] == "picture"]
        if texts != ([text] if text else []):
            differing.append((file["name"], text, texts))
    assert differing == []
    assert max(each["ms"] for each in report["answers"]) < LIMIT_MS
    assert report["grown"] < GROWTH


def test_missing_or_mismatched_pixels_are_reported(written, site_workbench, config, tmp_path):
    """As if the browser could not decode the file, or decoded a size that differs from the header."""
    names = json.loads((written / "names.json").read_text("utf-8"))
    files = [
        {"name": name, "path": str(written / str(number)), "pixels": pixels}
        for number, name in enumerate(names)
        if not name.startswith("cut-at")
        for pixels in (None, {"width": 3, "height": 5})
    ]
    report = answers(site_workbench, config, tmp_path, "picture-pixels", files)
    untold = [
        (file["name"], reply)
        for file, reply in zip(files, report["answers"], strict=True)
        if [display_name(file["name"]) in each["text"] and each["field"] == "picture" for each in reply["problems"]]
        != [True]
    ]
    assert untold == []
    tiffs = [
        reply["problems"][0]
        for file, reply in zip(files, report["answers"], strict=True)
        if file["name"] == "one-pixel.tiff"
    ]
    assert tiffs[0]["text"] == "one-pixel.tiff is a TIFF, and browsers do not decode that"
    assert "PNG" in tiffs[0]["hint"]
    assert max(each["ms"] for each in report["answers"]) < LIMIT_MS
    assert report["grown"] < GROWTH

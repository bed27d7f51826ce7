"""Every request gets an answer, even if the worker fails."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.engine.conftest import run_node


@pytest.fixture(scope="module")
def came(site_workbench, config, tmp_path_factory) -> dict[str, Any]:
    """The report of each scenario of protocol.mjs."""
    folder = tmp_path_factory.mktemp("protocol")
    site = folder / "site"
    site.mkdir()
    shutil.copytree(site_workbench.folder / "engine", site / "engine")
    return run_node("protocol.mjs", {"site": str(site), "config": config, "broken": _broken(site, config)}, folder)


#: Runs into WebAssembly's "unreachable": a module of one function, by the binary format of the WebAssembly core
#: specification, chapter 5.
TRAP = """new WebAssembly.Instance(new WebAssembly.Module(new Uint8Array(
[0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 7, 5, 1, 1, 116, 0, 0, 10, 5, 1, 3, 0, 0, 11]
))).exports.t();"""


def _broken(site: Path, config: dict[str, Any]) -> dict[str, Any]:
    """Return configurations by name; each has one defect in its worker."""
    engine = site / "engine"
    (snapshot,), (wasm,), (module,) = (list(engine.glob(f"{name}.*")) for name in ("snapshot", "wasm", "pyodide.asm"))
    sheet = [path for path in engine.glob("*.packed") if path.name.partition(".")[0] == "sheet"]
    content = snapshot.read_bytes()
    spoilt = bytearray(content)
    spoilt[len(spoilt) // 2] ^= 0xFF
    for path in sheet:
        shutil.copyfile(path, f"{path}.slow")
    for name, written in {
        "spoilt": bytes(spoilt),
        "cut": content[:-1000],
        "wasm-cut": wasm.read_bytes()[: wasm.stat().st_size // 2],
        "silent.mjs": b"self.onmessage = () => {};\n",
    }.items():
        (site / name).write_bytes(written)
    worker = (site / config["worker"]).read_text("utf-8")

    def _address(path: Path) -> str:
        return path.relative_to(site).as_posix()

    def changed(name: str, others: dict[Path, str]) -> dict[str, Any]:
        """Return the configuration of a worker with some files replaced."""
        text = worker
        for path, other in others.items():
            quoted = f'"{_address(path)}"'
            assert text.count(quoted) >= 1, quoted
            text = text.replace(quoted, f'"{other}"')
        (site / f"{name}.mjs").write_text(text, "utf-8")
        return {"worker": f"{name}.mjs"}

    assert sheet
    asks = "steps = ask(envelope, buffers);"
    assert worker.count(asks) == 1
    (site / "traps.mjs").write_text(worker.replace(asks, TRAP), "utf-8")
    return {
        "traps": {"worker": "traps.mjs"},
        "partMissing": {
            **changed("partMissing", {path: f"{_address(path)}.gone" for path in sheet}),
            "sheet": [_address(path) for path in sheet],
        },
        "partNever": changed("partNever", {path: f"{_address(path)}.never" for path in sheet}),
        "partSlow": changed("partSlow", {path: f"{_address(path)}.slow" for path in sheet}),
        "silent": {"worker": "silent.mjs"},
        "wasmMissing": changed("wasmMissing", {wasm: "gone"}),
        "wasmCorrupt": changed("wasmCorrupt", {wasm: "wasm-cut"}),
        "moduleMissing": changed("moduleMissing", {module: "gone.mjs"}),
        "snapshotMissing": changed("snapshotMissing", {snapshot: "gone"}),
        "snapshotCorrupt": changed("snapshotCorrupt", {snapshot: "spoilt"}),
        "snapshotCut": changed("snapshotCut", {snapshot: "cut"}),
        "snapshotOfAnother": changed("snapshotOfAnother", {snapshot: _address(wasm)}),
    }


def test_progress_arrives_in_order_before_the_result(came):
    assert came["progress"] == {
        "before": "idle",
        "states": ["loading", "ready"],
        "shares": [0, 0.25, 0.5, 0.75],
        "steps": 4,
    }


def test_work_stops_between_steps_and_the_worker_survives(came):
    assert came["stoppedBetweenSteps"] == {"got": "stopped", "next": "result", "boots": 1}


def test_work_that_ignores_stop_ends_with_its_worker(came):
    assert came["stoppedInTheMiddleOfAStep"] == {"got": "stopped", "next": "result", "boots": 2}


def test_a_queued_request_can_be_stopped(came):
    assert came["stoppedBeforeItsTurn"] == {"got": ["result", "stopped", "stopped"], "boots": 1}


def test_overlong_work_ends_and_queued_requests_are_answered(came):
    assert came["tooLong"] == {"got": ["too-long", "result"], "boots": 2}


def test_every_request_is_answered_after_a_crash(came):
    assert came["crashed"] == {"got": ["fault", "fault"], "state": "idle", "next": "result", "boots": 2}


def test_a_request_that_breaks_python_is_asked_of_another_worker(came):
    assert came["brokenOnce"] == {
        "got": ["problems", "result"],
        "states": ["loading", "ready", "idle", "loading", "ready"],
        "boots": 2,
        "alive": 1,
    }


def test_a_request_that_breaks_python_twice_is_a_fault(came):
    # A third worker is ready for the next request, which this one breaks too; a fourth answers it.
    assert came["brokenAgain"] == {"got": ["fault", "result"], "text": "unreachable", "boots": 4}


def test_requests_are_answered_in_the_order_asked(came):
    assert came["answersInTheOrderAsked"] == {"order": [3, 1, 2], "boots": 1}


def test_a_large_worker_is_replaced_for_a_new_file(came):
    # Two bytes each, three at most: the same file changes nothing, another file brings a new worker.
    report = came["renewedForAnotherFile"]
    assert report["boots"] == [f"problems result {boots}" for boots in (1, 1, 1, 2, 2, 2, 3)]
    # The page does not notice.
    assert report["states"] == ["loading", "ready"] and report["alive"] == 1


def test_the_old_worker_continues_if_its_successor_fails(came):
    assert came["renewedInVain"] == {"got": ["problems", "result"], "state": "ready", "boots": 1, "alive": 1}


def test_a_request_waiting_for_the_new_worker_can_be_stopped(came):
    assert came["stoppedWhileItIsRenewed"] == {"got": ["stopped", "result"], "boots": 2}


def test_a_crash_during_replacement_still_answers_every_request(came):
    assert came["crashedWhileItIsRenewed"] == {"answered": True, "next": "result"}


def test_the_worker_is_started_once(came):
    assert came["startedTwice"] == {"boots": 1}


def test_a_silent_worker_times_out(came):
    assert came["silent"] == {"got": ["no-engine", "no-engine"], "state": "failed"}


@pytest.mark.parametrize("what", ["wasmMissing", "wasmCorrupt", "moduleMissing"])
def test_a_load_failure_reaches_all_waiting_requests(came, what):
    assert came[what] == {"got": ["no-engine", "no-engine"], "state": "failed", "quick": True}


def test_after_a_failed_load_the_next_request_tries_again(came):
    assert came["mended"] == {"got": ["no-engine", "result"], "boots": 2}


@pytest.mark.parametrize("what", ["snapshotMissing", "snapshotCorrupt", "snapshotCut", "snapshotOfAnother"])
def test_without_a_usable_snapshot_python_starts_plainly(came, what):
    assert came[what] == {"got": "result", "way": "plain", "boots": 1}


def test_a_missing_part_is_reported_and_fetched_again(came):
    assert came["partMissing"] == {"got": ["no-engine", "result", "result"], "state": "ready", "boots": 1}


def test_a_stalled_part_times_out(came):
    assert came["partNeverComes"] == {"got": ["result", "no-engine"], "state": "failed"}


def test_the_time_limit_starts_after_the_part_arrives(came):
    assert came["partIsSlow"] == {"got": ["result", "result"], "boots": 1}


def test_a_request_waiting_for_its_part_can_be_stopped(came):
    assert came["stoppedWhileAPartComes"] == {"got": "stopped", "next": "result", "boots": 1}

"""A page loads the parts of its own stage, and those of other stages on demand."""

from __future__ import annotations

import gzip
import json
import random
from base64 import b85encode
from pathlib import Path
from typing import Any

import pytest

from calculators import catalogue
from tests.engine.conftest import run_node
from tests.engine.test_packed import CALCULATOR, build

STAGES = sorted({each.stage for each in catalogue.every().values()})

#: Calculators of the stage rescue that import a module of another stage by a computed name.
STRAYING = {
    "of-a-stage": "calculators.underlay.chart",
    "of-a-shared-package": "calculators.colour.seen",
    "of-none": "calculators.colour.there_is_none",
}


def _write_package(folder: Path, bodies: dict[str, str], stage: str = "rescue") -> Path:
    folder.mkdir()
    (folder / "__init__.py").write_text("")
    for id, body in bodies.items():
        text = CALCULATOR.format(id=id, body=body, needs="()").replace('stage="rescue"', f'stage="{stage}"')
        (folder / f"{id.replace('-', '_')}.py").write_text(text)
    return folder


@pytest.fixture(scope="module")
def straying(tmp_path_factory) -> Path:
    bodies = {
        id: (
            "import importlib; return "
            f"Outputs(got=importlib.import_module('.'.join({tuple(name.split('.'))!r})).__name__)"
        )
        for id, name in STRAYING.items()
    }
    return _write_package(tmp_path_factory.mktemp("packages") / "straying", bodies)


@pytest.fixture(scope="module")
def site(tmp_path_factory, straying) -> tuple[Path, dict[str, Any]]:
    folder = tmp_path_factory.mktemp("parts")
    return folder, build(folder, straying)


def _ask(site, tmp_path, *ids: str, plain: bool = False) -> dict[str, Any]:
    folder, config = site
    requests = [{"do": "answer", "calculator": id, "inputs": {}} for id in ids]
    return run_node("ask.mjs", {"site": str(folder), "config": config, "plain": plain, "requests": requests}, tmp_path)


def _parts(site, addresses: list[str]) -> set[str]:
    """Return the names of the parts among the addresses that were fetched, the engine's left out."""
    known = {path for paths in site[1]["parts"].values() for path in paths}
    return {path.split("/")[1].split(".")[0] for path in known if any(each.endswith(path) for each in addresses)}


@pytest.mark.parametrize("plain", [False, True], ids=["snapshot", "plain"])
@pytest.mark.parametrize("stage", STAGES)
def test_calculators_answer_with_their_stage_s_parts_alone(site, tmp_path, stage, plain):
    ids = [each.id for each in catalogue.every().values() if each.stage == stage]
    report = _ask(site, tmp_path, *ids, plain=plain)
    assert [each["outcome"] for each in report["answers"]] == ["result"] * len(ids), report["answers"]
    # Python would wait only for a part that the sources do not name.
    assert _parts(site, report["waitedFor"]) == set()
    fetched = _parts(site, report["fetched"])
    assert stage in fetched and all(stage in part.split("-") for part in fetched)
    assert fetched == {path.split("/")[1].split(".")[0] for path in site[1]["parts"][stage]}
    # The engine's modules are in the memory snapshot, and are not fetched a second time.
    assert any(site[1]["files"]["engine"] in each for each in report["fetched"]) == plain


def test_each_stage_asks_for_these_parts(site):
    named = {stage: {path.split("/")[1].split(".")[0] for path in paths} for stage, paths in site[1]["parts"].items()}
    assert named == {
        "size": {"size", "apply-artwork-size-underlay"},
        "artwork": {"artwork", "artwork-underlay", "apply-artwork-size-underlay"},
        "underlay": {"underlay", "artwork-underlay", "apply-artwork-size-underlay"},
        "seal": {"seal", "apply-finish-seal"},
        "apply": {"apply", "apply-finish-seal", "apply-artwork-size-underlay"},
        "finish": {"finish", "apply-finish-seal"},
        "rescue": {"rescue"},
        "jobs": {"jobs"},
    }


def test_a_part_is_fetched_only_once(site, tmp_path):
    report = _ask(site, tmp_path, "resolution", "seen-colour", "picture-check", "underlay", "resolution")
    assert {each["outcome"] for each in report["answers"]} == {"result"}
    packed = [each.rpartition("/")[2] for each in report["fetched"] if each.endswith(".packed")]
    # WebAssembly, snapshot, two stages, what they share, and what they share with a third.
    assert len(packed) == len(set(packed)) == 6


#: All parts: a module shared by several stages may be in any of them.
EVERY = "every part"


@pytest.mark.parametrize("plain", [False, True], ids=["snapshot", "plain"])
@pytest.mark.parametrize(
    ("id", "loads"),
    [("of-a-stage", {"underlay", "artwork-underlay", "apply-artwork-size-underlay"}), ("of-a-shared-package", EVERY)],
)
def test_importing_a_module_loads_its_missing_part(site, tmp_path, id, loads, plain):
    report = _ask(site, tmp_path, id, "symptom-finder", plain=plain)
    assert [each["outcome"] for each in report["answers"]] == ["result", "result"], report["answers"]
    assert report["answers"][0]["result"]["got"] == STRAYING[id]
    assert _parts(site, report["fetched"]) == {"rescue"}
    every = {path.split("/")[1].split(".")[0] for paths in site[1]["parts"].values() for path in paths}
    assert _parts(site, report["waitedFor"]) == (every - {"rescue"} if loads is EVERY else loads)


def test_importing_an_unknown_module_is_a_fault(site, tmp_path):
    [got] = _ask(site, tmp_path, "of-none")["answers"]
    assert got["outcome"] == "fault" and "there_is_none" in got["text"]


def test_migration_and_unknown_calculators_need_no_part(site, tmp_path):
    folder, config = site
    job = {"format": 1, "revision": 3, "calculators": {}}
    requests = [{"do": "migrate", "job": job}, {"do": "answer", "calculator": "there-is-none"}]
    report = run_node(
        "ask.mjs", {"site": str(folder), "config": config, "plain": False, "requests": requests}, tmp_path
    )
    migrated, unknown = report["answers"]
    assert migrated["outcome"] == "job" and migrated["job"]["revision"] == 3
    assert unknown["outcome"] == "fault" and "there-is-none" in unknown["text"]
    assert _parts(site, report["fetched"]) == set()


@pytest.mark.parametrize("plain", [False, True], ids=["snapshot", "plain"])
def test_a_new_stage_barely_adds_to_other_pages(site, straying, tmp_path_factory, tmp_path, plain, larger):
    report = _ask(larger, tmp_path, "takes-room", plain=plain)
    assert [each["outcome"] for each in report["answers"]] == ["result"], report["answers"]
    own = sum((larger[0] / path).stat().st_size for path in larger[1]["parts"]["sheet"])
    assert own >= 200_000
    for id in ("scale-size", "trace"):
        assert (
            _weight(larger, _ask(larger, tmp_path, id, plain=plain))
            - _weight(site, _ask(site, tmp_path, id, plain=plain))
            <= 50_000
        )


@pytest.fixture(scope="module")
def larger(tmp_path_factory, straying) -> tuple[Path, dict[str, Any]]:
    """The same with a further stage of incompressible code and data, half each."""
    drawn = random.Random(7)
    code = b85encode(drawn.randbytes(90_000)).decode().replace("\\", "/")
    body = (
        f"import os.path; return Outputs(got=str(len({code!r}) + "
        "os.path.getsize(os.path.join(os.path.dirname(__file__), 'room.bin'))))"
    )
    package = _write_package(tmp_path_factory.mktemp("packages") / "roomy", {"takes-room": body}, stage="sheet")
    (package / "room.bin").write_bytes(drawn.randbytes(120_000))
    folder = tmp_path_factory.mktemp("larger")
    return folder, build(folder, straying, package)


def _weight(site, report: dict[str, Any]) -> int:
    """Return the compressed bytes of the fetched runtime files, including the configuration."""
    folder, config = site
    scripts = [config["worker"], config["files"]["pyodide"], config["files"]["module"]]
    fetched = {path for path in (each.partition(f"{folder.name}/")[2] for each in report["fetched"]) if path}
    assert len(fetched) >= 3
    packed = sum(len(gzip.compress((folder / path).read_bytes(), 6)) for path in scripts)
    return (
        packed
        + len(gzip.compress(json.dumps(config).encode(), 6))
        + sum((folder / path).stat().st_size for path in fetched)
    )

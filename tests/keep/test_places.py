"""The page finds and stores the values of a marking where ``calculators.jobs`` has them."""

from __future__ import annotations

import json
import subprocess
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from builder.job_places import job_places
from calculators import catalogue
from calculators.declare import MARKING, asked
from calculators.jobs import partners
from calculators.jobs.migrate import AREAS
from calculators.jobs.model import Available, Marking, Model, new_id, plain, read_job, shared_attributes
from calculators.jobs.typed_inputs import WIDTHS, known_texts
from tests.tools import needs

pytestmark = needs("node", "nodejs")
RUN = Path(__file__).with_name("run.mjs")
PLACES = job_places()

CREST: dict[str, Any] = {
    "id": "crest",
    "name": "Crest",
    "model": "railcar",
    "paints": ["Body", "Band"],
    "film": "clear",
    "width": "14 mm",
    "values": {"edges": {"text": "soft"}},
}
JOB: dict[str, Any] = {
    "format": 3,
    "models": [
        {
            "id": "railcar",
            "name": "Railcar",
            "scale": "1:43.5",
            "paints": [{"area": "Body", "colour": "#efe4c4"}, {"area": "Band", "colour": "#7a2232"}],
        }
    ],
    "available": {"viewing_distance": "300 mm", "printers": ["led", "laser"]},
    "markings": [CREST, {"id": "number", "name": "Number", "model": "railcar", "paints": ["Body"]}],
}


def run(*cases: dict[str, Any]) -> list[dict[str, Any]]:
    """Return what the page's modules make of some cases."""
    ran = subprocess.run(
        ["node", str(RUN)],
        input=json.dumps({"places": PLACES, "cases": cases}),
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    results: list[dict[str, Any]] = json.loads(ran.stdout)
    return results


def done(*acts: list[Any], marking: str = "crest", **parts: Any) -> dict[str, Any]:
    """Return what comes of acts on the job, whose crest has ``parts`` besides; the job is one that Python reads."""
    job = JOB | {"markings": [CREST | parts, *JOB["markings"][1:]]}
    (result,) = run({"job": job, "marking": marking, "acts": acts})
    read_job(result["job"])
    return result


def texts(result: dict[str, Any]) -> dict[str, str]:
    return {name: each["text"] for name, each in result["values"].items() if "text" in each}


def marking(result: dict[str, Any], id: str = "crest") -> dict[str, Any]:
    return next(each for each in result["job"]["markings"] if each["id"] == id)


def read(**values: str) -> list[Any]:
    """Return the act by which Python has read some texts."""
    return ["settle", {name.replace("_", "-"): {"text": text, "isRead": True} for name, text in values.items()}]


def test_every_value_of_a_model_or_job_has_its_attribute():
    """Else the page would not know with what to store it: a value without an attribute is that of the marking."""
    placed = {**shared_attributes(Model), **shared_attributes(Available), **AREAS}
    for calculator in catalogue.every().values():
        for name, field in asked(calculator.inputs).items():
            if field.shares:
                assert (field.shares in placed) == (field.shared_by != MARKING), f"{calculator.id}: {name}"


@pytest.mark.parametrize(
    "parts",
    [
        {},
        {"width_of": "with-margins"},
        {"width": "", "values": {"width": {"text": "0.6 in", "origin": "resolution", "picture": "a" * 64}}},
        {"paints": ["Band"]},
        {"paints": []},
        {"model": "", "paints": []},
        {"film": "", "printer": "laser", "white": "white-paint-spray"},
    ],
)
def test_values_are_found_where_python_finds_them(parts):
    job = read_job(JOB | {"markings": [CREST | parts, *JOB["markings"][1:]]})
    found = texts(done(**parts))
    expected = known_texts(job, job.marking("crest"))
    # Worked out of the width and the scale, which takes reading both.
    expected.pop("full-size", None)
    assert found == expected


def test_a_typed_text_decides_an_attribute_once_python_has_read_it():
    typed = done(["put", "film", {"text": "white", "from": "underlay"}])
    assert texts(typed)["film"] == "white" and marking(typed)["film"] == "clear"
    settled = done(["put", "film", {"text": "white", "from": "underlay"}], read(film="white"))
    assert marking(settled)["film"] == "white"
    assert settled["values"]["film"] == {"text": "white", "from": "underlay"}
    unread = done(
        ["put", "scale", {"text": "a hand", "from": "scale-size"}],
        ["settle", {"scale": {"text": "a hand", "isRead": False}}],
    )
    assert texts(unread)["scale"] == "a hand" and "scale" not in unread["job"]["models"][0]


def test_what_is_not_the_stored_text_decides_nothing():
    assert marking(done(["put", "film", {"text": "white"}], read(film="clear-thin")))["film"] == "clear"


def test_the_scale_is_that_of_the_model_for_all_its_markings():
    result = done(["put", "scale", {"text": "1:72"}], read(scale="1:72"))
    assert result["job"]["models"][0]["scale"] == "1:72"
    job = read_job(result["job"])
    assert known_texts(job, job.marking("number"))["scale"] == "1:72"
    again = {
        "job": result["job"],
        "marking": "number",
        "acts": [["put", "scale", {"text": "1:50"}], read(scale="1:50")],
    }
    (other,) = run(again)
    (crest,) = run({"job": other["job"], "marking": "crest", "acts": []})
    assert texts(crest)["scale"] == "1:50"


def test_the_viewing_distance_is_that_of_the_job():
    result = done(["put", "viewing-distance", {"text": "80 cm"}], read(viewing_distance="80 cm"))
    assert result["job"]["available"]["viewing_distance"] == "80 cm"


def test_the_width_that_was_chosen_decides():
    whole = {"width_of": "picture", "width": "20 mm"}
    result = done(*(["put", name.replace("_", "-"), {"text": text}] for name, text in whole.items()), read(**whole))
    assert (marking(result)["width"], marking(result)["width_of"]) == ("20 mm", "with-margins")
    own = {"width_of": "marking", "width": "20 mm", "own_width": "18 mm"}
    result = done(*(["put", name.replace("_", "-"), {"text": text}] for name, text in own.items()), read(**own))
    assert (marking(result)["width"], marking(result)["width_of"]) == ("18 mm", "own")
    job = read_job(result["job"])
    assert known_texts(job, job.marking("crest")).items() >= {"own-width": "18 mm", "width-of": "marking"}.items()
    unread = done(
        ["put", "own-width", {"text": "broad"}], ["settle", {"own-width": {"text": "broad", "isRead": False}}]
    )
    assert "width" not in marking(unread) and texts(unread)["own-width"] == "broad"


def test_another_colour_changes_only_a_paint_of_this_marking_alone():
    """The crest alone lies on the band; the number lies on the body too."""
    band = done(["put", "paint-b", {"text": "#101010"}], read(paint_b="#101010"))
    assert band["job"]["models"][0]["paints"][1] == {"area": "Band", "colour": "#101010"}
    body = done(["put", "paint-a", {"text": "#ffffff"}], read(paint_a="#ffffff"))
    paints = {each["area"]: each["colour"] for each in body["job"]["models"][0]["paints"]}
    assert paints == {"Body": "#efe4c4", "Band": "#7a2232", "First paint": "#ffffff"}
    assert marking(body)["paints"] == ["First paint", "Band"] and marking(body, "number")["paints"] == ["Body"]
    other = done(["put", "paint-a", {"text": "#7a2232"}], read(paint_a="#7a2232"), marking="number")
    assert marking(other, "number")["paints"] == ["Band"]


def test_one_paint_typed_twice_stays_one():
    both = {"paint_a": "#efe4c4", "paint_b": "#efe4c4"}
    result = done(
        *(["put", name.replace("_", "-"), {"text": text}] for name, text in both.items()),
        read(**both),
        marking="number",
    )
    assert marking(result, "number")["paints"] == ["Body"]


def test_a_changed_attribute_counts_for_more_than_what_was_typed():
    typed = [["put", name, {"text": "20 mm"}] for name in WIDTHS[1:]] + [["put", "film", {"text": "white"}]]
    changed = done(*typed, ["set", "crest", {"width": "30 mm", "film": "clear"}])
    assert texts(changed)["own-width"] == "30 mm"
    # Typed as white and never read, so the attribute has not changed.
    assert texts(changed)["film"] == "white"
    converted = done(
        ["put", "width", {"text": "20 mm"}],
        read(width="20 mm"),
        ["set", "crest", {"width": "16 mm", "width_of": "own"}],
    )
    assert texts(converted)["width"] == "20 mm"


def test_partners_are_made_and_follow_as_in_python():
    job = read_job(JOB)
    paired = partners.with_partner(job, "crest", "mirrored", "Crest, right")
    acts = [["partner", "crest", "mirrored", "Crest, right"], ["used", "crest-right"]]
    (made,) = run({"job": JOB, "marking": "crest", "acts": acts})
    assert read_job(made["job"]) == paired
    used = {name: each for name, each in made["answers"][1].items() if name in ("id", "name", "width", "film")}
    expected = partners.as_used(paired, paired.marking("crest-right"))
    assert used == {name: getattr(expected, name) for name in used} and used["width"] == "14 mm"


def test_a_copy_and_a_partner_of_a_series_have_nothing_of_it_done():
    rows = [{"text": "12", "copies": 2, "bench": {"printed": 2}}, {"text": "13"}]
    series = {**JOB, "markings": [{**CREST, "rows": rows}]}
    acts = [["partner", "crest", "same", "Crest, right"], ["used", "crest-right"], ["duplicate", "crest"]]
    (made,) = run({"job": series, "marking": "crest", "acts": acts})
    undone = [{"text": "12", "copies": 2}, {"text": "13"}]
    assert made["answers"][1]["rows"] == marking(made, "crest-2")["rows"] == undone
    assert marking(made, "crest")["rows"] == rows
    job = read_job(made["job"])
    used = partners.as_used(job, job.marking("crest-right"))
    assert plain(replace(job, markings=(used,)))["markings"][0]["rows"] == undone


@pytest.mark.parametrize("act", ["separate", "removeMarking"])
def test_a_partner_on_its_own_keeps_what_it_took_over(act):
    paired = partners.with_partner(read_job(JOB), "crest", "mirrored", "Crest, right")
    taken_over = partners.as_used(paired, paired.marking("crest-right"))
    whose = "crest-right" if act == "separate" else "crest"
    (apart,) = run({"job": plain(paired), "marking": "crest", "acts": [[act, whose]]})
    job = read_job(apart["job"])
    partner = replace(taken_over.partner, follows=False) if act == "separate" else None
    assert job.marking("crest-right") == replace(taken_over, partner=partner)
    left = [each for each in paired.markings if each.id not in ("crest-right", whose)]
    assert [each for each in job.markings if each.id != "crest-right"] == left


def test_what_is_typed_for_a_partner_is_its_twins():
    paired = plain(partners.with_partner(read_job(JOB), "crest", "same", "Crest, right"))
    (result,) = run(
        {"job": paired, "marking": "crest-right", "acts": [["put", "film", {"text": "white"}], read(film="white")]}
    )
    assert marking(result)["film"] == "white" and "film" not in marking(result, "crest-right")


def test_a_new_marking_lies_where_the_one_before_does_and_shows_nothing():
    result = done(["add", "crest", {}])
    made = marking(result, result["answers"][0])
    assert made == {
        "id": "marking-3",
        "name": "Marking 3",
        "model": "railcar",
        "paints": ["Body", "Band"],
        "film": "clear",
    }
    assert [each["id"] for each in result["job"]["markings"]] == ["crest", "marking-3", "number"]


def test_a_copy_has_everything_but_what_is_done_at_the_bench():
    result = done(["duplicate", "crest"], bench={"printed": 3})
    copy, crest = marking(result, "crest-2"), read_job(result["job"]).marking("crest")
    expected = replace(crest, id="crest-2", name="Crest 2", bench=Marking(id="x", name="x").bench)
    assert read_job(result["job"]).marking("crest-2") == expected and "bench" not in copy


@pytest.mark.parametrize("name", ["Crest, left", "Crest", "É 12 Ö", "…", "a" * 60, "  x  "])
def test_ids_are_made_of_names_as_in_python(name):
    (result,) = run({"job": JOB, "marking": "crest", "acts": [["newId", name]]})
    assert result["answers"] == [new_id(name, ["crest", "number"])]


def test_a_hostile_file_name_becomes_one_that_python_reads():
    (result,) = run({"job": JOB, "marking": "crest", "acts": [["lineOf", "<b>\u202ea\nb\x00.png</b>" + "x" * 300]]})
    name = result["answers"][0]
    file = {"file": {"hash": "a" * 64, "name": name}}
    read_job(JOB | {"markings": [CREST | {"files": {"picture": file}}]})
    assert name.startswith("<b>ab.png</b>x") and len(name) == 255

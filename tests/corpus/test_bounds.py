"""Bounds over records made by hand: what counts, what does not, and how a share compares with its aim."""

import pytest

from tests.corpus.bounds import AT_LEAST, AT_MOST, BOUNDS, Bound, detail_by_way, figures, in_words


def record(**more):
    return {
        "size": 300,
        "renderer": "cairo",
        "quality": 0,
        "chroma": "",
        "again": False,
        "file": "PNG",
        "factor": 1.0,
        "enlarged": "no",
        "damage_told": False,
        "damaged_share": 0.0,
    } | more


def flat(**more):
    return record(
        **{
            "missing": [],
            "invented": [],
            "colour_errors": [],
            "thin_errors": [],
            "clean_level": "pass",
            "trace_level": "watch",
            "clean_hides": False,
            "trace_hides": False,
            "clean_gone": False,
            "trace_gone": False,
        }
        | more
    )


def reached(name, *records):
    (bound,) = (each for each in BOUNDS if each.name == name)
    return bound.reached(records)


def test_detail_counts_enlarged_pictures_by_saving():
    records = (
        record(factor=2.0, detail_error=0.1),
        record(factor=2.0, detail_error=0.2),
        record(),
        record(factor=2.0, detail_error=0, quality=85),
    )
    assert reached("true detail within 15 %, lossless", *records) == (0.5, 2)
    assert reached("true detail within 15 %, JPEG 85", *records) == (1.0, 1)


def test_false_enlargement_verdicts_are_counted():
    records = (
        record(),
        record(enlarged="smooth"),
        record(factor=0.5, enlarged="nearest"),
        record(enlarged="unknown"),
        record(factor=2.0, enlarged="smooth"),
    )
    assert reached("originals called enlarged", *records) == (0.5, 4)
    assert reached("originals of which it cannot be known", *records) == (0.25, 4)


def test_damage_counts_actual_errors_only():
    records = (
        record(damaged_share=0.2, damage_told=True),
        record(damaged_share=0.2),
        record(damaged_share=0.004, damage_told=True, file="JPEG"),
    )
    assert reached("JPEG damage reported where there is some", *records) == (0.5, 2)
    assert reached("JPEG damage reported where there is none", *records) == (1.0, 1)


def test_colours_count_from_180_pixels_on():
    assert reached(
        "no colour missing or invented, PNG by cairo",
        flat(),
        flat(invented=[(1, 2, 3)]),
        flat(size=120, missing=[(1, 2, 3)]),
    ) == (0.5, 2)


def test_near_colours_count_colour_by_colour():
    assert reached(
        "colours 4 px wide found within 3, PNG", flat(colour_errors=[1, 2, 4]), flat(colour_errors=[2.9])
    ) == (0.75, 4)


def test_green_verdicts_hiding_a_loss_are_counted():
    records = (flat(trace_level="pass", clean_hides=True), flat(clean_level="watch", clean_hides=True))
    assert reached("green verdicts that hide a loss", *records) == (0.5, 2)
    assert reached("- of trace", *records) == (0.0, 1)


def test_green_is_asked_for_only_where_nothing_was_lost():
    records = (flat(), flat(clean_hides=True, trace_level="pass"), flat(missing=[(1, 2, 3)], clean_level="watch"))
    assert reached("green where nothing was lost, PNG", *records) == (pytest.approx(2 / 3), 3)


def test_a_picture_without_an_answer_counts_for_that_alone():
    records = (record(), {"no_answer": "trace: fault"})
    assert reached("pictures about which a calculator gives no answer", *records) == (0.5, 2)
    assert reached("originals called enlarged", *records) == (0.0, 1)


def test_no_relevant_records_give_no_share():
    assert reached("white area told right, 300 px", record()) == (None, 0)
    assert "-" in in_words([record()])


def test_a_bound_holds_at_its_aim():
    assert Bound("", AT_LEAST, 0.9, record).holds(0.9) and not Bound("", AT_LEAST, 0.9, record).holds(0.89)
    assert Bound("", AT_MOST, 0.05, record).holds(0.05) and not Bound("", AT_MOST, 0.05, record).holds(0.06)


def test_missed_bounds_are_marked_in_the_table():
    table = in_words([record(factor=2.0, detail_error=0.5), record(enlarged="no")])
    (line,) = (each for each in table.splitlines() if each.startswith("true detail within 15 %, lossless"))
    assert line.split()[-8:] == ["at", "least", "90", "%", "0.0", "%", "1", "short"]
    (line,) = (each for each in table.splitlines() if each.startswith("originals called"))
    assert not line.endswith("short")


def test_every_bound_reaches_the_page_in_its_group():
    rows = figures([flat(invented=[(1, 2, 3)]), flat()])
    assert [each["name"] for each in rows] == [bound.name for bound in BOUNDS]
    (colours,) = (each for each in rows if each["name"] == "no colour missing or invented, PNG by cairo")
    assert colours == {
        "group": "colours",
        "name": colours["name"],
        "kind": AT_LEAST,
        "aim": 0.98,
        "reached": 0.5,
        "of": 2,
        "unit": "%",
    }


def test_detail_is_counted_by_quality_method_and_factor():
    def enlarged(error, **more):
        return record(factor=2.0, kernel="bicubic", detail_error=error, **more)

    rows = detail_by_way(
        [enlarged(0.1), enlarged(0.2), enlarged(0.0, quality=85), enlarged(0.0, quality=85, again=True), record()]
    )
    assert rows == [
        {"quality": 0, "kernel": "bicubic", "factor": 2.0, "told": 1, "of": 2},
        {"quality": 85, "kernel": "bicubic", "factor": 2.0, "told": 1, "of": 1},
    ]

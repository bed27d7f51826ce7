"""Lists of markings as CSV: written harmless, read back the same, and every mistake with its row and column."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.declare import Refused
from calculators.jobs.lists import RUN, headings, merged, read_for, read_list, written
from calculators.jobs.model import plain, read_job
from tests.calculators.jobs.made import JOB, LISTED


def read(text: str | bytes, **more):
    return read_list(text, "list.csv", **more)


@settings(max_examples=80, deadline=None)
@given(st.lists(LISTED, max_size=6, unique_by=lambda each: each.id).map(tuple))
def test_a_written_list_is_read_back_the_same(markings):
    found = read(written(markings).encode())
    assert not found.problems and not found.unread
    assert found.markings == markings


@settings(max_examples=80, deadline=None)
@given(st.lists(LISTED, max_size=4, unique_by=lambda each: each.id).map(tuple))
def test_no_written_cell_begins_like_a_formula(markings):
    rows = csv.reader(io.StringIO(written(markings), newline=""))
    assert [cell for row in rows for cell in row if cell.startswith(RUN)] == []


@pytest.mark.parametrize("between", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_separators_and_encodings_are_recognised(between, encoding):
    rows = [["Name", "Width", "Copies"], ["Türschild", "12,5 mm", "2"]]
    made = io.StringIO()
    csv.writer(made, delimiter=between).writerows(rows)
    [marking] = read(made.getvalue().encode(encoding)).markings
    assert (marking.id, marking.name, marking.width, marking.copies) == ("turschild", "Türschild", "12,5 mm", 2)


def mistaken() -> tuple[str, set[str]]:
    """Return a list of 300 markings of which 20 have a mistake, and where these are."""
    rows, places = [["Name", "Width", "Film", "Copies", "Follows"]], set()
    wrong = [("Width", "wide"), ("Film", "tin"), ("Copies", "-1"), ("Name", "")]
    for at in range(300):
        row = {"Name": f"Marking {at}", "Width": "12,5", "Film": "clear", "Copies": "1", "Follows": ""}
        if at % 15 == 7:
            column, text = wrong[at // 15 % 4]
            row[column] = text
            places.add(f"row {at + 2}, {column}")
        rows.append(list(row.values()))
    made = io.StringIO()
    csv.writer(made, delimiter=";").writerows(rows)
    return made.getvalue(), places


def test_twenty_mistakes_in_300_rows_are_told_by_row_and_column():
    text, places = mistaken()
    found = read(text)
    assert len(places) == 20
    assert sorted(each.field for each in found.problems) == sorted(places)
    assert len(found.markings) == 280
    lines = list(csv.reader(io.StringIO(text), delimiter=";"))
    assert [list(each.cells) for each in found.unread] == [lines[each.number - 1] for each in found.unread]
    assert len(found.unread) == 20


def test_column_names_can_be_mapped_and_unknown_ones_are_told():
    text = "Titel,Breite,Farbe\nWappen,14,rot\n"
    found = read(text, mapped={"Titel": "Name", "breite": "Width"})
    assert [(each.name, each.width) for each in found.markings] == [("Wappen", "14")]
    assert [each.field for each in found.problems] == ["row 1, column 3"]
    assert not read(text, mapped={"Titel": "Name", "Breite": "Width", "Farbe": ""}).problems


def test_a_list_without_known_columns_is_refused_with_their_names():
    with pytest.raises(Refused) as refused:
        read("a,b\n1,2\n")
    assert all(each in refused.value.problems[0].hint for each in headings())


def test_what_follows_an_open_quotation_mark_is_kept_as_it_came():
    text = 'Name,Width\nCrest,14\n"Band,20\nStripe,3\n'
    found = read(text)
    assert [each.name for each in found.markings] == ["Crest"]
    assert [each.field for each in found.problems] == ["row 3"]
    assert found.unread[0].cells == ('"Band,20\nStripe,3\n',)


def test_ids_in_a_list_are_never_given_to_other_rows():
    found = read("Id,Name\n,Crest\ncrest,Other\n")
    assert sorted(each.id for each in found.markings) == ["crest", "crest-2"]


def test_a_list_keeps_what_it_does_not_tell_of_a_marking():
    found = read(written(JOB.markings).replace("14 mm", "15 mm"))
    job = merged(JOB, found.markings)
    assert job.marking("crest").width == "15 mm"
    assert job.marking("crest").files == JOB.marking("crest").files
    assert [each.id for each in job.markings] == [each.id for each in JOB.markings]
    assert merged(JOB, read(written(JOB.markings)).markings) == JOB


def test_a_model_may_be_given_by_its_name():
    [marking] = read_for(JOB, "Name,Model,Lies on\nBand,railcar 12,Above | Below\n", "list.csv").markings
    assert (marking.model, marking.paints) == ("railcar", ("Above", "Below"))


def test_what_does_not_go_together_with_the_job_is_told_by_row_and_column():
    text = (
        "Id,Name,Model,Lies on,Partner of\n"
        "a,Band,launch,,\n"
        "b,Stripe,Railcar 12,Roof,\n"
        "c,Stripe 2,,,b\n"
        "d,Other,,,gone\n"
        "e,Crest 2,Railcar 12,Above,crest\n"
    )
    found = read_for(JOB, text, "list.csv")
    # The third row misses its twin, which is the second.
    assert sorted(each.field for each in found.problems) == [
        "row 2, Model",
        "row 3, Lies on",
        "row 4, Partner of",
        "row 5, Partner of",
    ]
    assert [each.id for each in found.markings] == ["e"]
    assert sorted(each.number for each in found.unread) == [2, 3, 4, 5]
    assert read_job(plain(merged(JOB, found.markings)))

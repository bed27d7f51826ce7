"""What is collected from a job: what the bench lacks, partners, series, white pieces and films."""

import json
from dataclasses import replace

import pytest

from builder.demo_job import demo_job as saved_demo_job
from calculators.declare import Refused
from calculators.jobs.archive import saved_bytes
from calculators.jobs.demo import demo_job
from calculators.jobs.model import Bench, Marking, SeriesRow
from calculators.jobs.whole import Whole, read_whole, whole_bytes
from calculators.sheets import collect as collecting
from calculators.sheets.collect import OF_JOB, Wanted, collect, size_of
from calculators.sheets.layout import SHORT_ALONG, Spacing, Stock, lay_out
from calculators.sheets.model import Part

WANTED = Wanted(bleed=1, rim=0.5, tab=6, spares=OF_JOB, trial=False)


def with_marking(**changes) -> Whole:
    """The demo job with only its crest and the partner of that, the crest changed."""
    whole = demo_job()
    crest, partner = whole.job.marking("crest"), whole.job.marking("crest-right")
    return replace(whole, job=replace(whole.job, markings=(replace(crest, **changes), partner)))


def counts(whole: Whole, **changes) -> dict[str, tuple[int, int]]:
    return {each.id: (each.copies, each.spares) for each in collect(whole, replace(WANTED, **changes)).items}


def test_copies_and_spares_less_what_is_printed_and_not_spoiled():
    assert counts(with_marking(copies=3, spares=1)) == {"crest": (3, 1), "crest-right": (3, 1)}
    assert counts(with_marking(copies=3, spares=1, bench=Bench(printed=2, spoiled=1)))["crest"] == (2, 1)
    # What is on the model is still printed: only what was spoiled is wanted again.
    assert counts(with_marking(copies=3, spares=1, bench=Bench(printed=3, on_model=3)))["crest"] == (0, 1)


def test_a_marking_that_lacks_nothing_is_named():
    found = collect(with_marking(copies=1, spares=0, bench=Bench(printed=4)), WANTED)
    assert [(each.id, each.why) for each in found.missing] == [("crest", collecting.ENOUGH)]


def test_a_mirrored_partner_is_mirrored_and_lies_with_its_twin():
    left, right = collect(with_marking(), WANTED).items
    assert (left.mirrored, right.mirrored) == (False, True)
    assert left.set_id == right.set_id != ""
    assert left.content == right.content


def test_a_marking_seen_through_its_film_is_mirrored_once_more():
    left, right = collect(with_marking(), replace(WANTED, face_down=frozenset({"crest", "crest-right"}))).items
    assert [(each.mirrored, each.face_down) for each in (left, right)] == [(True, True), (False, True)]


def test_each_row_of_a_series_is_a_piece_of_one_set():
    rows = (SeriesRow(text="12", copies=2), SeriesRow(text="14", copies=1, bench=Bench(printed=1)))
    found = collect(with_marking(rows=rows, spares=1), WANTED)
    assert {each.id: (each.name, each.copies, each.spares) for each in found.items} == {
        "crest/1": ("Crest, left, 12", 2, 1),
        "crest/2": ("Crest, left, 14", 0, 1),
        # On the other side nothing of the second row is done.
        "crest-right/1": ("Crest, right, 12", 2, 1),
        "crest-right/2": ("Crest, right, 14", 1, 1),
    }
    assert len({each.set_id for each in found.items}) == 1


def test_a_backing_piece_comes_on_white_film_with_the_same_crosses():
    found = collect(with_marking(way="backing-piece"), WANTED)
    colour, white = found.items[:2]
    assert (colour.film, white.film, white.part) == ("clear", "white", Part.WHITE_UNDER)
    assert (colour.size, colour.crosses, colour.fixed_turn) == (white.size, white.crosses, white.fixed_turn)
    assert colour.crosses and colour.fixed_turn and colour.set_id == white.set_id
    assert (colour.rim, colour.bleed, white.rim) == (0.5, 0, 0)


@pytest.mark.parametrize("way", ["stencil-only", "white-service"])
def test_what_is_not_printed_at_home_is_named(way):
    found = collect(with_marking(way=way), WANTED)
    assert {each.why for each in found.missing} == {collecting.NO_FILM}


def test_white_film_has_bleed_and_clear_film_a_rim():
    by_film = {each.film: (each.bleed, each.rim) for each in collect(demo_job(), WANTED).items}
    assert by_film == {"clear": (0, 0.5), "white": (1, 0)}


def test_a_marking_whose_file_is_gone_is_named_and_the_others_stay():
    whole = demo_job()
    gone = whole.job.marking("crest").files["picture"].file.hash
    found = collect(replace(whole, files={h: data for h, data in whole.files.items() if h != gone}), WANTED)
    assert [(each.id, each.why) for each in found.missing] == [
        ("crest", collecting.FILE_GONE),
        ("crest-right", collecting.FILE_GONE),
    ]
    assert len(found.items) == len(whole.job.markings) - 2


def test_markings_without_width_or_picture_are_named():
    whole = demo_job()
    job = replace(whole.job, markings=(Marking(id="a", name="A"), replace(whole.job.marking("crest"), width="")))
    found = collect(replace(whole, job=job), WANTED)
    assert [each.why for each in found.missing] == [collecting.NO_PICTURE, collecting.NO_WIDTH]


def test_a_trial_piece_comes_with_each_film():
    found = collect(demo_job(), replace(WANTED, trial=True))
    trials = [each for each in found.items if each.part is Part.TRIAL]
    assert [(each.film, each.pieces) for each in trials] == [("clear", 1), ("white", 1)]


@pytest.mark.parametrize(
    ("head", "size"),
    [
        (b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 46.4 3.4">', 46.4 + 3.4j),
        (b"<?xml version='1.0'?>\n<svg width='30mm' height='10mm'>", 30 + 10j),
        (b'<svg width="100%" height="0">', None),
        (b"<svg>", None),
        (b"no picture", None),
    ],
)
def test_the_proportions_of_a_drawing_come_from_its_first_tag(head, size):
    assert size_of(head + b"</svg>") == size


def test_a_job_travels_whole_as_a_page_hands_it_over_and_as_a_saved_job():
    whole = demo_job()
    assert read_whole(whole_bytes(whole), "job") == whole
    saved = saved_demo_job()
    read = read_whole(saved_bytes(saved), "job.zip")
    assert (read.job, read.files) == (whole.job, whole.files)
    assert read.facts == saved.measured


@pytest.mark.parametrize(
    "data", [b"", b"\n", b"{}\n", b"[]\n", b"no job", json.dumps({"files": [["a"]]}).encode() + b"\n"]
)
def test_what_is_no_job_is_refused(data):
    with pytest.raises(Refused):
        read_whole(data, "crest.png")


def test_the_whole_demo_set_fits_on_half_a_sheet_of_each_film():
    """A4 cut in two is 148.5 x 210 mm (ISO 216); margins of 5 mm, by hand with gaps of 3 mm."""
    found = collect(demo_job(), Wanted(bleed=1, rim=0.5, tab=6))
    laid_out = lay_out(found.items, Stock("half-a4", 148.5 + 210j, (5, 5, 5, 5)), Spacing(3, bars=SHORT_ALONG))
    assert laid_out.left_out == ()
    assert [sheet.film for sheet in laid_out.sheets] == ["clear", "white"]
    placed = sum(len(sheet.placements) for sheet in laid_out.sheets)
    assert placed == sum(each.pieces for each in found.items) + 2  # a test strip on each

"""The answer about the sheet: what is refused and why, what is counted, and what it costs."""

import io
import json
import time
from dataclasses import replace
from hashlib import sha256

import ezdxf
import pikepdf
import pytest
from PIL import Image

from calculators import catalogue, units
from calculators.answer import answer
from calculators.declare import Refused, SubmittedFile
from calculators.declare.sentences import sentence
from calculators.jobs.demo import demo_job
from calculators.jobs.model import Bench, Job, Marking, SharedFile, StoredFile
from calculators.jobs.whole import Whole, whole_bytes
from calculators.sheet.sheet import (
    FITS,
    INCOMPLETE,
    LEFT_OUT,
    NO_ROOM,
    NOTHING,
    REFUSED,
    SEVERAL,
    TOO_MANY,
    SheetInputs,
    sheet,
)
from calculators.sheets.correction import PrinterError
from calculators.sheets.printer_errors import KnownError, written
from calculators.values import NamedFile, in_one_go
from tests.calculators.files.pdf_geometry import things


def laid_out(whole: Whole | None = None, **typed):
    job = NamedFile("job", "", whole_bytes(whole)) if whole else None
    return in_one_go(sheet(SheetInputs(job=job, **typed)))


def sentences_of(found) -> list[str]:
    return [sentence(each, units.MM) for each in found.reasons]


def refused(**typed) -> dict[str, str]:
    with pytest.raises(Refused) as found:
        laid_out(**typed)
    return {each.field: each.text for each in found.value.problems}


RECTANGLE = '<rect width="4" height="3" fill="#7a2232"/>'


def drawn(id: str, width: str, box: str, **more) -> tuple[Marking, bytes]:
    data = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {box}">{RECTANGLE}</svg>'.encode()
    file = StoredFile(hash=sha256(data).hexdigest(), name=f"{id}.svg")
    return Marking(
        id=id, name=id.title(), width=width, kind="outlines", files={"outlines": SharedFile(file=file)}, **more
    ), data


def job_of(*made: tuple[Marking, bytes]) -> Whole:
    return Whole(Job(markings=tuple(each for each, _ in made)), {sha256(data).hexdigest(): data for _, data in made})


def test_the_demonstration_job_is_laid_out_without_a_job():
    found = laid_out()
    assert found.verdict == FITS
    assert [each.film for each in found.sheets] == ["clear", "white"]
    assert found.missing == ()
    assert {each.part for each in found.placed} == {"colour", "trial"}


def test_length_and_share_are_those_of_the_pieces():
    # Two squares of 20 mm with a rim of 0.5 and tabs of 6 mm are 27 x 21 mm each, side by side.
    found = laid_out(job_of(drawn("disc", "20 mm", "40 40", copies=2)), spares="job", bars="none", tests=False)
    assert found.used_mm == pytest.approx(5 + 21 + 3)
    assert found.share == pytest.approx(100 * 2 * 27 * 21 / (210 * 29))
    assert [(each.width_mm, each.height_mm, each.copies) for each in found.placed] == [(20, 20, 2)]
    assert found.placed[0].more_mm == 0  # a third one lies beside them


def test_one_more_takes_the_length_of_a_further_row():
    # 7 of 27 mm and 6 gaps of 3 mm leave 200 - 207 mm: six in a row, and a seventh below.
    found = laid_out(job_of(drawn("disc", "20 mm", "40 40", copies=6)), spares="job", bars="none", tests=False)
    assert found.placed[0].more_mm == pytest.approx(3 + 21)


def test_film_spares_and_white_pieces_cost_what_they_take_of_a_sheet():
    whole = job_of(drawn("disc", "20 mm", "40 40", copies=2, spares=1, way="backing-piece"))
    found = laid_out(whole, spares="job", bars="none", tests=False, price_clear=21.0, price_white=42.0)
    area = 210 * 297
    lengths = [each.used_mm for each in found.sheets]
    assert found.cost == pytest.approx((21 * lengths[0] + 42 * lengths[1]) / 297)
    # With crosses 4 mm out and arms of 2.5 mm a piece reaches 6.5 mm past the box; below only the rim does.
    clear, white = (33 + 3) * (27 + 3) / area, (33 + 3) * (26.5 + 3) / area
    assert found.cost_white == pytest.approx(3 * 42 * white)
    assert found.cost_spares == pytest.approx(21 * clear + 42 * white)


def test_without_prices_the_cost_stays_open():
    found = laid_out()
    assert (found.cost, found.cost_spares, found.cost_white) == (None, None, None)


def test_several_sheets_of_one_film():
    found = laid_out(job_of(drawn("panel", "90 mm", "90 90", copies=10)))
    assert found.verdict == SEVERAL
    assert sum(each.pieces for each in found.sheets) == found.pieces


def test_a_piece_larger_than_the_sheet_is_named_and_the_rest_is_laid_out():
    found = laid_out(job_of(drawn("banner", "500 mm", "50 4"), drawn("disc", "20 mm", "1 1")), spares="none")
    assert found.verdict == LEFT_OUT
    assert [(each.name, each.pieces) for each in found.missing] == [("Banner", 1)]
    assert "Disc" in [each.name for each in found.placed]


def test_nothing_to_print_says_so():
    found = laid_out(job_of(drawn("disc", "20 mm", "1 1", copies=0)), spares="none")
    assert (found.verdict, found.sheets, found.layout, found.share) == (NOTHING, (), None, None)
    printed = job_of(drawn("disc", "20 mm", "1 1", copies=1, bench=Bench(printed=9)))
    assert laid_out(printed).verdict == NOTHING


def test_ten_thousand_copies_are_refused_at_once_with_the_sheets_they_would_fill():
    made = [drawn(f"disc-{at}", "20 mm", "40 40", copies=1000) for at in range(10)]
    before = time.perf_counter()
    found = laid_out(job_of(*made), spares="none")
    assert time.perf_counter() - before < 5
    # 10,000 pieces of 30 x 24 mm with their gaps, and one to try, on 200 x 280 mm.
    assert (found.verdict, sentences_of(found)[0]) == (
        TOO_MANY,
        "10001 pieces are more than are laid out at once: they would fill 129 sheets or more.",
    )


@pytest.mark.parametrize("field", ["cut_straight", "whole_edge_first", "no_tape"])
def test_a_part_used_sheet_is_refused_unless_each_condition_is_confirmed(field):
    confirmed = {"part_used": True, "cut_straight": True, "whole_edge_first": True, "no_tape": True}
    assert laid_out(**confirmed).verdict == FITS
    found = laid_out(**{**confirmed, field: False})
    assert (found.verdict, len(found.reasons), found.sheets) == (REFUSED, 2, ())


def test_a_part_used_sheet_is_no_shorter_than_the_printer_takes():
    confirmed = {"part_used": True, "cut_straight": True, "whole_edge_first": True, "no_tape": True}
    found = laid_out(**confirmed, used_mm=171)  # 297 - 171 is less than 127
    assert (found.verdict, "126 mm" in sentences_of(found)[0]) == (REFUSED, True)
    assert laid_out(**confirmed, used_mm=170, bars="short").sheets


@pytest.mark.parametrize("printer", ["laser", "led", "white-toner"])
@pytest.mark.parametrize("typed", [{"part_used": True}, {"paper": "half-a4"}], ids=["part-used", "half"])
def test_a_toner_printer_gets_no_cut_sheet_unless_its_maker_permits_it(printer, typed):
    conditions = {"cut_straight": True, "whole_edge_first": True, "no_tape": True, "bars": "short"}
    found = laid_out(printer=printer, **typed, **conditions)
    assert (found.verdict, found.layout) == (REFUSED, None)
    assert "unless its maker permits it" in sentences_of(found)[0]
    assert laid_out(printer=printer, **typed, **conditions, maker_permits=True).sheets


def test_what_is_seen_through_white_film_is_refused():
    assert "white film lets nothing be seen" in refused(seen_through="Hull number, left")["seen_through"]


def test_names_with_commas_and_unknown_names_of_what_is_seen_through():
    assert laid_out(seen_through="Crest, left, crest-right").verdict == FITS
    assert "“tail”" in refused(seen_through="Crest, left, tail")["seen_through"]


def test_margins_that_leave_nothing_are_refused():
    assert laid_out(own_size=True, width_mm=100, sides_mm=50).verdict == NO_ROOM


def test_bleed_and_rim_are_at_least_the_error_of_the_cutter():
    by_hand = laid_out(bars="none", tests=False)
    by_cutter = laid_out(bars="none", tests=False, cut_by="cutter", marks_mm=0, cutter_error_mm=2.0, gap_mm=3.0)
    # The rim of 0.5 mm becomes 2 mm on all sides of all pieces.
    assert by_cutter.sheets[0].share > by_hand.sheets[0].share or by_cutter.used_mm > by_hand.used_mm


def test_what_is_no_job_is_a_problem_of_its_field():
    (_, (envelope, _)) = (
        None,
        list(
            answer(
                json.dumps({"do": "answer", "calculator": "sheet", "files": {"job": {"name": "a.png", "bytes": 0}}}),
                [b"no job"],
            )
        )[-1],
    )
    assert [each["field"] for each in json.loads(envelope)["problems"]] == ["job"]


def test_sixty_markings_are_laid_out_within_a_few_seconds():
    made = [
        drawn(f"marking-{at}", f"{10 + 3 * (at % 17)} mm", f"{20 + at} {8 + at % 23}", copies=2) for at in range(60)
    ]
    before = time.perf_counter()
    found = laid_out(job_of(*made))
    assert time.perf_counter() - before < 20
    assert found.missing == ()
    assert len(found.placed) == 61


def test_the_field_takes_a_saved_job_whole():
    field = catalogue.find("sheet").inputs.__dataclass_fields__["job"].metadata["field"]
    data = whole_bytes(demo_job())
    assert field.opened(SubmittedFile("job.zip", data)) == NamedFile("job.zip", "", data)
    assert replace(SheetInputs(), job=NamedFile("job.zip", "", data)).job.data == data


def test_each_film_has_its_file_of_all_its_sheets_at_their_size():
    found = laid_out()
    for file, number in ((found.print_clear, 1), (found.print_white, 2)):
        with pikepdf.open(io.BytesIO(file.data)) as pdf:
            (page,) = pdf.pages
            # A4 in points.
            assert [float(each) for each in page.mediabox[2:]] == pytest.approx(
                [210 / 25.4 * 72, 297 / 25.4 * 72], abs=0.01
            )
        assert number in [each.number for each in found.sheets]
    with pikepdf.open(io.BytesIO(found.proof.data)) as pdf:
        assert len(pdf.pages) == len(found.sheets)
    assert (found.png, found.cuts_svg, found.cuts_dxf) == (None, None, None)


def test_a_cutter_gets_the_cuts_of_the_sheet_that_is_asked_for():
    found = laid_out(job_of(drawn("disc", "20 mm", "40 40", copies=2)), cut_by="cutter")
    assert found.cuts_svg.name == "sheet-1-cuts.svg"
    assert ezdxf.read(io.StringIO(found.cuts_dxf.data.decode())).audit().errors == []


def test_a_sheet_as_a_picture_has_its_white_plate_beside_it():
    options = {"bars": "none", "tests": False, "png_ppi": 254}
    panel = job_of(drawn("panel", "20 mm", "4 3"))
    found = laid_out(panel, **options, plate=True, plate_choke_mm=0.5)
    boxes = [
        Image.open(io.BytesIO(file.data)).convert("L").point(lambda level: 255 * (level < 200)).getbbox()
        for file in (found.png, found.png_white)
    ]
    # Panels of 20 mm by 15 side by side, with 10 pixels a mm.
    (left, top, right, bottom), white = boxes
    assert bottom - top == pytest.approx(150, abs=1)
    assert white == pytest.approx((left + 5, top + 5, right - 5, bottom - 5), abs=1)
    assert laid_out(panel, **options).png_white is None


def test_a_plate_with_a_bad_name_is_said_and_the_other_files_are_made():
    found = laid_out(plate=True, plate_name="Black")
    assert found.print_clear is None
    assert found.print_white is not None and found.proof is not None


def test_the_measured_error_of_printer_and_film_is_taken_back():
    error = written([KnownError("inkjet-pigment", "clear", PrinterError(0.993, 1.004, 0.2))])
    plain, corrected = laid_out(), laid_out(errors=error)
    assert plain.print_clear.data != corrected.print_clear.data
    assert plain.print_white.data == corrected.print_white.data


def test_artwork_that_cannot_be_read_is_named_and_the_rest_is_printed():
    shapes = '<filter id="a"/><rect width="4" height="4" filter="url(#a)"/>'
    broken = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 4">{shapes}</svg>'.encode()
    hash = sha256(broken).hexdigest()
    file = SharedFile(file=StoredFile(hash=hash, name="broken.svg"))
    whole = job_of(drawn("disc", "20 mm", "40 40"))
    marking = Marking(id="bad", name="Bad", width="9 mm", kind="outlines", files={"outlines": file})
    job = replace(whole.job, markings=(*whole.job.markings, marking))
    found = laid_out(Whole(job, {**whole.files, hash: broken}))
    assert [each.name for each in found.missing] == ["Bad"]
    assert found.print_clear is not None


WHITE_LETTER = '<path d="M0 0h4v3h-4z" fill="#ffffff"/>'


@pytest.mark.parametrize("film", ["white", "clear"])
def test_a_white_marking_without_its_way_is_named_and_never_green(film):
    marking, data = drawn("number", "20 mm", "4 3", film=film)
    white = data.replace(RECTANGLE.encode(), WHITE_LETTER.encode())
    file = StoredFile(hash=sha256(white).hexdigest(), name="number.svg")
    marking = replace(marking, files={"outlines": SharedFile(file=file)})
    found = laid_out(Whole(Job(markings=(marking,)), {file.hash: white}))
    assert found.verdict == INCOMPLETE
    assert sentences_of(found)[0].startswith("Number is white and nothing else")
    # A plate of white ink prints it on clear film.
    assert laid_out(Whole(Job(markings=(marking,)), {file.hash: white}), plate=film == "clear").verdict == (
        FITS if film == "clear" else INCOMPLETE
    )


def test_every_piece_of_the_demonstration_has_ink_on_its_sheet():
    found = laid_out()
    assert found.verdict == FITS
    # The hull's colour round its white letters, in the middle of each of their pieces.
    hull = [round(part / 255, 3) for part in bytes.fromhex("1f3b4d")]
    printed = [each for each in things(found.print_white.data) if [round(part, 3) for part in each.colour] == hull]
    pieces = [each for each in demo_job().job.markings if each.way == "white-film-body-colour"]
    assert len(printed) >= len(pieces)

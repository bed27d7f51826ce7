"""The whole marking: what decides, what is marked, what it hands over, and pictures that are hardly markings."""

import json
import re
from xml.etree import ElementTree

import pytest
from PIL import Image

from calculators import catalogue, tables, units
from calculators.answer import answer
from calculators.declare.prose import html
from calculators.files.picture import read_picture
from calculators.underlay.case import TERMS
from calculators.underlay.underlay_fields import PRICES, UnderlayInputs
from tests.calculators.pixels.reference import photograph
from tests.calculators.underlay.underlays import (
    IVORY,
    MAROON,
    UNDERLAY,
    by_colour,
    disc,
    picture,
    reasons_text,
    seen,
    sentences,
)


def test_white_on_clear_vanishes_over_dark_paint():
    image = disc("#ffffff", "#204060")
    outputs = seen(image, base_a=MAROON, base_b=MAROON, white_layers=0)
    assert outputs.verdict == "fails"
    white = by_colour(outputs)["#ffffff"]
    assert white.seen_a == MAROON and white.seen_b is None and white.border is None
    assert outputs.on_paint.scenes[0].marks["bare"]
    assert outputs.layers_needed >= 1


def test_black_needs_nothing():
    outputs = seen(disc("#000000"), base_a=IVORY, base_b=MAROON, white_layers=0)
    assert outputs.verdict == "passes"
    assert outputs.layers_needed == 0
    assert outputs.ways[0].way == tables.row("ways", "bare-on-clear").label
    assert not any(scene.marks[kind] for scene in outputs.on_paint.scenes for kind in scene.marks)


def test_the_border_counts_only_where_it_runs_through_a_colour():
    image = disc("#e9b824")
    across = seen(image, white_layers=0, border_percent=50)
    assert across.colours[0].border > 5 and across.on_paint.scenes[0].marks["border"]
    for percent, paint in ((0, MAROON), (100, IVORY)):
        beside = seen(image, white_layers=0, border_percent=percent)
        assert beside.colours[0].border is None and not beside.on_paint.scenes[0].marks["border"]
        alone = seen(image, white_layers=0, base_a=paint, base_b=paint)
        assert beside.verdict == alone.verdict
        assert beside.colours[0].shift == pytest.approx(alone.colours[0].shift)


def test_shares_add_up_and_decide():
    outputs = seen(white_layers=0)
    assert sum(row.share for row in outputs.colours) == pytest.approx(100)
    assert outputs.white_percent == pytest.approx(by_colour(outputs)["#ffffff"].share)
    # The disc is 11.96 of 13.8 mm wide; sprig and berries stand on it.
    assert 45 < outputs.white_percent < 75


def test_the_stated_layers_suffice_and_fewer_do_not():
    # All of it is wide enough to print, so that only what is seen decides.
    needed = seen(white_layers=0, inside_mm=1.0).layers_needed
    assert seen(white_layers=needed, inside_mm=1.0).verdict in ("passes", "shifts")
    assert seen(white_layers=needed - 1, inside_mm=1.0).verdict == "fails"


def test_the_reader_overrides_the_meaning_of_white():
    image = disc("#ffffff", "#204060")
    hole = seen(image, white_marks="1 hole")
    assert "#ffffff" not in by_colour(hole) and hole.white_percent == 0
    assert by_colour(seen(image, white_marks="1 wanted"))["#ffffff"].what == "Wanted white"


def test_white_is_what_the_tolerance_takes_for_it():
    """As in the calculator of white areas, so that its numbers mean the same areas here."""
    image = disc("#f3ead2", "#204060")
    for tolerance in (5.0, 20.0):
        areas = catalogue.find("white-areas")
        found = areas.answer(areas.inputs(picture=picture(image), tolerance=tolerance))
        outputs = seen(image, white_tolerance=tolerance)
        assert (found.wanted_mm2 or 0) == pytest.approx(outputs.white_percent / 100 * 14**2, rel=0.03)
        assert bool(outputs.white_percent) == (tolerance == 20.0)
        if found.areas:
            hole = seen(image, white_tolerance=tolerance, white_marks=f"{found.areas[0].number} hole")
            assert hole.white_percent == 0


@pytest.mark.parametrize(
    ("ground", "tolerance", "expected"),
    [
        ("#ffffff", 5.0, None),
        ("#fdfdfb", 5.0, None),
        ("#f3ead2", 5.0, "set the white tolerance to"),
        ("#f3ead2", 20.0, "off-white paper, which does not print"),
    ],
)
def test_off_white_paper_is_reported_either_way(ground, tolerance, expected):
    image = disc("#7a2232", ground)
    reasons = sentences(seen(image, white_tolerance=tolerance))
    about = [each for each in reasons if "paper" in each and "ground" in each]
    assert len(about) == (expected is not None) and (expected is None or expected in about[0])


def test_out_of_gamut_inks_are_named_as_estimates():
    """Its red is cut off in sRGB for this cyan and not for this red: see the tests of stacked colour."""
    beyond, within = (sentences(seen(disc(colour), white_layers=1)) for colour in ("#00a0c8", "#c81e28"))
    assert [each for each in beyond if "full strength" in each and "#00a0c8" in each]
    assert not [each for each in within if "full strength" in each]


def test_weights_and_prices_count_once_they_are_asked_for():
    usual = seen()
    unasked = seen(weight_wait=10, weight_border=0, price_service=5.0)
    assert [row.way for row in unasked.ways] == [row.way for row in usual.ways]
    heavier = seen(own_weights=True, weight_edge=10)
    assert {row.way: row.weighed for row in heavier.ways} != {row.way: row.weighed for row in usual.ways}
    assert all(row.cost is None for row in usual.ways)
    priced = seen(own_prices=True, price_clear=3.0, price_paint=4.0, price_stencil=2.0)
    stencil = tables.row("ways", "stencil-and-clear").label
    assert next(row.cost for row in priced.ways if row.way == stencil) == 9.0


def test_the_chosen_way_is_reported_with_its_outlines():
    outputs = seen(way="backing-piece")
    reasoning = html(outputs.reasoning, units.MM)
    assert "You chose" in reasoning
    assert all(each in reasoning for each in tables.row("ways", "backing-piece").outlines)


def texts(value):
    """Every text in an answer."""
    if isinstance(value, dict):
        for name, each in value.items():
            # What a step carries is typed text with its unit, which the next page reads.
            yield from () if name in ("svg", "carries") else texts(each)
    elif isinstance(value, list):
        for each in value:
            yield from texts(each)
    elif isinstance(value, str):
        yield value


@pytest.mark.parametrize(
    "inputs",
    [{}, {"way": "backing-piece", "sprays": "no"}, {"outline_mm": "0.1", "inside_mm": "0.1", "way": "stencil-only"}],
)
def test_lengths_use_the_reader_s_unit(inputs):
    in_mm, in_inches = (
        " ".join(
            texts(
                json.loads(
                    [*answer(json.dumps({"do": "answer", "calculator": "underlay", "inputs": inputs, "units": unit}))][
                        -1
                    ][0]
                )["view"]
            )
        )
        for unit in ("mm", "in")
    )
    assert len(re.findall(r"[0-9] mm\b", in_mm)) >= 4
    assert not re.findall(r"[0-9] mm\b", in_inches)
    # 0.1 to 0.3 mm of choke; 25.4 mm are an inch.
    assert "0.00394 in to 0.0118 in" in in_inches


def test_cost_counts_once_all_remaining_ways_have_prices():
    few = seen(own_prices=True, price_clear=3.0)
    usual = seen()
    assert [row.weighed for row in few.ways] == [row.weighed for row in usual.ways]
    assert "Cost does not count yet" in html(few.reasoning, units.MM)
    every = {f"price_{each}": 9.0 for each in PRICES}
    whole = seen(own_prices=True, **every)
    assert "Cost does not count yet" not in html(whole.reasoning, units.MM)
    assert all(
        row.weighed is None or row.weighed > other.weighed
        for row in whole.ways
        for other in usual.ways
        if row.way == other.way
    )


def test_what_counts_against_a_way_follows_the_weights():
    alone = {f"weight_{term}": 0 for term in TERMS} | {"weight_wait": 10}
    reasoning = html(seen(own_weights=True, **alone).reasoning, units.MM)
    against = re.findall(r"What counts against it most: ([^<]*)", reasoning)
    assert against and all(each.startswith("waiting") for each in against)


def test_the_list_for_a_service_carries_the_readers_own():
    outputs = seen(width_mm=27.5, markings=6)
    order = outputs.for_service.data.decode()
    assert "27.50 x 27.50 mm (1.083 x 1.083 in), as outlines" in order and "How many: 6." in order
    assert all(row.colour in order for row in outputs.colours if row.what != "Wanted white")
    assert IVORY in order and MAROON in order


def test_the_drawing_is_well_formed_and_says_what_it_marks():
    outputs = seen(border_degrees=25)
    drawing = ElementTree.fromstring(outputs.beside.svg)
    ids = [each.get("id") for each in drawing.iter() if each.get("id")]
    assert len(ids) == len(set(ids))
    assert not any("style" in each.attrib for each in drawing.iter())
    assert "does not print" in outputs.beside.alt


# -- Pictures that are hardly markings --------------------------------------------------------------


@pytest.mark.parametrize("fill", [(0, 0, 0, 0), (200, 10, 10, 0)])
def test_a_transparent_picture_is_reported_as_empty(fill):
    outputs = seen(Image.new("RGBA", (30, 20), fill))
    assert outputs.verdict == "nothing"
    assert outputs.beside is None and outputs.ways == () and outputs.for_service is None
    assert "transparent or background" in reasons_text(outputs)


def test_a_white_sheet_is_background_until_it_is_marked():
    sheet = Image.new("RGBA", (30, 20), "#ffffff")
    assert seen(sheet).verdict == "nothing"
    wanted = seen(sheet, white_marks="1 wanted", base_a=MAROON, base_b=MAROON)
    assert wanted.white_percent == 100
    assert "All of it is wanted white" in reasons_text(wanted)


def test_a_picture_without_white_says_so():
    assert "no wanted white" in reasons_text(seen(disc("#b82a2a"), white_layers=0))


@pytest.mark.parametrize("size", [(1, 1), (1, 40), (40, 1), (3, 2)])
def test_the_smallest_pictures_are_answered(size):
    assert seen(Image.new("RGBA", size, "#b82a2a")).verdict in ("passes", "shifts", "fails")


def test_a_photograph_is_described_by_representative_colours():
    outputs = seen(photograph(120), base_a="#24443a", base_b="#24443a")
    assert 2 <= len(outputs.colours) <= 12
    assert "represent them" in reasons_text(outputs)


def test_a_huge_picture_is_halved_and_says_so():
    large = disc("#b82a2a", size=200).resize((2400, 2400), Image.Resampling.NEAREST)
    outputs = seen(large)
    assert outputs.on_paint.width_px == 1200
    assert "reduced from 2400 × 2400 to 1200 × 1200 pixels" in reasons_text(outputs)


@pytest.mark.parametrize(
    ("marks", "text"),
    [
        ("59 hole", "no white area 59"),
        ("hole", "takes the number of an area"),
        ("1 perhaps", "takes the number of an area"),
    ],
)
def test_invalid_marks_are_reported_at_their_field(marks, text):
    *_, (envelope, _buffers) = answer(
        json.dumps({"do": "answer", "calculator": "underlay", "inputs": {"white_marks": marks}})
    )
    reply = json.loads(envelope)
    assert [each["field"] for each in reply["problems"]] == ["white_marks"]
    assert text in reply["problems"][0]["text"] and reply["problems"][0]["hint"]


def test_pixels_come_beside_the_answer():
    *_, (envelope, buffers) = answer(json.dumps({"do": "answer", "calculator": "underlay", "inputs": {}}))
    view = json.loads(envelope)["view"]["on_paint"]
    assert [each["label"] for each in view["scenes"]]
    for scene in view["scenes"]:
        assert all(len(buffers[at]) == 4 * view["width"] * view["height"] for at in scene["over"])


# -- Traced outlines --------------------------------------------------------------------------------


def handed(data: bytes, name="crest.svg", **typed):
    """The reply to a file that was handed in, as the page and the command line hand it."""
    request = {
        "do": "answer",
        "calculator": "underlay",
        "inputs": typed,
        "files": {"picture": {"name": name, "bytes": 0}},
    }
    *_, (envelope, _buffers) = answer(json.dumps(request), [data])
    return json.loads(envelope)


@pytest.fixture(scope="module")
def traced():
    trace = catalogue.find("trace")
    return trace.answer(trace.inputs(width_mm=14.0)).svg.data


def test_traced_outlines_are_taken_as_the_picture_was(traced):
    """The colours that were traced cover as much, and what decides is the same."""
    # Outlines show the fineness of its parts more exactly, so the reader's own word is taken for it.
    outlines, pixels = handed(traced, inside_mm="1 mm")["result"], seen(inside_mm=1.0)
    ours = {row["colour"]: row["share"] for row in outlines["colours"]}
    large = {row.colour: row.share for row in pixels.colours if row.share >= 5}
    assert large and all(ours[colour] == pytest.approx(share, abs=1.5) for colour, share in large.items())
    assert outlines["verdict"] == pixels.verdict and outlines["layers_needed"] == pixels.layers_needed
    assert outlines["ways_verdict"] == pixels.ways_verdict
    assert outlines["white_percent"] == pytest.approx(pixels.white_percent, abs=1.5)


def test_the_answer_states_how_outlines_were_drawn(traced):
    reasons = " ".join(handed(traced, width_mm="28")["view"]["verdict"]["reasons"])
    # 800 pixels on 28 mm.
    assert "800 × 800 pixels" in reasons and "726 ppi" in reasons
    assert "made 14 mm wide" in reasons and "28 mm typed here" in reasons
    assert "made 14 mm wide" not in " ".join(handed(traced, width_mm="14")["view"]["verdict"]["reasons"])


def test_the_list_for_a_service_has_the_outlines_own_proportion():
    svg = b'<svg width="20mm" height="7mm" viewBox="0 0 20 7"><path fill="#b82a2a" d="M1 1H19V6H1Z"/></svg>'
    outputs = UNDERLAY.answer(
        UnderlayInputs(picture=read_picture("bar.svg", svg, wanted=True, or_outlines=True), width_mm=30.0)
    )
    assert "30.00 x 10.50 mm (1.181 x 0.413 in)" in outputs.for_service.data.decode()


def test_a_drawing_beyond_outlines_is_reported_at_its_field():
    (problem,) = handed(b'<svg width="9mm" height="9mm" viewBox="0 0 9 9"><text>9</text></svg>', "disc.svg")["problems"]
    assert problem["field"] == "picture" and "disc.svg holds text" in problem["text"] and "PNG" in problem["hint"]


def test_white_areas_are_numbered_where_there_is_anything_to_mark(traced):
    reply = handed(traced)
    drawing = ElementTree.fromstring(reply["view"]["areas"]["svg"])
    numbers = {each.get("data-area"): each.get("data-meant") for each in drawing.iter() if each.get("data-meant")}
    assert "wanted" in numbers.values()
    wanted = next(number for number, meant in numbers.items() if meant == "wanted")
    assert (
        handed(traced, white_marks=f"{wanted} hole")["result"]["white_percent"] < reply["result"]["white_percent"] - 5
    )
    assert seen(disc("#b82a2a")).areas is None
    sheet = seen(Image.new("RGBA", (30, 20), "#ffffff"))
    assert sheet.verdict == "nothing" and sheet.areas

"""Two calculators judge the same picture: whatever it is and however it was made, they must say the same of it."""

from __future__ import annotations

import io
import json
import re

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw, ImageFilter

from calculators import catalogue, tables
from calculators.answer import answer
from calculators.artwork.judgement import LEVELS
from calculators.declare import asked
from tests.calculators.artwork.test_picture_check import DEMO, crest, saved

SAME_RESULTS = (
    "verdict",
    "printed_ppi",
    "true_detail_width_px",
    "true_detail_ppi",
    "largest_sharp_width_mm",
    "largest_good_width_mm",
    "at_distances",
)
#: The fields of both: each takes over the other's last value.
ASKED_BY_BOTH = ("picture", "width_mm", "viewing_distance_mm", "edges", "printer", "line")
FORMATS = {"png": ("PNG", {}), "jpeg-85": ("JPEG", {"quality": 85}), "jpeg-40": ("JPEG", {"quality": 40})}
KERNELS = ("NEAREST", "BILINEAR", "BICUBIC", "LANCZOS")


def result_of(calculator: str, name: str = "", data: bytes = b"", **typed: str) -> dict:
    files = {"picture": {"name": name, "bytes": 0}} if name else {}
    asked_for = {"do": "answer", "calculator": calculator, "inputs": typed, "files": files}
    *_, (text, _) = answer(json.dumps(asked_for), [data])
    reply = json.loads(text)
    assert reply["outcome"] == "result", reply
    return reply["result"]


def drawn(width: int, height: int, seed: int, soft: bool) -> Image.Image:
    """Return a drawing of discs and bars that no grid lies beneath."""
    image = Image.new("RGB", (width, height), "#f4efe2")
    draw = ImageDraw.Draw(image)
    for place in range(24):
        at = seed + 37 * place
        x, y, size = at * 7 % width, at * 11 % height, 3 + at % 17
        draw.ellipse((x, y, x + size, y + size), fill=("#7a2232", "#1d3b2a", "#203a5c", "#fffefb")[place % 4])
        draw.line((y % width, 0, x, height), fill="#111111", width=1 + place % 3)
    return image.filter(ImageFilter.GaussianBlur(0.7)) if soft else image


def file_of(image: Image.Image, kind: str) -> tuple[str, bytes]:
    form, options = FORMATS[kind]
    return f"drawing.{form.lower()}", saved(image, form, **options)


@settings(max_examples=30, deadline=None)
@given(
    size=st.tuples(st.integers(24, 150), st.integers(24, 150)),
    seed=st.integers(0, 10_000),
    soft=st.booleans(),
    times=st.sampled_from((1.0, 1.5, 2.0, 2.5, 3.0, 4.0)),
    kernel=st.sampled_from(KERNELS),
    kind=st.sampled_from(sorted(FORMATS)),
    width_mm=st.decimals("0.5", "400", places=1),
    distance_mm=st.integers(50, 3000),
    edges=st.sampled_from(("seen", "soft", "hard")),
)
@example(
    size=(128, 90),
    seed=1,
    soft=True,
    times=4.0,
    kernel="BICUBIC",
    kind="png",
    width_mm=30,
    distance_mm=300,
    edges="seen",
)
def test_both_calculators_agree_on_verdict_and_width(
    size, seed, soft, times, kernel, kind, width_mm, distance_mm, edges
):
    image = drawn(*size, seed, soft)
    large = image.resize([round(side * times) for side in size], Image.Resampling[kernel])
    how = {"width_mm": str(width_mm), "viewing_distance_mm": str(distance_mm), "edges": edges}
    one, other = (result_of(calculator, *file_of(large, kind), **how) for calculator in ("resolution", "picture-check"))
    assert {name: one[name] for name in SAME_RESULTS} == {name: other[name] for name in SAME_RESULTS}
    assert other["reasons"][: len(one["reasons"])] == one["reasons"]


def test_an_enlarged_crest_gains_no_sharp_width():
    """Four times the pixels by interpolation are no more detail: what is right is how it was made."""
    small = result_of("resolution", "crest.png", saved(crest(), "PNG"), width_mm="20")
    large = result_of(
        "resolution", "crest.png", saved(crest().resize((800, 800), Image.Resampling.BICUBIC), "PNG"), width_mm="20"
    )
    assert large["largest_sharp_width_mm"] == pytest.approx(small["largest_sharp_width_mm"], rel=0.15)
    assert large["printed_ppi"] == pytest.approx(4 * small["printed_ppi"])


def test_edges_come_from_the_picture_unless_chosen():
    hard = file_of(drawn(120, 120, 5, soft=False).convert("1", dither=Image.Dither.NONE).convert("RGB"), "png")
    by_picture, by_reader = (
        result_of("resolution", *hard, width_mm="15", edges=edges)["verdict"] for edges in ("seen", "soft")
    )
    assert (by_picture, by_reader) == ("steps-show", "good-enough")


def test_typed_pixels_are_taken_to_be_real():
    result = result_of("resolution", width_px="800", height_px="800", width_mm="25.4")
    assert (result["printed_ppi"], result["verdict"]) == (pytest.approx(800), "sharp")
    assert result["true_detail_width_px"] is None


@pytest.mark.parametrize("name", ["crest-left.svg", "anything.svg"])
def test_an_outline_drawing_has_no_size_limit(name):
    data = (
        (DEMO / name).read_bytes()
        if (DEMO / name).exists()
        else b'<svg xmlns="http://www.w3.org/2000/svg"><text>a</text></svg>'
    )
    result = result_of("resolution", name, data)
    assert (result["verdict"], result["largest_sharp_width_mm"]) == ("sharp", None)


@pytest.mark.parametrize("name", ASKED_BY_BOTH)
def test_both_calculators_share_their_inputs(name):
    one, other = (asked(catalogue.find(calculator).inputs)[name] for calculator in ("resolution", "picture-check"))
    assert one.shares and one.shares == other.shares
    assert getattr(one, "options", None) == getattr(other, "options", None)


@pytest.mark.parametrize("printer", [row.id for row in tables.load("printers")])
@pytest.mark.parametrize("calculator", ["resolution", "picture-check"])
def test_light_lines_use_the_printers_limit_for_them(calculator, printer):
    """At 0.01 mm a pixel both name the table's row; resolution tells it without a picture too."""
    row, picture = tables.row("printers", printer), file_of(drawn(150, 100, 3, soft=True), "png")
    for line, holds in (
        ("solid", row.thinnest_line),
        ("reversed", row.thinnest_line_colour),
        ("mixed", row.thinnest_line_colour),
    ):
        result = result_of(calculator, *picture, width_mm="1.5", printer=printer, line=line)
        (reason,) = (each for each in result["reasons"] if "Printers of this kind lose" in each)
        low, high = (re.escape(f"{end:g} mm") for end in (holds.low, holds.high))
        assert re.search(rf"\b{low} to {high}", reason), reason
        assert ("light lines on dark" in reason) == (line == "reversed")


def test_a_picture_that_cannot_be_decoded_is_refused_by_both():
    cut = io.BytesIO()
    drawn(90, 90, 1, soft=True).save(cut, "JPEG")
    data = cut.getvalue()[:700]
    replies = []
    for calculator in ("resolution", "picture-check"):
        asked_for = {
            "do": "answer",
            "calculator": calculator,
            "inputs": {},
            "files": {"picture": {"name": "cut.jpg", "bytes": 0}},
        }
        *_, (text, _) = answer(json.dumps(asked_for), [data])
        replies.append(json.loads(text)["problems"])
    assert replies[0] == replies[1] and replies[0][0]["field"] == "picture"


def test_unknown_results_are_not_green():
    """Blurred and squeezed, it looks as an enlarged picture does: its pixels would
    pass, the detail it may have would not.
    """
    image = drawn(440, 440, 3, soft=False).filter(ImageFilter.GaussianBlur(2))
    result = result_of("picture-check", *file_of(image, "jpeg-85"), width_mm="40")
    assert (result["enlarged"], result["verdict"]) == ("unknown", "unknown")
    assert LEVELS[result["verdict"]][0] == "watch"
    assert "Nobody can tell" in result["reasons"][0] and "440" in result["reasons"][0]
    # At the fewest it would still be sharp so small, and at the most not so large.
    assert result_of("picture-check", *file_of(image, "jpeg-85"), width_mm="5")["verdict"] == "sharp"
    assert result_of("picture-check", *file_of(image, "jpeg-85"), width_mm="150")["verdict"] == "steps-show"

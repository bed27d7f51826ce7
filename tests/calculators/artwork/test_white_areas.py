"""Which white is meant: the answer, its sentences and its drawing."""

import json
import re
from xml.etree import ElementTree

import numpy
import pytest
import skimage
from PIL import Image, ImageDraw
from skimage.color import deltaE_ciede2000, lab2rgb
from skimage.measure import label

from calculators import catalogue
from calculators.answer import answer
from tests.calculators.artwork.test_picture_check import saved
from tests.calculators.pixels.test_flat_colours import DEMO, MAROON
from tests.calculators.pixels.test_white_areas_found import badge
from tests.corpus.white_lettering import letterings

SAMPLES = skimage.__path__[0] + "/data"
SVG = "{http://www.w3.org/2000/svg}"


def asked(image: Image.Image | None = None, **inputs: str) -> dict:
    files = {"picture": {"name": "marking.png", "bytes": 0}} if image else {}
    envelope = {"do": "answer", "calculator": "white-areas", "inputs": inputs, "files": files}
    *_, (text, _buffers) = answer(json.dumps(envelope), [saved(image, "PNG")] if image else [])
    return json.loads(text)


def drawing(reply: dict) -> ElementTree.Element:
    return ElementTree.fromstring(reply["view"]["shown"]["svg"])


def test_sizes_are_those_on_the_model():
    """60 px are 30 mm wide, so a pixel is 0.25 square mm."""
    rows = asked(badge(), width_mm="30")["result"]["areas"]
    assert [(row["number"], row["size_mm2"]) for row in rows] == [("1", 2000 / 4), ("2", 384 / 4)]


def test_the_answer_follows_a_mark():
    guessed, marked = asked(badge()), asked(badge(), marks="2 hole")
    assert (guessed["result"]["verdict"], marked["result"]["verdict"]) == ("needed", "no-need")
    assert marked["result"]["wanted_mm2"] == 0
    assert [row["meant"] for row in marked["result"]["areas"]] == ["background", "hole"]
    assert marked["result"]["areas"][1]["guess"].startswith("Wanted white. ")
    shapes = {each.get("data-area"): each for each in drawing(marked).iter(f"{SVG}path") if each.get("data-area")}
    assert (shapes["2"].get("data-guess"), shapes["2"].get("data-meant")) == ("wanted", "hole")


@pytest.mark.parametrize(
    ("marks", "words"),
    [
        ("9 hole", "There is no area 9 in this picture"),
        ("2 blue", "A mark takes the number of an area or the letter of a group, then what it means"),
        ("C hole", "There is no area C in this picture"),
    ],
)
def test_an_unmatched_mark_is_reported_at_its_field(marks, words):
    (problem,) = asked(badge(), marks=marks)["problems"]
    assert (problem["field"], problem["text"]) == ("marks", words)
    assert problem["hint"]


@pytest.mark.parametrize(
    ("image", "verdict", "words"),
    [
        (lambda: Image.new("RGB", (40, 30), MAROON), "none", f"The whole picture is one flat colour, {MAROON}"),
        (lambda: Image.new("RGB", (40, 30), "#ffffff"), "empty", "The whole picture is one flat colour, #ffffff"),
        (lambda: Image.new("RGBA", (40, 30)), "clear", "Every pixel of the picture is transparent"),
        (lambda: Image.new("RGB", (1, 1), "#ffffff"), "empty", "The whole picture is one flat colour, #ffffff"),
        (lambda: Image.open(f"{SAMPLES}/coins.png"), "none", "no white or transparent background"),
        (
            lambda: Image.fromarray(numpy.random.default_rng(1).integers(0, 2, (1500, 1500), numpy.uint8) * 255),
            "scattered",
            "noise",
        ),
    ],
)
def test_an_empty_picture_is_reported(image, verdict, words):
    reply = asked(image())
    assert reply["result"]["verdict"] == verdict
    text = " ".join(reply["result"]["reasons"])
    assert words in text and "guesses" not in text


def test_white_on_nothing_is_a_marking():
    """Lettering of white alone, drawn on a clear ground: there is no colour in it, and white is wanted."""
    image = Image.new("RGBA", (40, 30))
    image.paste("#ffffff", (10, 10, 30, 20))
    assert asked(image)["result"]["verdict"] == "needed"
    assert asked(image, marks="2 hole")["result"]["verdict"] == "empty"


@pytest.mark.parametrize("size", [(4000, 1), (1, 4000), (3, 2000)])
def test_a_line_of_pixels_is_drawn_too(size):
    image = Image.new("RGB", size, MAROON)
    image.paste("#ffffff", (0, 0, 1, size[1] // 2 + 1))
    assert asked(image)["view"]["shown"]["svg"]


def test_a_photograph_is_judged_by_colour_and_says_so():
    reasons = asked(Image.open(f"{SAMPLES}/astronaut.png"))["result"]["reasons"]
    assert any("not flat artwork" in each for each in reasons)


def test_yellowed_paper_counts_with_more_tolerance():
    image = badge().point(lambda level: level * 222 // 255)
    assert asked(image)["result"]["verdict"] == "paper"
    assert len(asked(image, tolerance="15")["result"]["areas"]) == 2


def paper(lightness: float, b: float, grain: float) -> Image.Image:
    """A maroon ring on paper of L* and b* (a* is 0), made by scikit-image, with grain on every channel."""
    ground = numpy.full((120, 120, 3), lab2rgb([lightness, 0.0, b]) * 255)
    y, x = numpy.mgrid[:120, :120]
    away = numpy.hypot(x - 59.5, y - 59.5)
    ground[(away > 25) & (away < 45)] = (122, 34, 50)
    noisy = ground + numpy.random.default_rng(5).normal(0, grain, ground.shape)
    return Image.fromarray(noisy.clip(0, 255).round().astype(numpy.uint8))


@pytest.mark.parametrize(("lightness", "b", "grain"), [(94, 6, 0), (94, 6, 3), (93, 3, 2), (90, 10, 3), (84, 14, 0)])
def test_off_white_paper_is_reported_with_its_tolerance(lightness, b, grain):
    image = paper(lightness, b, grain)
    reply = asked(image)
    assert reply["result"]["verdict"] == "paper"
    assert reply["view"]["verdict"]["level"] == "watch"
    text = reply["result"]["reasons"][0]
    apart, tolerance = re.search(r"ΔE ([\d.]+) from white.* white tolerance to (\d+)", text).groups()
    assert float(apart) == pytest.approx(deltaE_ciede2000([100, 0, 0], [lightness, 0, b]), abs=0.8)
    found = asked(image, tolerance=tolerance)["result"]
    assert [row["meant"] for row in found["areas"]] == ["background", "hole"]
    assert found["verdict"] == "no-need"


@pytest.mark.parametrize("ground", ["#9bc4e8", "#c8993a", "#1c2226"])
def test_a_strongly_coloured_background_is_not_paper(ground):
    image = Image.new("RGB", (60, 60), ground)
    image.paste(MAROON, (20, 20, 40, 40))
    assert asked(image)["result"]["verdict"] == "none"


# -- Traced outlines --------------------------------------------------------------------------------


def handed(data: bytes, name: str, **typed: str) -> dict:
    envelope = {
        "do": "answer",
        "calculator": "white-areas",
        "inputs": typed,
        "files": {"picture": {"name": name, "bytes": 0}},
    }
    *_, (text, _buffers) = answer(json.dumps(envelope), [data])
    return json.loads(text)


@pytest.fixture(scope="module")
def traced_crest():
    trace = catalogue.find("trace")
    return trace.answer(trace.inputs(width_mm=14.0)).svg.data


#: A maroon plate 20 x 10 mm on nothing, with a white panel of 6 x 4 mm and a hole of 2 x 2 mm.
PLATE = b"""<svg width="24mm" height="14mm" viewBox="0 0 24 14">
<path fill="#7a2232" fill-rule="evenodd" d="M2 2H22V12H2ZM16 6H18V8H16Z"/>
<path fill="#ffffff" d="M5 5H11V9H5Z"/></svg>"""


def test_outlines_are_measured_as_they_were_drawn():
    reply = handed(PLATE, "plate.svg", width_mm="24")
    sizes = {row["meant"]: row["size_mm2"] for row in reply["result"]["areas"]}
    assert sizes == {
        "background": pytest.approx(24 * 14 - 20 * 10, rel=0.01),
        "wanted": pytest.approx(6 * 4, rel=0.02),
        "hole": pytest.approx(2 * 2, rel=0.04),
    }
    assert handed(PLATE, "plate.svg", width_mm="24", marks="3 wanted")["result"]["wanted_mm2"] == pytest.approx(
        28, rel=0.02
    )


def test_traced_outlines_have_the_areas_of_their_picture(traced_crest):
    outlines, pixels = handed(traced_crest, "crest.svg")["result"], asked()["result"]
    large = [
        [(row["meant"], row["size_mm2"]) for row in each["areas"] if row["size_mm2"] >= 0.5]
        for each in (outlines, pixels)
    ]
    assert [meant for meant, _ in large[0]] == [meant for meant, _ in large[1]]
    for (_, ours), (_, theirs) in zip(*large, strict=True):
        assert ours == pytest.approx(theirs, rel=0.03)
    assert outlines["verdict"] == pixels["verdict"]


def test_the_answer_states_how_outlines_were_drawn():
    text = " ".join(handed(PLATE, "plate.svg", width_mm="12")["view"]["verdict"]["reasons"])
    # 640 000 pixels of 24 by 14, 1047 of them on 12 mm.
    assert (
        "1047 × 611 pixels" in text and "2216 ppi" in text and "made 24 mm wide" in text and "12 mm typed here" in text
    )


def test_a_drawing_beyond_outlines_is_reported_at_its_field():
    (problem,) = handed(b'<svg width="9mm" height="9mm" viewBox="0 0 9 9"><text>9</text></svg>', "disc.svg")["problems"]
    assert problem["field"] == "picture" and "disc.svg holds text" in problem["text"] and "PNG" in problem["hint"]


def outlines(svg: ElementTree.Element, number: int) -> list[list[tuple[float, float]]]:
    (shape,) = (each for each in svg.iter(f"{SVG}path") if each.get("data-area") == str(number))
    rings = [part for part in shape.get("d").split("M") if part]
    return [[tuple(map(float, pair.split())) for pair in re.split("[LZ]", ring) if pair] for ring in rings]


def test_the_drawn_outlines_surround_the_areas():
    """Filled again by Pillow they cover the areas that scikit-image labels."""
    image = badge()
    svg = drawing(asked(image))
    (picture,) = svg.iter(f"{SVG}image")
    left, scale = float(picture.get("x")), float(picture.get("width")) / image.width
    labels = label(numpy.asarray(image.convert("L")) == 255, connectivity=1)
    for number in (1, 2):
        filled = numpy.zeros(labels.shape, bool)
        for ring in outlines(svg, number):
            plane = Image.new("1", (10 * image.width, 10 * image.height))
            # Pillow fills up to and with the last pixel, so a hair less.
            ImageDraw.Draw(plane).polygon(
                [(10 * (x - left) / scale - 0.5, 10 * y / scale - 0.5) for x, y in ring], fill=1
            )
            filled ^= numpy.asarray(plane)[5::10, 5::10]
        assert (filled == (labels == number)).all()


def test_every_area_has_a_sign_without_overlap():
    svg = drawing(asked(Image.open(DEMO / "crest-200px.png")))
    signs = [each for each in svg.iter(f"{SVG}g") if each.get("data-area")]
    shown_by = {each.get("data-shown") for each in svg.iter(f"{SVG}path") if each.get("data-shown")}
    assert sorted(each.get("data-area") for each in signs) == sorted(shown_by)
    places = [tuple(float(each.find(f"{SVG}circle").get(name)) for name in ("cx", "cy")) for each in signs]
    for place, (x, y) in enumerate(places):
        assert all((x - a) ** 2 + (y - b) ** 2 >= 30**2 for a, b in places[place + 1 :])
        # What can be touched is 48 units wide.
        assert float(signs[place].find(f"{SVG}circle").get("r")) == 24


def leaders(svg: ElementTree.Element) -> list[list[tuple[float, float]]]:
    """The lines from areas to their signs beside the picture."""
    lines = [each.get("d") for each in svg.iter(f"{SVG}path") if each.get("class") == "dw-leader"]
    return [[tuple(map(float, end.split())) for end in line.removeprefix("M").split("L")] for line in lines]


def turns(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


@pytest.mark.parametrize("seed", range(4))
def test_no_leader_crosses_another(seed):
    """Small white squares at random places, each marked by itself.

    Two lines cross where each has the ends of the other on both sides.
    """
    rng = numpy.random.default_rng(seed)
    image = Image.new("RGB", (300, 300), MAROON)
    for x, y in rng.integers(1, 24, (22, 2)):
        image.paste("#ffffff", (12 * x, 12 * y, 12 * x + 5, 12 * y + 5))
    count = len([each for each in drawing(asked(image)).iter(f"{SVG}path") if each.get("data-area")])
    lines = leaders(drawing(asked(image, marks=", ".join(f"{number} hole" for number in range(1, count + 1)))))
    assert len(lines) > 15
    for place, (a, b) in enumerate(lines):
        for c, d in lines[place + 1 :]:
            assert not (turns(a, b, c) * turns(a, b, d) < -1e-6 and turns(c, d, a) * turns(c, d, b) < -1e-6)


# -- Groups -----------------------------------------------------------------------------------------


def lettering(style: str, words: str = "BOARD 468") -> Image.Image:
    (one,) = (each for each in letterings() if each.style.name == style and each.words == words)
    return one.drawn(600)[0]


@pytest.mark.parametrize("style", ["plain", "outlined", "shadowed", "white-outlined"])
def test_counters_of_a_line_are_one_row(style):
    rows = asked(lettering(style))["result"]["areas"]
    assert [row["meant"] for row in rows if not row["number"].isdigit()].count("hole") == 1
    # The ground, the counters, and the letters where they are white; up to three
    # chinks between a shadow and the next letter.
    assert len(rows) <= {"white-outlined": 3, "shadowed": 5}.get(style, 2)


def test_two_lines_of_lettering_are_two_groups():
    rows = asked(lettering("plain", "68 PAD\nBOOK 04"))["result"]["areas"]
    assert [row["number"] for row in rows] == ["1", "A", "B"]


def test_specks_of_a_texture_form_one_group():
    rng = numpy.random.default_rng(2)
    image = Image.new("RGB", (400, 400), MAROON)
    for row in range(14):
        for column in range(14):
            x, y = 60 + 20 * column + int(rng.integers(0, 9)), 60 + 20 * row + int(rng.integers(0, 9))
            image.paste("#ffffff", (x, y, x + 4, y + 4))
    reply = asked(image)
    assert [row["number"] for row in reply["result"]["areas"]] == ["A"]
    # 196 specks of 16 of the 160 000 pixels, on a marking 100 mm wide and high.
    (row,) = asked(image, width_mm="100")["result"]["areas"]
    assert row["size_mm2"] == pytest.approx(196)
    assert asked(image, marks="A hole")["result"]["wanted_mm2"] == 0


def test_a_group_row_lists_its_areas():
    """Marked apart, areas 3 and 7 leave gaps among 1 to 8; two in a row are no range."""
    image = Image.new("RGB", (400, 60), MAROON)
    for place in range(8):
        image.paste("#ffffff", (20 + 45 * place, 20, 40 + 45 * place, 40))
    rows = asked(image, marks="3 hole, 7 hole")["result"]["areas"]
    assert [row["number"] for row in rows] == ["A", "3", "7"]
    assert rows[0]["guess"].startswith("Wanted white, 6 areas: 1, 2, 4 to 6, 8.")


def test_an_area_mark_overrides_its_group_s():
    image = lettering("plain")
    rows = {row["number"]: row for row in asked(image, marks="3 wanted, A background")["result"]["areas"]}
    assert (rows["A"]["meant"], rows["3"]["meant"]) == ("background", "wanted")
    assert set(rows) == {"1", "A", "3"}


def test_numbered_marks_keep_their_meaning_with_groups():
    image = lettering("plain")
    numbered = {
        each.get("data-area"): each.get("data-meant")
        for each in drawing(asked(image, marks="2 wanted; 4 b")).iter(f"{SVG}path")
        if each.get("data-area")
    }
    assert (numbered["2"], numbered["3"], numbered["4"]) == ("wanted", "hole", "background")


def test_a_group_frame_surrounds_its_letters():
    svg = drawing(asked(lettering("outlined")))
    frames = [each for each in svg.iter(f"{SVG}rect") if each.get("rx")]
    left, top, width, height = (float(frames[0].get(name)) for name in ("x", "y", "width", "height"))
    for (x, y), (sign_x, _sign_y) in leaders(svg):
        assert not left + 0.2 < x < left + width - 0.2 or not top < y < top + height
        assert abs(sign_x - x) > 10
    for shape in svg.iter(f"{SVG}path"):
        if shape.get("data-group"):
            xs = [float(pair.split()[0]) for pair in re.split("[MLZ]", shape.get("d")) if pair]
            assert left <= min(xs) and max(xs) <= left + width


def test_part_numbers_do_not_overlap_signs():
    svg = drawing(asked(Image.open(DEMO / "crest-200px.png")))
    signs = [each.find(f"{SVG}circle") for each in svg.iter(f"{SVG}g") if each.get("data-area")]
    parts = [each for each in svg.iter(f"{SVG}text") if each.get("class") == "dw-part"]
    assert len(parts) > 5
    for part in parts:
        for sign in signs:
            away = (
                abs(float(part.get("x")) - float(sign.get("cx"))),
                abs(float(part.get("y")) - 4 - float(sign.get("cy"))),
            )
            assert max(away) > 20, part.text


def test_small_areas_are_outlined_and_not_hatched():
    svg = drawing(asked(lettering("outlined")))
    small = 0
    for shape in svg.iter(f"{SVG}path"):
        if shape.get("data-area"):
            xs = [float(pair.split()[0]) for pair in re.split("[MLZ]", shape.get("d")) if pair]
            if max(xs) - min(xs) < 20:
                small += 1
                assert (shape.get("fill"), shape.get("fill-opacity")) == ("#ffffff", "0")
    assert small >= 5


def test_a_drawing_without_areas_explains_no_signs():
    svg = drawing(asked(Image.new("RGB", (40, 30), MAROON)))
    assert not list(svg.iter(f"{SVG}text"))


def test_the_caption_names_what_each_area_means():
    assert (
        asked(badge(), marks="1 hole")["view"]["shown"]["alt"]
        == "The picture with its areas numbered. Wanted white: 2; Hole: 1."
    )


def test_a_mark_reuses_the_areas_found(monkeypatch):
    image = Image.open(DEMO / "crest-600px-enlarged.png")
    asked(image)

    def fails(*_args):
        raise AssertionError("found anew")

    monkeypatch.setattr("calculators.artwork.white_areas.areas", fails)
    assert asked(image, marks="1 hole")["outcome"] == "result"

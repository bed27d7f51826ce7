"""Reading outlines from SVG: traced files, drawings of other programs, and a message for what cannot be drawn."""

import re
from pathlib import Path

import pytest

from calculators.files.outline_files import svg_of_outlines
from calculators.files.outline_reader import Outlines, Unread, read_outlines

SIZE = 'width="14mm" height="7mm" viewBox="0 0 14 7"'
DEMO = Path(__file__).resolve().parents[3] / "content" / "demo"
ENTITIES = "crest.svg declares abbreviations that this page does not expand"
SQUARE = '<path fill="#7a2232" d="M1 1L3 1L3 3L1 3Z"/>'


def svg(body: str, size: str = SIZE) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{body}</svg>'.encode()


def refused(data: bytes) -> str:
    with pytest.raises(Unread) as trouble:
        read_outlines(data)
    return trouble.value.message("crest.svg")


def path(data: str) -> tuple:
    """The rings of a path."""
    return read_outlines(svg(f'<path fill="#7a2232" d="{data}"/>')).shapes[0].rings


def test_written_outlines_are_read_back():
    ring = ((1 + 1j, 2 + 0.5j, 3 + 0.5j, 4 + 1j), (4 + 1j, 4 + 4j), (4 + 4j, 1 + 1j))
    hole = ((2.1234 + 1.5j, 3 + 2j), (3 + 2j, 2.1234 + 1.5j))
    made = read_outlines(
        svg_of_outlines([("#7a2232", [ring, hole]), ("#ffffff", [hole])], 27.5, 11, "a <title> & more")
    )
    assert isinstance(made, Outlines) and (made.width_mm, made.height_mm, made.box) == (27.5, 11, (0, 0, 27.5, 11))
    assert [each.fill for each in made.shapes] == ["#7a2232", "#ffffff"]
    assert made.shapes[0].rings == (ring, hole) and made.shapes[0].even_odd


def test_strokes_under_seams_are_skipped():
    ring = ((1 + 1j, 4 + 1j), (4 + 1j, 4 + 4j), (4 + 4j, 1 + 1j))
    plain = svg_of_outlines([("#7a2232", [ring])], 27.5, 11, "a")
    assert read_outlines(
        svg_of_outlines([("#7a2232", [ring])], 27.5, 11, "a", [("#7a2232", [ring[:1]])])
    ) == read_outlines(plain)


@pytest.mark.parametrize(
    "body",
    [
        SQUARE + '<path fill="none" stroke="#000000" stroke-width="0.04" d="M0 0L1 1"/>',
        '<path fill="none" stroke="#000000" stroke-width="0.5" d="M0 0L1 1"/>' + SQUARE,
        '<path fill="none" stroke="#000000" stroke-width="0.04" class="a" d="M0 0L1 1"/>' + SQUARE,
    ],
)
def test_other_strokes_are_drawn(body):
    assert len(read_outlines(svg(body)).shapes) == 2


@pytest.mark.parametrize(
    "data",
    [
        "M1 1L3 1L3 3L1 3Z",
        "M1,1 3,1 3,3 1,3Z",
        "m1 1 2 0 0 2-2 0z",
        "M1 1H3V3H1Z",
        "m1 1h2v2h-2z",
        "M 1e0 1 L 3 1 L 3 3 L 1 3",
        "M1 1L3 1L3 3L1 3L1 1Z",
        "\n M1 1 3 1\t3 3 1 3 z ",
        "M1 1L+3 1.0L3. 3L1 3Z",
        "M1 1L3 1 3 3L1 3Zm3 3",
    ],
)
def test_one_square_written_in_many_ways(data):
    corners = [1 + 1j, 3 + 1j, 3 + 3j, 1 + 3j]
    assert path(data) == (tuple(zip(corners, corners[1:] + corners[:1], strict=True)),)


def test_curves_and_rings_continue_from_the_previous_point():
    first, second = path("m1 1c1 0 2 1 2 2l-2-2zc0 1 0 2 1 3z")
    assert first == ((1 + 1j, 2 + 1j, 3 + 2j, 3 + 3j), (3 + 3j, 1 + 1j))
    assert second == ((1 + 1j, 1 + 2j, 1 + 3j, 2 + 4j), (2 + 4j, 1 + 1j))


def test_colours_rules_and_silent_parts():
    body = f"""<!-- a note -->
      <title>Crest</title><desc/>
      <path id='a' class="b" data-part="c" fill="#ABC" fill-rule="evenodd" stroke="none" d="M0 0L1 0L1 1Z"/>
      <path fill="none" d="M0 0L1 0L1 1Z"/><path d="M0 0L1 0L1 1"></path>{SQUARE}"""
    made = read_outlines(b'\xef\xbb\xbf<?xml version="1.0"?>\n<!DOCTYPE svg>' + svg(body))
    assert [(each.fill, each.even_odd) for each in made.shapes] == [
        ("#aabbcc", True),
        ("#000000", False),
        ("#7a2232", False),
    ]


GRADIENT = '<linearGradient id="g"><stop offset="0"/></linearGradient>'


@pytest.mark.parametrize(
    ("body", "what"),
    [
        ("<text x='1'>Otter</text>", "text"),
        ("<g><text><tspan>Otter</tspan></text></g>", "text"),
        ('<image width="3" height="2" href="data:image/png;base64,AAAA"/>', "a raster picture"),
        ('<image width="3" height="2" href="https://example.org/a.png"/>', "a raster picture"),
        ('<path opacity="0.5" d="M0 0L1 0L1 1Z"/>', "partial opacity"),
        ('<path fill="#ff000080" d="M0 0L1 0L1 1Z"/>', "partial opacity"),
        ('<path style="stroke:red;stroke-opacity:40%" d="M0 0L1 0L1 1Z"/>', "partial opacity"),
        (GRADIENT + '<path fill="url(#g)" d="M0 0L1 0L1 1Z"/>', "a gradient"),
        (GRADIENT + '<g stroke="url(#g) red"><path d="M0 0L1 0L1 1Z"/></g>', "a gradient"),
        ('<pattern id="p"/><path fill="url(#p)" d="M0 0L1 0L1 1Z"/>', "a pattern"),
        ('<mask id="m"/><g mask="url(#m)"/>', "a mask"),
        ('<g style="filter:blur(2px)"/>', "a filter"),
        ('<g style="mix-blend-mode:multiply"/>', "a blend mode"),
        ('<path marker-end="url(#m)" d="M0 0L1 0L1 1Z"/>', "markers on lines"),
        (
            '<path stroke="red" vector-effect="non-scaling-stroke" d="M0 0L1 0"/>',
            "a stroke whose width does not follow",
        ),
        ('<use href="other.svg#a"/>', "a part of another file"),
        ('<use href="http://example.org/other.svg#a"/>', "a part of another file"),
        ('<use href="#nothing"/>', "a reference to “#nothing”, which is not in the file"),
        ('<g id="a"><use href="#a"/></g>', "a part that contains itself"),
        ('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>', "a part that contains itself"),
        (
            '<clipPath id="c"><path d="M0 0h1v1z" clip-path="url(#c)"/></clipPath><g clip-path="url(#c)"/>',
            "contains itself",
        ),
        ("<style>path:hover{fill:red}</style>", "the style rule “path:hover”"),
        ("<style>@import url(http://example.org/a.css);</style>", "the style rule “@import url(http://"),
        ("<foreignObject/>", "“<foreignObject>”"),
        ('<path fill="reddish" d="M0 0L1 0L1 1Z"/>', "“fill reddish”"),
    ],
)
def test_what_cannot_be_drawn_is_named(body, what):
    sentence = refused(svg(SQUARE + body))
    assert sentence.startswith(f"crest.svg holds {what}") or what in sentence
    assert sentence.endswith(", and this page reads only outlines in flat, opaque colours")


def test_everything_that_cannot_be_drawn_is_named_at_once():
    body = f'{GRADIENT}<g opacity=".3"><text>a</text></g><path fill="url(#g)" d="M0 0L1 0L1 1Z"/><image/>'
    assert "holds partial opacity, text, a gradient and a raster picture, and" in refused(svg(SQUARE + body))


def test_text_comes_with_the_advice_to_convert_it():
    with pytest.raises(Unread) as trouble:
        read_outlines(svg("<text>Otter</text>"))
    assert "convert it to outlines" in trouble.value.hint


@pytest.mark.parametrize(
    "body",
    [
        SQUARE.replace("<path", '<path onclick="alert(1)" onload="alert(2)"'),
        f"<script>alert(1)</script>{SQUARE}",
        f"{SQUARE}<text> </text><metadata>words</metadata><title>a</title><desc><b/></desc>",
        f'<g xmlns:q="urn:q" q:x="1"><q:raster><q:image/></q:raster>{SQUARE}</g>',
        f'{SQUARE}<path opacity="0" filter="url(#f)" d="M0 0L1 0L1 1Z"/>',
        f'<g fill="none">{SQUARE}<path d="M0 0L1 0L1 1Z"/></g>',
    ],
)
def test_what_draws_nothing_is_skipped(body):
    assert read_outlines(svg(body)) == read_outlines(svg(SQUARE))


@pytest.mark.parametrize(
    ("size", "width_mm", "height_mm", "box", "sized"),
    [
        ('width="1in" height="0.5in" viewBox="0 0 14 7"', 25.4, 12.7, (0, 0, 14, 7), True),
        ('width="14cm" viewBox="0 0 14 7"', 140, 70, (0, 0, 14, 7), True),
        ('height="36pt" viewBox="0 0 14 7"', 25.4, 12.7, (0, 0, 14, 7), True),
        ('width="192" height="96" viewBox="0 0 14 7"', 50.8, 25.4, (0, 0, 14, 7), False),
        ('width="96px" height="48px"', 25.4, 12.7, (0, 0, 96, 48), False),
        ('width="100%" height="100%" viewBox="0 0 96 48"', 25.4, 12.7, (0, 0, 96, 48), False),
        ('viewBox="2 1 96 48"', 25.4, 12.7, (2, 1, 96, 48), False),
        ("", 2 * 25.4 / 96, 2 * 25.4 / 96, (1, 1, 2, 2), False),
        ('width="14mm" height="14mm" viewBox="0 0 14 7"', 14, 14, (0, -3.5, 14, 14), True),
        ('width="14mm" height="14mm" viewBox="0 0 14 7" preserveAspectRatio="none"', 14, 14, (0, 0, 14, 7), True),
        (
            'width="14mm" height="14mm" viewBox="0 0 14 7" preserveAspectRatio="xMinYMid slice"',
            14,
            14,
            (0, 0, 7, 7),
            True,
        ),
    ],
)
def test_sizes_in_any_unit_or_none(size, width_mm, height_mm, box, sized):
    made = read_outlines(svg(SQUARE, size))
    assert (made.width_mm, made.height_mm) == pytest.approx((width_mm, height_mm), rel=1e-9)
    assert made.box == pytest.approx(box, abs=1e-9) and made.sized == sized


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (svg(""), "There are no visible outlines in crest.svg"),
        (svg('<path fill="none" d="M0 0L1 0L1 1Z"/>'), "There are no visible outlines in crest.svg"),
        (svg('<path d=""/>'), "There are no visible outlines in crest.svg"),
        (
            svg(SQUARE, 'width="14mm" height="7mm" viewBox="0 0 0 7"'),
            "The viewBox of crest.svg is empty, so it shows nothing",
        ),
        (
            svg(SQUARE, 'width="14mm" height="7mm" viewBox="0 0 2e-300 1e-300"'),
            "The viewBox of crest.svg is empty, so it shows nothing",
        ),
        (
            svg(SQUARE, 'width="14mm" height="7mm" viewBox="900 0 14 7"'),
            "The outlines of crest.svg all lie outside its viewBox, so it shows nothing",
        ),
        (
            svg(SQUARE, 'width="2e-300mm" height="1e-300mm" viewBox="0 0 14 7"'),
            "The width and height of crest.svg are not within 0.001 to 100000 mm",
        ),
        (
            svg(SQUARE, 'width="1e999mm" height="1e999mm" viewBox="0 0 14 7"'),
            "crest.svg cannot be read at “1e999mm”",
        ),
        (
            svg(SQUARE, 'width="-14mm" height="-7mm" viewBox="0 0 14 7"'),
            "The width and height of crest.svg are not within 0.001 to 100000 mm",
        ),
        (svg(SQUARE)[:-6], "crest.svg stops before its end"),
        (svg('<path d="M0 0L1"/>'), "crest.svg cannot be read at “L1”"),
        (svg('<path d="L1 1Z"/>'), "crest.svg cannot be read at “L1 1”"),
        (svg('<path d="M0 0L1e9 1Z"/>'), "crest.svg cannot be read at “L1e9 1”"),
        (svg("words"), "There are no visible outlines in crest.svg"),
        (svg("<g>" * 200), "crest.svg has more than 120 groups within each other"),
        (svg('<path d="M0 0L1 nan"/>'), "crest.svg cannot be read at “L1”"),
        (svg('<rect width="nan" height="1"/>'), "crest.svg cannot be read at “nan”"),
        (svg(f'<g transform="scale(1e7)">{SQUARE}</g>'), "crest.svg has coordinates that are too large to draw"),
        (svg(f'<g transform="scale(1e300)">{SQUARE}</g>'), "crest.svg cannot be read at “1e300”"),
        (svg(f'<g transform="scale(0)">{SQUARE}</g>'), "There are no visible outlines in crest.svg"),
        (
            svg('<path d="M1 1z" stroke="red"/><rect width="0" height="3"/>'),
            "There are no visible outlines in crest.svg",
        ),
        (b'<!DOCTYPE svg [<!ENTITY a "b"><!ENTITY c "&a;&a;">]><svg>&c;</svg>', ENTITIES),
        (b'<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]><svg>&a;</svg>', ENTITIES),
        (svg(SQUARE).replace(b"</svg>", b"</path>"), "crest.svg cannot be read at “</path>”"),
        ("<svg/>".encode("utf-16"), "crest.svg is compressed, or not in UTF-8"),
        (svg(f'<path d="M0 0{"L14 7L0 0" * 140}Z"/>'), "crest.svg has more outlines than this page can draw"),
        (svg(f'<path d="M0 0{"L0.01 0" * 200_001}"/>'), "crest.svg has more outlines than this page can draw"),
    ],
)
def test_unreadable_drawings_are_reported(data, message):
    assert refused(data) == message


@pytest.mark.parametrize("file", sorted(DEMO.glob("*.svg")), ids=lambda file: file.stem)
def test_all_artwork_of_the_demonstration_is_read(file):
    """Its groups, strokes and moved parts; each drawing says its size in its first line."""
    text = file.read_text("utf-8")
    made = read_outlines(text.encode())
    width, unit = re.search(r'width="([\d.]+)(mm)?"', text).groups()
    assert made.sized == (unit == "mm")
    assert made.width_mm == pytest.approx(float(width) * (1 if unit else 25.4 / 96))
    assert {shape.fill for shape in made.shapes} <= set(re.findall("#[0-9a-f]{6}", text))

"""Reading outlines from SVG: traced files, similarly plain drawings, and a message for anything else."""

import pytest

from calculators.files.outline_files import svg_of_outlines
from calculators.files.outline_reader import Outlines, Unread, read_outlines

SIZE = 'width="14mm" height="7mm" viewBox="0 0 14 7"'
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
    thread = '<path fill="none" stroke="#000000" stroke-width="0.04" d="M0 0L1 1"/>'
    assert "holds “stroke”" in refused(svg(SQUARE + thread))
    assert "holds “stroke”" in refused(svg(thread.replace("0.04", "0.5") + SQUARE))


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


@pytest.mark.parametrize(
    ("body", "what"),
    [
        ('<circle cx="3" cy="3" r="2"/>', "“<circle>”"),
        (f"<g>{SQUARE}</g>", "“<g>”"),
        ('<path transform="scale(2)" d="M0 0L1 0L1 1Z"/>', "“transform”"),
        ('<path style="fill:red" d="M0 0L1 0L1 1Z"/>', "“style”"),
        ('<path opacity="0.5" d="M0 0L1 0L1 1Z"/>', "“opacity”"),
        ('<path stroke="#000" d="M0 0L1 0L1 1Z"/>', "“stroke”"),
        ('<path fill="url(#g)" d="M0 0L1 0L1 1Z"/>', "“fill url(#g)”"),
        ('<path fill="red" d="M0 0L1 0L1 1Z"/>', "“fill red”"),
        ('<text x="1">Otter</text>', "“<text>”"),
        ("<style>path{}</style>", "“<style>”"),
        ('<svg width="1mm"/>', "“<svg>”"),
    ],
)
def test_unsupported_content_is_named(body, what):
    assert refused(svg(SQUARE + body)) == f"crest.svg holds {what}, and this page reads only filled outlines"


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (svg(""), "There are no filled outlines in crest.svg"),
        (svg('<path fill="none" d="M0 0L1 0L1 1Z"/>'), "There are no filled outlines in crest.svg"),
        (svg('<path d=""/>'), "There are no filled outlines in crest.svg"),
        (
            svg(SQUARE, 'viewBox="0 0 14 7"'),
            "crest.svg does not give its width and height in millimetres and a viewBox",
        ),
        (
            svg(SQUARE, 'width="14" height="7" viewBox="0 0 14 7"'),
            "crest.svg does not give its width and height in millimetres and a viewBox",
        ),
        (
            svg(SQUARE, 'width="14mm" height="7mm"'),
            "crest.svg does not give its width and height in millimetres and a viewBox",
        ),
        (
            svg(SQUARE, 'width="14mm" height="7mm" viewBox=""'),
            "crest.svg does not give its width and height in millimetres and a viewBox",
        ),
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
            "The width and height of crest.svg are not within 0.001 to 100000 mm",
        ),
        (
            svg(SQUARE, 'width="-14mm" height="-7mm" viewBox="0 0 14 7"'),
            "The width and height of crest.svg are not within 0.001 to 100000 mm",
        ),
        (
            svg(SQUARE, 'width="14mm" height="14mm" viewBox="0 0 14 7"'),
            "The width and height of crest.svg do not have the proportion of its viewBox",
        ),
        (svg(SQUARE)[:-6], "crest.svg stops before its end"),
        (svg('<path d="M0 0L1"/>'), "crest.svg cannot be read at “L1”"),
        (svg('<path d="M0 0Q1 1 2 2Z"/>'), "crest.svg cannot be read at “Q1 1 2 2Z”"),
        (svg('<path d="L1 1Z"/>'), "crest.svg cannot be read at “L1 1”"),
        (svg('<path d="M0 0L1e9 1Z"/>'), "crest.svg cannot be read at “L1e9 1”"),
        (svg("words"), "crest.svg cannot be read at “words</svg>”"),
        (svg(SQUARE).replace(b"</svg>", b"</path>"), "crest.svg cannot be read at “</path>”"),
        ("<svg/>".encode("utf-16"), "crest.svg is compressed, or not in UTF-8"),
        (svg(f'<path d="M0 0{"L14 7L0 0" * 140}Z"/>'), "crest.svg has more outlines than this page can draw"),
        (svg(f'<path d="M0 0{"L0.01 0" * 200_001}"/>'), "crest.svg has more outlines than this page can draw"),
    ],
)
def test_unreadable_drawings_are_reported(data, message):
    assert refused(data) == message

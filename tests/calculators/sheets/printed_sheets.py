"""Sheets laid out by hand, and contents for them, of which the tests of print files know where everything lies."""

from __future__ import annotations

import io
from functools import cache

from PIL import Image

from calculators.files.picture import read_picture
from calculators.sheets.contents import Content, content_of
from calculators.sheets.model import Item, Part, Placement, SheetLayout
from calculators.values import in_one_go
from tests.noise import noise

#: A red plate with a blue foot, a white disc that is wanted in it, and a white rim on its left. 20 x 10 mm.
PLATE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 20 10">'
    '<path fill="#ffffff" d="M1 1H4V9H1Z"/><path fill="#c63f2b" d="M4 1H19V6H4Z"/>'
    '<path fill="#1f3b4d" d="M4 6H19V9H4Z"/><circle cx="12" cy="4" r="1.5" fill="#ffffff"/></svg>'
)
#: A dial with curves only. 12 x 12 mm.
DIAL = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="12mm" height="12mm" viewBox="0 0 12 12">'
    '<circle cx="6" cy="6" r="5.5" fill="#2f6f4f"/></svg>'
)
#: What is wanted white in the plate: its areas are marked, so that no guess matters.
PLATE_MARKS = "1 background, 2 wanted, 3 wanted"


def png_of(image: Image.Image, kind: str = "PNG", **options) -> bytes:
    file = io.BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


def emblem(side: int = 360) -> Image.Image:
    """Return a square picture with a transparent ground, an orange field and a green one, and no symmetry.

    15 mm wide it is fine enough for a white plate of pixels.
    """
    image = Image.new("RGBA", (side, side), (0, 0, 0, 0))
    image.paste((230, 120, 20, 255), (side // 6, side // 6, side * 5 // 6, side * 5 // 6))
    image.paste((20, 120, 60, 255), (side // 6, side // 2, side // 2, side * 5 // 6))
    return image


@cache
def contents() -> dict[str, Content]:
    """Return contents by their keys."""
    made: dict[str, Content] = {}
    for key, svg, marks in (("plate", PLATE, PLATE_MARKS), ("dial", DIAL, "")):
        picture = read_picture(f"{key}.svg", svg.encode(), wanted=True, or_outlines=True)
        made[key] = in_one_go(content_of(picture, 20 if key == "plate" else 12, marks=marks))
    photo = noise((90, 60), 80).convert("RGB")
    for key, data, width in (("emblem", png_of(emblem()), 15), ("photo", png_of(photo, "JPEG", quality=90), 18)):
        picture = read_picture(key, data, wanted=True)
        made[key] = in_one_go(content_of(picture, width, with_white=key == "emblem"))
    return made


def item(content: str, part: Part = Part.COLOUR, **more) -> Item:
    """Return an item of a content, on clear film unless ``film`` is passed."""
    values = {"id": content, "name": content.capitalize(), "film": "clear", "rim": 0.5, "tab": 6.0} | more
    return Item(part=part, size=contents()[content].size, content=content, **values)


def layout(*placements: Placement, film: str = "clear", bars: bool = True, number: int = 1) -> SheetLayout:
    """Return a sheet of 150 x 140 mm with bars of 100 mm at its lower and right side."""
    ends = ((20 + 132j, 120 + 132j), (142 + 20j, 142 + 120j)) if bars else ()
    return SheetLayout("", 150 + 140j, (5, 5, 5, 5), film, placements, 140.0, None, 3.0, ends, 0.0, number)


def everything() -> SheetLayout:
    """Return a clear sheet with upright, turned and mirrored pieces of outlines and pictures."""
    return layout(
        Placement(item("plate", set_id="s", crosses=True), 1, 20 + 20j),
        Placement(item("plate", id="m", name="Plate right", mirrored=True), 1, 20 + 45j),
        Placement(item("plate"), 2, 60 + 20j, turned=True),
        Placement(item("dial"), 1, 90 + 20j),
        Placement(item("emblem"), 1, 20 + 70j),
        Placement(item("emblem", id="e", mirrored=True), 1, 60 + 70j, turned=True),
        Placement(item("photo"), 1, 90 + 70j),
    )

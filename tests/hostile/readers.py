"""Every parser of files from readers of the site. Add a new one to READERS."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass

from calculators.answer import answer
from calculators.declare import Refused
from calculators.files.outline_pixels import with_pixels
from calculators.files.pdf import Sheet
from calculators.files.pdf_picture import NotPlaced
from calculators.files.picture import PictureTrouble, read_picture
from calculators.jobs.archive import read_saved
from calculators.jobs.lists import read_list
from calculators.messages import display_name


@dataclass(frozen=True)
class Reader:
    """``read`` takes a file's name and bytes: it returns nothing, or the sentence with which the file is refused.

    ``decodes``: it makes pixels, which earns memory and time. ``works_long``: it reads pixels as
    ``drawn_or_placed`` does and then works on them, so it gets only a few of the truncated files.
    """

    name: str
    read: Callable[[str, bytes], str | None]
    decodes: bool = False
    works_long: bool = False

    def takes(self, number: int, name: str) -> bool:
        """Return whether it gets the file with that number and name."""
        return not self.works_long or number % 8 == 0 or not (name.startswith("cut-at-") or number % 3)


def asked(calculator: str, field: str, **inputs: str) -> Callable[[str, bytes], str | None]:
    """Return a reader that hands the file to a calculator as the page does."""

    def read(name: str, data: bytes) -> str | None:
        request = {
            "do": "answer",
            "calculator": calculator,
            "inputs": inputs,
            "files": {field: {"name": name, "bytes": 0}},
        }
        *_, (envelope, _buffers) = answer(json.dumps(request), [bytearray(data)])
        reply = json.loads(envelope)
        if reply["outcome"] == "problems":
            # The picture's size may also be out of range for the fields that it fills.
            texts = [each["text"] for each in reply["problems"] if each["field"] == field]
            return texts[0] if texts else None
        assert reply["outcome"] == "result", reply
        return None

    return read


def drawn_or_placed(name: str, data: bytes) -> str | None:
    """Read outlines and draw them, or pixels and place the picture in a PDF, by its own data where that can be."""
    try:
        picture = read_picture(display_name(name), data, wanted=True, or_outlines=True)
    except PictureTrouble as trouble:
        return trouble.text
    if picture.outlines:
        list(with_pixels(picture))
        return None
    sheet = Sheet(210, 297)
    try:
        sheet.picture(picture, 10, 10, 50, 50)
    except NotPlaced as trouble:
        return str(trouble)
    return None


def job(name: str, data: bytes) -> str | None:
    try:
        read_saved(data, name)
    except Refused as refused:
        return refused.problems[0].text
    return None


def marking_list(name: str, data: bytes) -> str | None:
    try:
        read_list(data, name)
    except Refused as refused:
        return refused.problems[0].text
    return None


READERS = [
    Reader("list", marking_list),
    Reader("job", job),
    Reader("font", asked("lettering", "font_file", letters="own-font", text="HOXHI1-")),
    Reader("resolution", asked("resolution", "picture"), decodes=True),
    Reader("drawn-or-placed", drawn_or_placed, decodes=True),
    Reader("picture-check", asked("picture-check", "picture"), decodes=True),
    Reader("drawing-size", asked("drawing-size", "picture")),
    Reader("trace", asked("trace", "picture"), decodes=True, works_long=True),
    Reader("clean-picture", asked("clean-picture", "picture"), decodes=True, works_long=True),
    Reader("white-areas", asked("white-areas", "picture"), decodes=True, works_long=True),
    Reader("underlay", asked("underlay", "picture"), decodes=True, works_long=True),
    Reader("placement-template", asked("placement-template", "picture"), decodes=True, works_long=True),
]

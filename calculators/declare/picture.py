"""Pictures."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calculators.declare.field import SubmittedFile, Trouble, When, declared
from calculators.declare.file import FileField
from calculators.files.picture import Picture, PictureTrouble, checked_header, read_picture

__all__ = ["PictureField", "picture"]


@dataclass(frozen=True, kw_only=True)
class PictureField(FileField):
    """A picture: its bytes, its header and, if ``pixels``, its RGBA pixels.

    With ``any_outlines`` an SVG of any kind is taken too, by its header alone.
    ``outlines`` names the value of the job, made by another calculator, that it takes as well: filled outlines in an
    SVG file. ``fills`` maps other fields to the attribute of the picture that gives their value. ``points_fit`` is the
    size in pixels of a picture that the default points lie right on. ``placed`` names the field that says whether
    points are in their places, and its text for those that were put on another picture. ``example`` is the picture of
    the site that they lie on until one is chosen.
    """

    pixels: bool = False
    any_outlines: bool = False
    outlines: str = ""
    points_fit: tuple[int, int] | None = None
    placed: tuple[str, str] | None = None
    example: str = ""
    fills: Mapping[str, str] = dataclasses.field(default_factory=dict)  # type: ignore[misc]  # each picture has its own
    kind = "picture"
    takes = "a picture file"

    def opened(self, file: SubmittedFile) -> Picture:
        """Return the picture in a file. Raises Trouble."""
        try:
            return read_picture(
                file.name,
                file.data,
                pixels=file.pixels,
                wanted=self.pixels,
                or_outlines=bool(self.outlines),
                any_outlines=self.any_outlines,
            )
        except PictureTrouble as trouble:
            raise Trouble(trouble.text, trouble.hint) from None

    def inspected(self, file: SubmittedFile) -> dict[str, Any]:
        """Return orientation, profile and outlines from the header. Raises Trouble."""
        try:
            header = checked_header(
                file.name, file.data, wanted=self.pixels, or_outlines=self.any_outlines or bool(self.outlines)
            )
        except PictureTrouble as trouble:
            raise Trouble(trouble.text, trouble.hint) from None
        return {"orientation": header.orientation, "profiled": header.profiled, "outlines": header.kind == "SVG"}

    def details(self) -> dict[str, Any]:
        """Return which pictures are taken, and what is done with them."""
        return {
            **super().details(),
            "pixels": self.pixels,
            "outlines": self.outlines,
            "fills": list(self.fills),
            "points_fit": list(self.points_fit) if self.points_fit else None,
            "placed": list(self.placed) if self.placed else None,
            "example": self.example,
        }


def picture(
    label: str,
    *,
    pixels: bool = False,
    any_outlines: bool = False,
    outlines: str = "",
    fills: Mapping[str, str] | None = None,
    points_fit: tuple[int, int] | None = None,
    placed: tuple[str, str] | None = None,
    example: str = "",
    help: str = "",
    without: str = "",
    only_when: When = None,
) -> Any:
    """Declare a picture, which may be left out and is then None; the job's ``outlines`` may be taken for it."""
    return declared(
        PictureField(
            label=label,
            help=help,
            accept="image/*,.svg,.tif,.tiff",
            pixels=pixels,
            any_outlines=any_outlines,
            outlines=outlines,
            fills=fills or {},
            points_fit=points_fit,
            placed=placed,
            example=example,
            optional=True,
            without=without,
            only_when=only_when,
        ),
        None,
    )

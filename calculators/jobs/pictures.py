"""What a picture holds, measured once and kept by its hash."""

from __future__ import annotations

from typing import Any

from calculators.declare import Problem, Refused
from calculators.jobs.facts import Facts
from calculators.values import in_one_go


def measured(name: str, data: bytes, pixels: tuple[int, int, bytes] | None = None) -> Facts:
    """Return what a picture holds. ``pixels`` as for ``read_picture``. Raises Refused for what is no picture."""
    # Only who measures needs these.
    from calculators.files.picture import PictureTrouble, read_picture

    try:
        picture = read_picture(name, data, pixels=pixels, wanted=True, any_outlines=True)
    except PictureTrouble as trouble:
        raise Refused(Problem("picture", trouble.text, trouble.hint)) from None
    return _of_outlines(name, data, picture.header.holds_picture) if picture.rgba is None else _of_pixels(picture)


def _of_pixels(picture: Any) -> Facts:
    from calculators.pixels.extent import extent
    from calculators.pixels.inspection import inspected

    found, box = inspected(picture), extent(picture)
    width_px, height_px = picture.size_px
    return Facts(
        kind=picture.header.kind,
        width_px=width_px,
        height_px=height_px,
        detail_width_px=found.detail.width_px,
        detail_height_px=found.detail.height_px,
        least_width_px=found.detail.least_width_px or 0,
        enlarged=found.detail.enlarged is not None,
        edges=found.edges,
        jpeg_damage=found.jpeg.found,
        own_px=max(1, box.box[2] - box.box[0]),
        whole_px=box.width,
    )


def _of_outlines(name: str, data: bytes, holds_picture: bool) -> Facts:
    """Return the facts of outlines; where they cannot be drawn they count as without margins."""
    from calculators.files.outline_pixels import with_pixels
    from calculators.files.picture import PictureTrouble, read_picture
    from calculators.pixels.extent import extent

    try:
        picture = read_picture(name, data, wanted=True, or_outlines=True)
    except PictureTrouble:
        return Facts(kind="SVG", pixels_inside=holds_picture)
    box = extent(in_one_go(with_pixels(picture)))
    return Facts(kind="SVG", own_px=max(1, box.box[2] - box.box[0]), whole_px=box.width, pixels_inside=holds_picture)

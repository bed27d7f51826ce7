"""The printed widths of a picture and of the marking in it: either follows from the other."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, ClassVar, Protocol, TypeVar

from calculators import messages
from calculators.declare import Message, Problem, Refused, asked, message
from calculators.files.picture import Picture
from calculators.job_fields import OF_MARKING
from calculators.pixels.colour_table import hex_of
from calculators.pixels.extent import Extent, extent


@dataclass(frozen=True)
class Widths:
    """The printed widths of the whole picture and of the marking alone; both None if they are equal."""

    picture_mm: float | None = None
    own_mm: float | None = None
    reasons: tuple[Message, ...] = ()


class _Inputs(Protocol):
    """Inputs that ask for one of the two widths."""

    __dataclass_fields__: ClassVar[dict[str, Any]]

    @property
    def width_of(self) -> str: ...

    @property
    def width_mm(self) -> float: ...

    @property
    def own_width_mm(self) -> float: ...


_Asking = TypeVar("_Asking", bound=_Inputs)


def with_widths(inputs: _Asking, picture: Picture | None) -> tuple[_Asking, Widths]:
    """Return ``inputs`` with the printed width of the whole picture as their ``width_mm``, and both widths.

    ``picture`` has its pixels, or is None if there is none. Raises Refused if its margins make it too wide.
    """
    own_width = inputs.width_of == OF_MARKING
    if picture is None:
        if not own_width:
            return inputs, Widths()
        return replace(inputs, width_mm=inputs.own_width_mm), Widths(reasons=(message(messages.NO_MARGINS_KNOWN),))
    found = extent(picture)
    width_mm = inputs.own_width_mm / found.share if own_width else inputs.width_mm
    if width_mm > _most(inputs):
        raise Refused(Problem("own_width_mm", messages.PICTURE_TOO_WIDE, messages.PICTURE_TOO_WIDE_HINT))
    return replace(inputs, width_mm=width_mm), _widths(found, width_mm, own_width=own_width)


def _widths(found: Extent, width_mm: float, *, own_width: bool) -> Widths:
    if found.share < 1:
        return Widths(width_mm, width_mm * found.share)
    return Widths(
        reasons=(message(messages.FIELD_COUNTS, colour=hex_of(found.field)),) if own_width and found.field else ()
    )


def _most(inputs: Any) -> float:
    width: Any = asked(type(inputs))["width_mm"]
    most: float = width.high
    return most

"""Rows of what is printed, on what and by what."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar

from calculators.tables.declaration import Fact, column, wait
from calculators.tables.row import Row, SourcedRow

KINDS_OF_MODEL = ("aircraft", "figure", "railway", "ship", "vehicle", "architecture")


@dataclass(frozen=True, kw_only=True)
class Scale(Row):
    """A scale of models, or a railway scale with a name."""

    DECIDES: ClassVar[tuple[str, ...]] = ("kinds", "ratio")

    kinds: tuple[str, ...] = column(
        "Used for", "texts", fewest=1, one_of=KINDS_OF_MODEL, help="one or more kinds of model"
    )
    aliases: tuple[str, ...] = column("Also called", "texts", most=60, help="what a reader may type instead")
    ratio: Fact = column("Ratio", "fact", unit="1:n", low=1, high=10_000, help="the real thing over the model")


def _line(label: str, help: str, **more: Any) -> Any:
    return column(label, "fact", unit="mm", low=0.01, high=2, help=help, **more)


@dataclass(frozen=True, kw_only=True)
class Printer(Row):
    """A kind of printer: no makes, no models."""

    DECIDES: ClassVar[tuple[str, ...]] = ("prints_white", "thinnest_line")

    prints_white: bool = column("Prints white", "yes-no", help="true if it lays down white of its own")
    thinnest_line: Fact = _line("Thinnest line, one colour", "one solid colour, dark on bare film")
    thinnest_line_colour: Fact = _line(
        "Thinnest line, mixed colour or reversed out", "a mixed colour, or a light line left open in a dark area"
    )


def _side(label: str, help: str) -> Any:
    return column(label, "fact", unit="mm", low=50, high=2000, help=help)


@dataclass(frozen=True, kw_only=True)
class Paper(Row):
    """A size of sheet."""

    DECIDES: ClassVar[tuple[str, ...]] = ("width", "height")

    width: Fact = _side("Width", "of the upright sheet")
    height: Fact = _side("Height", "of the upright sheet")


@dataclass(frozen=True, kw_only=True)
class Substrate(SourcedRow):
    """A film, a proof paper or a stencil material."""

    DECIDES: ClassVar[tuple[str, ...]] = ("kind", "thickness", "contrast_ratio", "seal")

    kind: str = column(
        "Kind", one_of=("clear film", "white film", "backing film", "proof paper", "stencil"), help="what it is for"
    )
    printers: tuple[str, ...] = column(
        "Printers that take it", "refs", table=("printers",), help="[] if it is not printed"
    )
    maker_permits: tuple[str, ...] = column(
        "Only where the printer's maker allows it",
        "refs",
        table=("printers",),
        help="printers that may take it, by their maker's word",
    )
    never_printers: tuple[str, ...] = column(
        "Never in", "refs", table=("printers",), help="printers that it harms, or that harm it"
    )
    why_never: str = column("Why never", required=False, help="what happens in such a printer")
    thickness: Fact = column(
        "Thickness", "fact", unit="µm", low=1, high=1000, help="what stays on the model, without its backing paper"
    )
    contrast_ratio: Fact | None = column(
        "Contrast ratio",
        "fact",
        required=False,
        unit="ratio",
        low=0,
        high=1,
        help="over black against over white; cautious, as a range",
    )
    humidity: Fact | None = column(
        "Humidity at most, when it is printed",
        "fact",
        required=False,
        unit="%",
        low=10,
        high=100,
        help="relative humidity above which its backing takes up too much water",
    )
    coated_side: str = column("Coated side", help="how to find the side to print or stick")
    seal: str = column(
        "Seal", one_of=("must", "advised", "no need"), help="whether the print must be sealed before water"
    )
    why_seal: str = column("Why", required=False, help="what the seal is for")
    edges: str = column("How its edges show", help="what is seen of the edge on the model, and what helps")
    handling: str = column("Handling", help="how to touch, cut and feed it")
    storage: str = column("Storage", help="where and how to keep it")
    storage_life: Fact | None = wait("Keeps for", "how long it keeps, unopened and well stored", required=False)


@dataclass(frozen=True, kw_only=True)
class PrintSetting(SourcedRow):
    """A kind of printer with a film: what to set."""

    DECIDES: ClassVar[tuple[str, ...]] = ("thinnest_line", "thinnest_line_colour")

    printer: str = column("Printer", "ref", table=("printers",), help="an id from printers.yaml")
    substrate: str = column("Film", "ref", table=("substrates",), help="an id from substrates.yaml")
    media: str = column("Media setting", help="what to tell the printer it is fed with")
    quality: str = column("Quality", help="which quality setting, and why")
    scaling: str = column("Scaling", help="scaling, fit to page, borderless")
    feed: str = column("Feed path", help="tray or slot, one at a time or not, which way up")
    colour: str = column("Colour handling", help="who converts colours, and what to switch off")
    thinnest_line: Fact = _line("Thinnest line, one colour", "on this film, one solid colour")
    thinnest_line_colour: Fact | None = _line(
        "Thinnest line, mixed colour or reversed out", "on this film", required=False
    )
    goes_wrong: tuple[str, ...] = column(
        "What goes wrong", "texts", fewest=1, help="each trouble with its cause, in one sentence"
    )

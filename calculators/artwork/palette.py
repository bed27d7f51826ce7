"""The colours of a marking: those found in its picture, and the reader's changes to each."""

from __future__ import annotations

from dataclasses import dataclass

from calculators import messages, tables
from calculators.colour.difference import delta_e
from calculators.declare import (
    Problem,
    Refused,
    choice,
    colour,
    colour_result,
    measure,
    text,
    whole_number,
    words,
)
from calculators.pixels.cleaning import Background
from calculators.pixels.colour_table import Rgb, hex_of, lab, rgb_of
from calculators.pixels.flat_colours import FlatColours

#: A colour with at most this share of the marking is a few stray pixels.
SPECK_SHARE = 0.0002


#: White as no printer has it; a name of a paint colour fits from so near (both delta E 2000).
WHITE_WITHIN, NAMED_WITHIN = 3.0, 9.0


STAYS, JOINS, BECOMES, DROPPED, METALLIC, FLUORESCENT = (
    "stays",
    "joins",
    "becomes",
    "dropped",
    "metallic",
    "fluorescent",
)


DOES = {
    STAYS: "Stays",
    JOINS: "Joins another",
    BECOMES: "Changes colour",
    DROPPED: "Is dropped",
    METALLIC: "Is metallic",
    FLUORESCENT: "Is fluorescent",
}


PRINTS, NO_WHITE = "Prints", "No white ink"


PRINTS_AS = {METALLIC: "No metallic ink", FLUORESCENT: "No fluorescent ink", DROPPED: "Dropped"}


@dataclass(frozen=True, kw_only=True)
class ColourChange:
    which: int = whole_number(
        "Colour no.", unit="", low=1, high=32, default=1, help="Its number in the table of colours."
    )
    does: str = choice(
        "What happens to it", options=DOES, default=STAYS, help="Nothing prints where you drop a colour."
    )
    joins: int = whole_number(
        "Colour no. that it joins",
        unit="",
        low=1,
        high=32,
        default=2,
        only_when=("does", JOINS),
        help="Its number in the table of colours.",
    )
    becomes: str = colour("New colour", default="#7a2232", names="paint-colours", only_when=("does", BECOMES))
    name: str = text("Name", default="", most=40, may_be_empty=True, help="Such as “rowan red”. It may stay empty.")


@dataclass(frozen=True, kw_only=True)
class ColourRow:
    number: str = words("No.")
    colour: str = colour_result("Colour")
    name: str = words("Name")
    share: float = measure("Share", unit="%", decimals=1)
    prints: str = words("In print")


class Palette:
    """The colours of a marking after the changes, each with its name and how it prints."""

    def __init__(self, flat: FlatColours, background: Background | None, changes: tuple[ColourChange, ...]) -> None:
        self.flat, self.background = flat, background
        gone = background.plane if background else bytes(len(flat.labels))
        present = int.from_bytes(flat.labels, "little") | int.from_bytes(
            gone.translate(b"\0\xff" + bytes(254)), "little"
        )
        planes = present.to_bytes(len(flat.labels), "little")
        self.counts = [planes.count(label) for label in range(len(flat.colours))]
        self.becomes: dict[int, Rgb | None] = {}
        self._take_specks()
        #: Labels that occur in the marking, in the order of the table.
        self.present = [label for label, count in enumerate(self.counts) if count]
        self.does: dict[int, str] = {}
        self.joins: dict[int, int] = {}
        self.names: dict[int, str] = {}
        problems = [problem for place, change in enumerate(changes) for problem in self._take(place, change)]
        if problems:
            raise Refused(*problems)
        for label, other in self.joins.items():
            self.becomes[label] = self.becomes.get(other, flat.colours[other].rgb)

    def _take_specks(self) -> None:
        """Merge each colour that keeps only a few pixels without the background into the colour nearest to it."""
        least = SPECK_SHARE * sum(self.counts)
        stay = [label for label, count in enumerate(self.counts) if count > least]
        for label, count in enumerate(self.counts):
            if 0 < count <= least:
                here = lab(self.flat.colours[label].rgb)
                nearest = min(stay, key=lambda other: delta_e(here, lab(self.flat.colours[other].rgb)))
                self.becomes[label] = self.flat.colours[nearest].rgb
                self.counts[nearest] += count
                self.counts[label] = 0

    def _take(self, place: int, change: ColourChange) -> list[Problem]:
        asked = [("which", change.which)] + ([("joins", change.joins)] if change.does == JOINS else [])
        problems = [
            Problem(
                f"changes[{place}].{name}",
                messages.NO_SUCH_COLOUR.format(number=number),
                messages.COLOURS_ARE.format(colours=messages.plural(len(self.present), "colour")),
            )
            for name, number in asked
            if number > len(self.present)
        ]
        if not problems and change.does == JOINS and change.joins == change.which:
            problems = [Problem(f"changes[{place}].joins", messages.JOINS_ITSELF, messages.JOINS_OTHER)]
        if problems:
            return problems
        label = self.present[change.which - 1]
        self.does[label] = change.does
        if change.name.strip():
            self.names[label] = change.name.strip()
        if change.does == JOINS:
            self.joins[label] = self.present[change.joins - 1]
        elif change.does == BECOMES:
            self.becomes[label] = rgb_of(change.becomes)
        elif change.does == DROPPED:
            self.becomes[label] = None
        return []

    def rows(self) -> tuple[ColourRow, ...]:
        """Return a row for each colour found, by number; a joined or dropped colour keeps its row."""
        whole = sum(self.counts)
        return tuple(
            ColourRow(
                number=str(number),
                colour=hex_of(self.colour(label)),
                name=self.name(label),
                share=100 * self.counts[label] / whole,
                prints=self.prints(label),
            )
            for number, label in enumerate(self.present, 1)
        )

    def colour(self, label: int) -> Rgb:
        """Return the present colour of a label, or its last colour before the reader dropped it."""
        return self.becomes.get(label) or self.flat.colours[label].rgb

    def name(self, label: int) -> str:
        """Return the reader's name for a colour, else the nearest paint colour, else its number."""
        if label in self.names:
            return self.names[label]
        here = lab(self.colour(label))
        apart, nearest = min(
            (delta_e(here, lab(rgb_of(row.colour))), row.label) for row in tables.load("paint-colours")
        )
        nearest = nearest.partition(",")[0]
        return (
            nearest if apart <= NAMED_WITHIN else messages.COLOUR_NUMBERED.format(number=self.present.index(label) + 1)
        )

    def prints(self, label: int) -> str:
        """Return in words whether a printer has ink for a colour."""
        if label in self.joins:
            return messages.JOINED_TO.format(number=self.present.index(self.joins[label]) + 1)
        if self.does.get(label) in PRINTS_AS:
            return PRINTS_AS[self.does[label]]
        return NO_WHITE if self.is_white(label) else PRINTS

    def changed(self, rgb: Rgb) -> bool:
        """Return whether the reader replaced or dropped the colour found as ``rgb``."""
        return any(
            each.rgb == rgb and self.does.get(label, STAYS) in (JOINS, BECOMES, DROPPED)
            for label, each in enumerate(self.flat.colours)
        )

    def is_white(self, label: int) -> bool:
        """Return whether a colour is white after the changes."""
        return delta_e(lab(self.colour(label)), (100.0, 0.0, 0.0)) <= WHITE_WITHIN

    @property
    def left(self) -> list[int]:
        """The labels that the reader neither joined nor dropped, one for each colour."""
        stay = [label for label in self.present if label not in self.joins and self.does.get(label) != DROPPED]
        return list({self.colour(label): label for label in reversed(stay)}.values())[::-1]

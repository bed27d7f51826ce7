"""Rows of lettering: rules with their sizes, load lines, and known sizes of plates, labels and signs."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, ClassVar

from calculators.tables.declaration import Fact, column, size
from calculators.tables.row import Row, SourcedRow


def _year(label: str, help: str) -> Any:
    return column(label, "whole", required=False, low=1600, high=2100, help=help)


@dataclass(frozen=True, kw_only=True)
class LetteringRule(SourcedRow):
    """A rule for lettering, a file for each: sizes, gaps, characters, and what it leaves open."""

    DECIDES: ClassVar[tuple[str, ...]] = ("height", "width", "stroke", "gap")

    subject: str = column(
        "Subject",
        one_of=("aircraft", "vehicle plate", "railway", "container", "ship", "any"),
        help="what is lettered by it",
    )
    from_year: int | None = _year("From", "the first year in which it held; left out if it is not known")
    to_year: int | None = _year("To", "the last year in which it held; left out if it still holds")
    says: str = column("What it fixes", help="in your own words, in one to three sentences")
    leaves_open: str = column("What it leaves open", help="which sizes or shapes it does not give, and what we draw")
    height: Fact | None = size("Height", "of the capitals; left out if the reader chooses it", shares=False)
    height_is: str = column(
        "The height is", one_of=("exact", "least", "about", "open"), help="open only where no height is given"
    )
    width: Fact | None = size("Width", "of a character, in the unit of the source")
    narrow: Fact | None = size(
        "Width of narrow ones", "of those characters; left out if they are as wide as their stroke"
    )
    narrow_characters: str = column(
        "Narrow ones", required=False, most=8, help="those characters, such as 1I; left out if there are none"
    )
    wide: Fact | None = size("Width of wide ones, at most", "how wide the wide characters may be")
    wide_characters: str = column(
        "Wide ones", required=False, most=8, help="those characters, such as MW; left out if there are none"
    )
    hyphen: Fact | None = size("Length of a hyphen", "left out if the rule does not give it")
    stroke: Fact | None = size("Stroke", "the width of the lines")
    gap: Fact | None = size("Gap", "between the boxes round two neighbouring characters")
    gap_is: str = column(
        "The gap is", one_of=("exact", "least", "open"), help="least where more is allowed, open where none is given"
    )
    group_gap: Fact | None = size("Gap between groups", "in one line; left out if the rule does not give it")
    line_gap: Fact | None = size("Gap between lines", "from the foot of one line to the top of the next")
    margin: Fact | None = size("Margin", "from the characters to the edge of the plate, at least")
    interval: Fact | None = size(
        "Interval", "from the foot of one figure to the foot of the next above it, for a scale of draught", shares=False
    )
    slant: Fact | None = column(
        "Slant, at most",
        "fact",
        required=False,
        unit="°",
        low=0,
        high=45,
        help="from the vertical; 0 if the rule forbids slanted characters, left out if it does not mention them",
    )
    characters: str = column(
        "Characters", most=80, help="those that a text may have, with ranges such as A-Z0-9; a hyphen stands last"
    )
    longest: int | None = column(
        "Characters at most", "whole", required=False, low=1, high=40, help="in a text, blanks not counted"
    )
    checks: str = column(
        "Form",
        required=False,
        one_of=("us-registration", "uic-number", "container-code"),
        help="which form or check digit a text must have; left out if none is known here",
    )
    typeface: bool = column(
        "Typeface prescribed", "yes-no", help="true if the rule prescribes the shapes of the characters themselves"
    )
    may_shrink: bool = column(
        "Smaller where it must be", "yes-no", help="true if it allows smaller characters where a surface is too small"
    )


@dataclass(frozen=True, kw_only=True)
class LoadLine(Row):
    """The parts of a load line mark, as one text has them."""

    DECIDES: ClassVar[tuple[str, ...]] = ("ring", "band", "line")

    ring: Fact = size("Ring", "its outer diameter", required=True, shares=False)
    band: Fact = size("Band", "how wide the ring and all lines are", required=True, shares=False)
    line: Fact = size(
        "Line through the ring", "its length; its upper edge passes through the centre", required=True, shares=False
    )
    load_line: Fact = size("Load lines", "the length of each", required=True, shares=False)
    forward: Fact = size("Vertical line", "how far forward of the ring's centre it stands", required=True, shares=False)
    letter_height: Fact = size("Letters, height", "of the initials beside the ring", required=True, shares=False)
    letter_width: Fact = size("Letters, width", "of the initials beside the ring", required=True, shares=False)


@dataclass(frozen=True, kw_only=True)
class KnownSize(Row):
    """A published size of a plate, a label, a placard or a sign."""

    DECIDES: ClassVar[tuple[str, ...]] = ("kind", "width", "height")

    kind: str = column("Kind", one_of=("vehicle plate", "label", "placard", "road sign"), help="what it is")
    shape: str = column("Shape", one_of=("rectangle", "octagon"), help="an octagon is as wide as it is high")
    width: Fact = size("Width", "of the whole", required=True, shares=False)
    height: Fact = size("Height", "of the whole", required=True, shares=False)
    script: Fact | None = size("Script", "height of its characters, if it is given", shares=False)
    pictogram: Fact | None = size("Pictogram", "side of each pictogram, at least, if it has any", shares=False)
    line_in: Fact | None = size("Line inside the edge", "how far in it runs, if there is one", shares=False)


def characters_of(pattern: str) -> str:
    """Return the characters that a pattern of ranges stands for, in its order.

    >>> characters_of("A-C1-")
    'ABC1-'
    """
    made = ""
    for first, last, single in re.findall(r"(\w)-(\w)|(.)", pattern):
        made += single or "".join(map(chr, range(ord(first), ord(last) + 1)))
    return made


#: What a row of each table of lettering is.
ROWS: dict[str, type] = {"rules": LetteringRule, "load-lines": LoadLine, "known-sizes": KnownSize}

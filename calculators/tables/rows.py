"""The tables and what a row of each holds, in the words that contributors and readers see."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from calculators.stages import STAGES
from calculators.tables.coating_rows import Coat, DryingTime, Fluid, Hazard, Solvent
from calculators.tables.declaration import STATUSES, Fact, Origin, column, wait
from calculators.tables.printing_rows import Paper, Printer, PrintSetting, Scale, Substrate
from calculators.tables.row import Row, SourcedRow


@dataclass(frozen=True, kw_only=True)
class Source:
    """A document that rows and calculators refer to."""

    DECIDES: ClassVar[tuple[str, ...]] = ("publisher", "year")

    id: str = column("Id", "id", help="what ref: names")
    title: str = column("Title", most=200, help="number and title as printed on it")
    publisher: str = column("Publisher", most=200, help="who answers for it")
    year: int = column("Year", "whole", low=1600, high=2100, help="of the edition that is meant")
    read: str = column(
        "Read", one_of=("whole", "part", "copy", "memory", "package"), help="what of it was read, and how"
    )
    url: str = column("Address", "url", required=False, help="only of an official public document")
    note: str = column("Note", required=False, help="what was read, and what for")


@dataclass(frozen=True, kw_only=True)
class Material(SourcedRow):
    """A film or a white by what one layer of it hides."""

    kind: str = column("Kind", one_of=("film", "white"), help="film that is printed, or white that lies beneath it")
    contrast_ratio: Fact = column(
        "Contrast ratio of one layer",
        "fact",
        unit="ratio",
        low=0,
        high=0.99,
        help="over black against over white; cautious, as a range",
    )
    layer: str = column("One layer is", help="what is counted as one, so that two readers count alike")
    measure: str = column("Measure your own", help="how a reader finds the contrast ratio of what they have")


def _yes(label: str, help: str) -> Any:
    """Declare a yes-no part that stands in a row only where it is true."""
    return column(label, "yes-no", required=False, help=help)


def _narrowest(label: str, help: str) -> Any:
    return column(label, "fact", required=False, unit="mm", low=0.05, high=10, help=help)


@dataclass(frozen=True, kw_only=True)
class Way(SourcedRow):
    """A way to get white beneath a marking, and what it costs."""

    DECIDES: ClassVar[tuple[str, ...]] = ("film", "edge", "pieces", "waits")

    film: str = column("Film", one_of=("clear", "white", "none"), help="what the colours are printed on")
    white: str = column(
        "White beneath",
        "ref",
        required=False,
        table=("materials",),
        help="the id from materials.yaml of the white that lies beneath, if any",
    )
    most_layers: int = column(
        "Layers of it at most", "whole", low=0, high=12, help="more are hardly done; 0 where nothing lies beneath"
    )
    most_colours: int | None = column(
        "Colours at most",
        "whole",
        required=False,
        low=1,
        high=30,
        help="flat colours that can be done so; left out if any number",
    )
    edge: Fact = column("Edge", "fact", unit="µm", low=0, high=300, help="height of the step without white beneath")
    edge_layer: Fact | None = column(
        "Edge by each layer",
        "fact",
        required=False,
        unit="µm",
        low=0,
        high=300,
        help="what one layer of the white adds",
    )
    pieces: int = column(
        "Pieces to line up", "whole", low=0, high=20, help="for one marking, beyond putting it in its place"
    )
    tolerance: Fact | None = column(
        "Tolerance", "fact", required=False, unit="mm", low=0.01, high=5, help="how closely the pieces must meet"
    )
    choke: Fact | None = column(
        "Choke",
        "fact",
        required=False,
        unit="mm",
        low=0.01,
        high=2,
        help="how much smaller the white is beneath colour",
    )
    outline: Fact | None = _narrowest(
        "Narrowest outline", "narrowest part of the whole outline that can be done; left out if any"
    )
    inside: Fact | None = _narrowest(
        "Narrowest part inside", "narrowest part of any one colour, where each is cut by itself"
    )
    waits: tuple[str, ...] = column(
        "Added waits", "refs", table=("drying-times",), help="ids from drying-times.yaml; [] if none"
    )
    delivery: Fact | None = wait("Delivery", "until it has come, where it is bought", required=False)
    tools: tuple[str, ...] = column("Tools", "texts", most=120, help="beyond a printer and a knife; [] if none")
    outlines: tuple[str, ...] = column("Outlines", "texts", most=200, help="which outlines have to be made for it")
    how: str = column("How", help="in a sentence")
    spoils: str = column("What spoils it", help="what goes wrong")
    for_white: bool = _yes("Only for white", "true if only what is white can be had this way")
    paints: bool = _yes("Paint for colours too", "true if the colours are paint and not print")
    bought: bool = _yes("Bought in", "true if somebody else prints it")
    own_printer: bool = _yes("Needs a printer with white", "true if the reader's own printer must carry white")
    sprays: bool = _yes("Needs spraying", "true if paint is sprayed")
    own_white: bool = _yes(
        "The model's own white", "true if white paint of the model lies beneath, kept free of the second paint"
    )
    edge_away: bool = _yes("Edge elsewhere", "true if the edge may lie at a panel line, away from the marking")


@dataclass(frozen=True, kw_only=True)
class PaintColour(SourcedRow):
    """A name for a colour of paint."""

    colour: str = column(
        "Colour", brief=True, colour=True, most=7, help="as #rrggbb in small letters, in double quotes"
    )
    aliases: tuple[str, ...] = column(
        "Also called", "texts", most=60, help="what a reader may type instead; [] if nothing"
    )


@dataclass(frozen=True, kw_only=True)
class Cause:
    """One cause of a trouble, with what tells it from the others."""

    cause: str = column("Cause", most=250, wording="sentences", help="what made it, in one sentence")
    test: str = column(
        "Test", most=350, wording="sentences", help="what is seen, felt or tried that tells this cause from the others"
    )
    now: str = column("What to do now", most=450, wording="sentences", help="if this is the cause; waits as {id}")


@dataclass(frozen=True, kw_only=True)
class Trouble:
    """A troubleshooting entry, a file for each: what is seen, why, how to tell, what to do."""

    id: str = column("Id", "id", help="the name of the file: what is seen, in a few words")
    title: str = column("Title", most=80, wording="heading", help="what went wrong, as a reader would say it")
    stage: str = column("Stage", one_of=tuple(STAGES), help="where in the work it is noticed")
    see: str = column(
        "What you see", most=400, wording="sentences", help="in one to three sentences: what, where and when"
    )
    said: tuple[str, ...] = column(
        "Also said",
        "texts",
        required=False,
        fewest=3,
        at_most=15,
        most=60,
        wording="heading",
        help=(
            "three to fifteen short phrases in which somebody who knows no word of the trade would tell of it, "
            "such as “fell off”"
        ),
    )
    causes: tuple[Cause, ...] = column(
        "Causes", "parts", row=Cause, fewest=2, at_most=5, help="two to five, the most likely first"
    )
    avoid: tuple[str, ...] = column(
        "Next time", "texts", fewest=1, at_most=5, most=300, wording="sentences", help="how to avoid it, one to five"
    )
    never: tuple[str, ...] = column(
        "What not to do", "texts", fewest=1, at_most=4, most=300, wording="sentences", help="and why, one to four"
    )
    related: tuple[str, ...] = column(
        "See also",
        "refs",
        table=("troubleshooting",),
        fewest=1,
        at_most=4,
        help="ids of one to four other entries that are easily taken for it",
    )
    waits: tuple[str, ...] = column(
        "Waits",
        "refs",
        required=False,
        table=("drying-times",),
        help="ids of the waits that a text names as {id}: the page prints the usual range",
    )
    source: Origin = column(
        "Source of the words", "source", help="common-practice, estimate or drawn-up, or a document: {ref: …, at: …}"
    )
    status: str = column(
        "Status", required=False, one_of=tuple(STATUSES), help="how the words are known; only beside a document"
    )


@dataclass(frozen=True, kw_only=True)
class Synonym(Row):
    """Words that readers use for one thing that is seen, for the symptom finder."""

    words: tuple[str, ...] = column(
        "Words", "texts", fewest=1, most=40, help="what readers say for it, also of several words, in small letters"
    )


class _Tables(Mapping[str, type]):
    """What a row of each table is, by name. Rows of lettering come with the first of their tables that is asked."""

    def __init__(self, rows: dict[str, type | None]) -> None:
        self._rows = rows

    def __getitem__(self, name: str) -> type:
        row = self._rows[name]
        if row is None:
            from calculators.tables import lettering_rows

            row = self._rows[name] = lettering_rows.ROWS[name]
        return row

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)


#: Every table by the name of its file or folder, with what a row of it is.
TABLES: Mapping[str, type] = _Tables(
    {
        "scales": Scale,
        "printers": Printer,
        "papers": Paper,
        "substrates": Substrate,
        "materials": Material,
        "paint-colours": PaintColour,
        "ways": Way,
        "print-settings": PrintSetting,
        "drying-times": DryingTime,
        "coats": Coat,
        "fluids": Fluid,
        "hazards": Hazard,
        "solvents": Solvent,
        "rules": None,
        "load-lines": None,
        "known-sizes": None,
        "troubleshooting": Trouble,
        "synonyms": Synonym,
        "sources": Source,
    }
)

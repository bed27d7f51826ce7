"""The fields and results of pieces that a knife or a cutter takes."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.declare import (
    MARKING,
    Figure,
    Lead,
    Message,
    NamedFile,
    belonging,
    choice,
    figure,
    file_result,
    folded,
    leads,
    measure,
    number,
    reasons,
    shared,
    table,
    text,
    verdict,
    whole_number,
    words,
    yes_no,
)
from calculators.files.picture import Picture
from calculators.job_fields import (
    marking_picture,
    own_width,
    own_width_result,
    printed_width,
    white_tolerance,
    width_is_of,
)
from calculators.pixels.white_areas import TOLERANCE, read_marks
from calculators.underlay import next_steps

#: What is cut.
BACKING, WHITE, COLOURS, OUTLINE, CUT_OUTS = "backing", "white", "colours", "outline", "cut-outs"
PIECES = {
    BACKING: "Backing piece of white film",
    WHITE: "Stencil for white beneath",
    COLOURS: "Stencils for the colours",
    OUTLINE: "Outline of the marking with its rim",
    CUT_OUTS: "Cut-outs: windows, vents, hinges",
}
STENCILS = (WHITE, COLOURS)
MASK, LOOSE = "mask", "loose"

CLEANLY, WITH_CARE, NOT_LIKE_THIS, TOO_WIDE, MANY, NOT_FLAT, TOO_FINE, NOTHING = (
    "cleanly",
    "with-care",
    "not-like-this",
    "too-wide",
    "many",
    "not-flat",
    "too-fine",
    "nothing",
)
LEVELS = {
    CLEANLY: ("pass", "It cuts cleanly"),
    WITH_CARE: ("watch", "It can be cut with care"),
    NOT_LIKE_THIS: ("fail", "It cannot be cut like this"),
    TOO_WIDE: ("fail", "It is wider than the sheet"),
    MANY: ("fail", "It has too many colours for stencils"),
    NOT_FLAT: ("fail", "This is not flat artwork"),
    TOO_FINE: ("fail", "It has too many edges to cut"),
    NOTHING: ("fail", "There is nothing to cut"),
}
_LOOSE = ("stencil_kind", LOOSE)


@dataclass(frozen=True, kw_only=True)
class CutFileInputs:
    picture: Picture | None = marking_picture(without="the page uses the demonstration crest.", or_outlines=True)
    piece: str = shared(
        "cut-piece",
        choice("What is cut", options=PIECES, default=WHITE),
        MARKING,
    )
    stencil_kind: str = choice(
        "Kind of stencil",
        options={MASK: "Adhesive mask: it sticks", LOOSE: "Loose stencil: it needs bridges"},
        default=MASK,
        help="Transfer tape holds the islands of a mask. Bridges hold those of a loose stencil.",
        only_when=("piece", STENCILS),
    )
    width_of: str = width_is_of()
    width_mm: float = printed_width()
    own_width_mm: float = own_width()
    choke_mm: float = shared(
        "choke",
        number(
            "Choke",
            unit="mm",
            low=0,
            high=2,
            default=0.2,
            help="How far white ends inside the colour. 0.1 to 0.3 mm by hand.",
            only_when=("piece", (BACKING, WHITE)),
        ),
        MARKING,
    )
    spread_mm: float = number(
        "Spread beneath the next colour",
        unit="mm",
        low=0,
        high=1,
        default=0.2,
        help="So that no gap opens between two colours. 0.1 to 0.3 mm is usual.",
        only_when=("piece", COLOURS),
    )
    rim_mm: float = number(
        "Rim of film round the marking",
        unit="mm",
        low=0,
        high=20,
        default=1,
        only_when=("piece", OUTLINE),
    )
    inside_mm: float = number(
        "Rim of film inside each cut-out",
        unit="mm",
        low=0,
        high=5,
        default=0,
        help="0 cuts along the edge of the hole.",
        only_when=("piece", CUT_OUTS),
    )
    mirrored: bool = yes_no(
        "It goes inside a clear part, such as a window",
        default=False,
        help="You look at it from behind, so it is cut mirrored.",
    )
    copies: int = whole_number("Copies", unit="", low=1, high=100, default=1)
    sheet_width_mm: float = number(
        "Width of the sheet",
        unit="mm",
        low=20,
        high=2000,
        default=210,
        help="Of the material that is cut. Copies are placed by it.",
    )
    thinnest_bridge_mm: float = number(
        "Width of bridges",
        unit="mm",
        low=0.2,
        high=5,
        default=0.8,
        help="Thinner ones break, wider ones leave larger gaps. An estimate.",
        only_when=_LOOSE,
    )
    changes: str = belonging(
        text(
            "Changes of bridges",
            default="",
            most=400,
            may_be_empty=True,
            taps="pieces",
            help="Tap a bridge in the drawing, or type: 2 off, 3 at 12.5 8, new at 4 9.",
            only_when=_LOOSE,
        )
    )
    white_marks: str = folded(
        shared(
            "white-marks",
            text(
                "White areas",
                default="",
                most=800,
                may_be_empty=True,
                marks="areas",
                grammar=read_marks,
                help="Tap an area in its drawing, or type: 3 hole, 5 wanted, 1 background. Empty: all guesses stand.",
            ),
            MARKING,
        )
    )
    white_tolerance: float = folded(white_tolerance(default=TOLERANCE))
    smallest_piece_mm: float = folded(
        number(
            "Smallest piece that you can lift",
            unit="mm",
            low=0.2,
            high=20,
            default=1.5,
            help="Its longer side. An estimate.",
        )
    )
    smallest_opening_mm: float = folded(
        number(
            "Narrowest opening or strip",
            unit="mm",
            low=0.1,
            high=10,
            default=0.5,
            help="What your cutter and your paint can do. An estimate.",
        )
    )
    has_frame: bool = folded(
        yes_no("Waste frame round each piece", default=True, help="A cut that parts it from the rest of the sheet.")
    )
    waste_cuts: bool = folded(
        yes_no(
            "Waste cuts",
            default=False,
            help="From each outline to the frame, so that the waste comes off in parts.",
            only_when=("has_frame", "yes"),
        )
    )


@dataclass(frozen=True, kw_only=True)
class PieceRow:
    name: str = words("Piece")
    width_mm: float = measure("Width", unit="mm", decimals=1)
    height_mm: float = measure("Height", unit="mm", decimals=1)
    outlines: int = measure("Closed cuts", decimals=0)
    islands: int | None = measure("Islands", decimals=0)
    bridges: int | None = measure("Bridges", decimals=0)
    lost_percent: float | None = measure("Covered by bridges", unit="%", decimals=1)
    length_mm: float = measure("Cutting length", unit="mm", decimals=0)


@dataclass(frozen=True, kw_only=True)
class PlaceRow:
    letter: str = words("Place")
    what: Message = words("What is there")
    piece: str = words("In")
    x_mm: float = measure("From the left", unit="mm", decimals=1)
    y_mm: float = measure("From the top", unit="mm", decimals=1)


@dataclass(frozen=True, kw_only=True)
class IslandRow:
    piece: str = words("In")
    x_mm: float = measure("From the left", unit="mm", decimals=1)
    y_mm: float = measure("From the top", unit="mm", decimals=1)
    width_mm: float = measure("Width", unit="mm", decimals=1)
    height_mm: float = measure("Height", unit="mm", decimals=1)


@dataclass(frozen=True, kw_only=True)
class CutFileOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    piece_count: int | None = measure("Pieces to cut", decimals=0, help="with all copies")
    length_mm: float | None = measure("Cutting length", unit="mm", decimals=0, help="of all lines in the files")
    sheet_mm: float | None = measure(
        "Length of sheet", unit="mm", decimals=0, help="below one another on a sheet of this width"
    )
    island_count: int | None = measure("Islands on the transfer tape", decimals=0)
    bridge_count: int | None = measure("Bridges", decimals=0)
    own_width_mm: float | None = folded(own_width_result())
    pieces: Figure | None = figure("The pieces")
    areas: Figure | None = folded(figure("The white areas, numbered"))
    places: tuple[PlaceRow, ...] = table(
        "Places to look at",
        row=PlaceRow,
        help="from the top left corner of the picture, as it is printed",
    )
    each: tuple[PieceRow, ...] = folded(
        table(
            "The pieces in numbers",
            row=PieceRow,
            decides=("name", "width_mm", "height_mm", "length_mm"),
            help="without frame and register crosses",
        )
    )
    islands: tuple[IslandRow, ...] = folded(
        table(
            "Islands: lay them with the transfer tape",
            row=IslandRow,
            help="the middle of each, from the top left corner of the picture",
        )
    )
    dxf: NamedFile | None = file_result("Cut lines, DXF", help="For a cutter or a shop. Its numbers are mm.")
    svg: NamedFile | None = file_result("Cut lines, SVG in millimetres")
    pdf: NamedFile | None = file_result("Cut lines, PDF at exact size", help="To print and cut by hand.")
    note: NamedFile | None = file_result("Note for whoever cuts it, text")
    next_steps: tuple[Lead, ...] = leads(next_steps.CUT_FILE)

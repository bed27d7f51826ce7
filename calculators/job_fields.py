"""Fields that several calculators of a job have in common and whose values they share."""

from __future__ import annotations

from typing import Any

from calculators import sight
from calculators.declare import JOB, MARKING, MODEL, belonging, choice, colour, measure, number, picture, shared, text
from calculators.printed_lines import LINES, SOLID

#: The shared value of the job that holds traced outlines.
TRACED_OUTLINES = "outlines"
#: The value of a marking that carries the texts of a series until the page of the job makes rows of them: a JSON list
#: of texts with their copies.
SERIES_ROWS = "rows"
#: What the width that the reader gives is the width of.
OF_PICTURE, OF_MARKING = "picture", "marking"


def marking_picture(*, without: str, or_outlines: bool = False) -> Any:
    """Declare the picture of the marking, with its pixels or its traced outlines;
    ``without`` says what is taken where there is none.
    """
    kinds = "PNG, JPEG, GIF, WebP, BMP or SVG" if or_outlines else "PNG, JPEG, GIF, WebP or BMP"
    return shared(
        "picture",
        picture(
            "Picture",
            pixels=True,
            outlines=TRACED_OUTLINES if or_outlines else "",
            help=f"{kinds}. It stays on this device.",
            without=without,
        ),
        MARKING,
    )


def width_is_of() -> Any:
    """Declare which width the reader gives; ``marking_widths`` makes it that of the picture."""
    return shared(
        "width-of",
        choice(
            "The width you give is that of",
            default=OF_PICTURE,
            options={OF_PICTURE: "Whole picture, with margins", OF_MARKING: "Marking without margins"},
            help="Where the picture ends at the marking, the two are the same.",
        ),
        MARKING,
    )


def scale_of_model() -> Any:
    """Declare the scale of the model."""
    return shared(
        "scale",
        number(
            "Scale",
            unit="1:n",
            low=1,
            high=10_000,
            default=43.5,
            names="scales",
            help="A ratio such as 1:72, or a name such as OO.",
        ),
        MODEL,
    )


def printed_width(*, low: float = 0.5, high: float = 400, default: float = 14) -> Any:
    """Declare the width of the whole picture on the model, in mm."""
    return belonging(
        shared(
            "width",
            number(
                "Printed width",
                unit="mm",
                low=low,
                high=high,
                default=default,
                only_when=("width_of", OF_PICTURE),
                help="The picture's width on the model, its margins included. You can type inches: 1 in.",
            ),
            MARKING,
        )
    )


def own_width(*, low: float = 0.5, high: float = 400, default: float = 14) -> Any:
    """Declare the width of the marking alone on the model, in mm."""
    return belonging(
        shared(
            "own-width",
            number(
                "Marking's own width",
                unit="mm",
                low=low,
                high=high,
                default=default,
                only_when=("width_of", OF_MARKING),
                help="Without the margins of its picture, as you would measure it on the model.",
            ),
            MARKING,
        )
    )


def picture_width_result() -> Any:
    """Declare the printed width of the whole picture, a result beside the marking's own width."""
    return measure("Printed width of the picture", unit="mm", decimals=2, help="its margins included")


def own_width_result() -> Any:
    """Declare the printed width of the marking alone, a result if the picture has margins."""
    return measure("Marking's own width", unit="mm", decimals=2, help="without the picture's margins")


def looked_at_from() -> Any:
    """Declare the viewing distance, in mm."""
    return shared(
        "viewing-distance",
        number(
            "Looked at from",
            unit="mm",
            low=50,
            high=10_000,
            default=sight.IN_THE_HAND_MM,
            help="In the hand it is about 300 mm, on a shelf 800 mm.",
        ),
        JOB,
    )


def marking_edges() -> Any:
    """Declare the kind of edges that the picture has; "seen" leaves it to its
    pixels, and is soft where there are none.
    """
    return shared(
        "edges",
        choice(
            "Edges in the picture",
            default="seen",
            options={"seen": "As in the picture", "soft": "Soft, with in-between shades", "hard": "Hard, stepped"},
            help="Without a picture they count as soft, as most are.",
        ),
        MARKING,
    )


def marking_printer(*, help: str = "") -> Any:
    """Declare the printer that the marking is printed with."""
    return shared("printer", choice("Printer", table="printers", default="inkjet-pigment", help=help), MARKING)


def printer_errors() -> Any:
    """Declare what was measured of the printers' own errors, an entry for each printer and film.

    ``sheets.printer_errors`` reads and writes the text.
    """
    return shared(
        "printer-errors",
        text(
            "Printers' own errors",
            default="",
            most=1500,
            may_be_empty=True,
            lines=3,
            help="The page that measures an error writes it here. Empty means that no sheet is corrected.",
        ),
        JOB,
    )


def printer_margin() -> Any:
    """Declare how much of the sheet's edges the printer leaves white, in mm."""
    return number(
        "Margin that the printer leaves",
        unit="mm",
        low=0,
        high=50,
        default=5,
        help="The widest of the four. Print a filled page on paper to see it.",
    )


def marking_lines() -> Any:
    """Declare what the thin lines of the marking are, by which a printer holds them."""
    return shared(
        "line",
        choice(
            "Its lines are",
            default=SOLID,
            options=LINES,
            help=(
                "A light line in a dark area fills in sooner than a dark line breaks up. Printers mix most "
                "colours from several inks."
            ),
        ),
        MARKING,
    )


def film() -> Any:
    """Declare the film that is printed on."""
    return shared("film", choice("Film", table="materials", where=("kind", "film"), default="clear"), MARKING)


def white_beneath() -> Any:
    """Declare the white that lies beneath."""
    return shared(
        "white-material",
        choice("White beneath", table="materials", where=("kind", "white"), default="white-paint-spray"),
        MARKING,
    )


def first_paint() -> Any:
    """Declare the paint that the marking lies on, or the first of two."""
    return shared(
        "paint-a",
        colour(
            "Paint", default="#efe4c4", names="paint-colours", help="A name such as ivory, or a colour such as #efe4c4."
        ),
        MODEL,
    )


def second_paint() -> Any:
    """Declare the second paint that it lies on."""
    return shared(
        "paint-b",
        colour(
            "Second paint",
            default="#7a2232",
            names="paint-colours",
            help="The same again if the marking is on one paint only.",
        ),
        MODEL,
    )


def white_tolerance(*, default: float) -> Any:
    """Declare how far from pure white a colour counts as white (delta E 2000).

    The numbers of white areas hold for one tolerance.
    """
    return shared(
        "white-tolerance",
        number(
            "White tolerance",
            unit="ΔE",
            low=0,
            high=30,
            default=default,
            help=(
                "How much a colour may differ from pure white and still count as white. Scans of yellowed "
                "paper need 10 or more."
            ),
        ),
        MARKING,
    )


def border_limit(*, default: float) -> Any:
    """Declare the difference (delta E 2000) that may stay across the border of two paints."""
    return number(
        "Allowed difference across the border",
        unit="ΔE",
        low=0.5,
        high=10,
        default=default,
        help="Half of people accept 1.8; few notice 0.8.",
    )

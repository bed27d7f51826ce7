"""From a job to what has to be printed: pieces that are still missing, with spares, white pieces and partners."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from calculators import tables
from calculators.files.header import BadHeader, CutShort, NotAPicture, read_header
from calculators.job_fields import TRACED_OUTLINES
from calculators.jobs.model import MIRRORED, MIRRORED_BUT_TEXT, OUTLINES, OWN, TEXT, Bench, Job, Marking, Paint
from calculators.jobs.partners import as_used
from calculators.jobs.parts import kinds_of
from calculators.jobs.typed_inputs import width_mm
from calculators.jobs.whole import Whole
from calculators.sheets.model import Item, Part
from calculators.tables.rows import Way

CLEAR, WHITE, BACKING = "clear", "white", "backing-film"
#: The way in which the paint is printed round white lettering.
BODY_COLOUR = "white-film-body-colour"
#: Spares: as the job says; at least as many as suggested; none.
OF_JOB, SUGGESTED, NO_SPARES = "job", "suggested", "none"
#: Why a marking is not on the sheets.
NO_WIDTH, NO_PICTURE, FILE_GONE, UNREADABLE, NO_FILM, ENOUGH = (
    "no-width",
    "no-picture",
    "file-gone",
    "unreadable",
    "no-film",
    "enough",
)
#: Those of them that the reader has to put right.
LACKING = frozenset({NO_WIDTH, NO_PICTURE, FILE_GONE, UNREADABLE})
#: Smaller pieces are lost, and longer ones torn, more easily: long side in mm, and length over width (estimates).
SMALL_MM, STRIPE = 6.0, 8.0
#: Nobody needs more spares of one piece than these.
MOST_SPARES = 3
_SVG_TAG = re.compile(rb"<svg\b[^>]*>", re.DOTALL)
_ATTRIBUTE = re.compile(rb"""\b(viewBox|width|height)\s*=\s*["']([^"']*)["']""")
_NUMBER = re.compile(rb"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")


@dataclass(frozen=True)
class Wanted:
    """How pieces are made: bleed of white film and rim of clear film, holding tab, all in mm; which spares.

    ``face_down`` has the ids of markings that are seen through their film or go face down onto the model. With
    ``trial`` one whole small marking comes with each film.
    """

    bleed: float
    rim: float
    tab: float
    spares: str = SUGGESTED
    face_down: frozenset[str] = frozenset()
    trial: bool = True


@dataclass(frozen=True)
class Artwork:
    """What a content is made of: the file by its hash and name, the width of its whole box in mm, what its white means
    (``marks``), and the paint round it (#rrggbb) where it is white lettering with the body colour printed around.
    """

    hash: str
    name: str
    width_mm: float
    marks: str = ""
    body: str = ""


@dataclass(frozen=True)
class NotPrinted:
    """A marking that is not on the sheets, and why."""

    id: str
    name: str
    why: str


@dataclass(frozen=True)
class Collected:
    """What is to be laid out; what is not, and why; what each content is made of; and spares suggested by marking."""

    items: tuple[Item, ...]
    missing: tuple[NotPrinted, ...]
    contents: Mapping[str, Artwork]
    suggested: Mapping[str, int]
    mirrored_by_hand: tuple[str, ...] = ()


def collect(whole: Whole, wanted: Wanted) -> Collected:
    """Return what a job still lacks, as items in the order of its markings."""
    items: list[Item] = []
    missing: list[NotPrinted] = []
    contents: dict[str, Artwork] = {}
    suggested: dict[str, int] = {}
    by_hand: list[str] = []
    for marking in whole.job.markings:
        used = as_used(whole.job, marking)
        found = _artwork(whole, used)
        if isinstance(found, str):
            missing.append(NotPrinted(marking.id, marking.name, found))
            continue
        artwork, size = found
        key = "|".join((artwork.hash, f"{artwork.width_mm:.4f}", artwork.marks, artwork.body))
        suggested[marking.id] = suggested_spares(size, used.way)
        made = list(_items(whole.job, marking, used, key, size, wanted, suggested[marking.id]))
        if not made:
            missing.append(NotPrinted(marking.id, marking.name, ENOUGH))
            continue
        contents[key] = artwork
        items += made
        if used.partner and used.partner.how == MIRRORED_BUT_TEXT:
            by_hand.append(marking.name)
    trials = _trials(items) if wanted.trial else []
    return Collected((*trials, *items), tuple(missing), contents, suggested, tuple(by_hand))


def suggested_spares(size: complex, way: str) -> int:
    """Return how many spares a piece wants by its difficulty (estimates): one, and one more for what is small, for a
    long stripe, and for what has to meet another piece.

    >>> suggested_spares(20 + 10j, ""), suggested_spares(4 + 3j, ""), suggested_spares(96 + 4j, "backing-piece")
    (1, 2, 3)
    """
    row = _way(way)
    harder = (max(size.real, size.imag) < SMALL_MM, is_stripe(size), bool(row and row.pieces and row.film != "none"))
    return min(MOST_SPARES, 1 + sum(harder))


def is_stripe(size: complex) -> bool:
    """Return whether a piece is so long that the printer's stretch shows on it."""
    short, long = sorted((size.real, size.imag))
    return long >= STRIPE * short and long >= 40


def size_of(data: bytes) -> complex | None:
    """Return the size of a picture in whatever unit it has: pixels, or those of a drawing; None where it has none."""
    try:
        header = read_header(data)
    except (BadHeader, CutShort, NotAPicture):
        return None
    if header.kind != "SVG":
        turned = header.orientation >= 5
        across, down = header.width_px or 0, header.height_px or 0
        return complex(down, across) if turned else complex(across, down)
    tag = _SVG_TAG.search(data)
    found = dict(_ATTRIBUTE.findall(tag[0])) if tag else {}
    box = [float(each) for each in _NUMBER.findall(found.get(b"viewBox", b""))]
    if len(box) == 4 and box[2] > 0 and box[3] > 0:
        return complex(box[2], box[3])
    sides = [_NUMBER.match(found.get(each, b"").strip()) for each in (b"width", b"height")]
    if not all(sides):
        return None
    width, height = (float(each[0]) for each in sides if each)
    return complex(width, height) if width > 0 and height > 0 else None


def _artwork(whole: Whole, used: Marking) -> tuple[Artwork, complex] | str:
    """Return a marking's artwork and the size of its whole box in mm, or why it has none."""
    row = _way(used.way)
    if row and (row.film == "none" or getattr(row, "bought", False)):
        return NO_FILM
    files = used.files
    first = files.get(TRACED_OUTLINES if used.kind == OUTLINES else "picture")
    shared = first or files.get("picture") or files.get(TRACED_OUTLINES)
    if shared is None:
        return NO_PICTURE
    width = width_mm(whole.job, used)
    if width is None:
        return NO_WIDTH
    data = whole.files.get(shared.file.hash)
    if data is None:
        return FILE_GONE
    size = size_of(data)
    if not size:
        return UNREADABLE
    facts = whole.facts.get(shared.file.hash)
    if used.width_of == OWN and facts and facts.share > 0:
        width /= facts.share
    marks = used.values["white-marks"].text if "white-marks" in used.values else ""
    body = _paint(whole.job, used) if used.way == BODY_COLOUR else ""
    artwork = Artwork(shared.file.hash, shared.file.name, width, marks, body)
    return artwork, complex(width, width * size.imag / size.real)


def _paint(job: Job, used: Marking) -> str:
    """Return the first paint that a marking lies on as #rrggbb; "" where it is not decided."""
    model = job.model_of(used)
    typed = next((each.colour for each in model.paints if each.area in used.paints), "") if model else ""
    kind: Any = kinds_of(Paint)["colour"]
    return kind.value(typed) or "" if typed else ""


def _items(
    job: Job, marking: Marking, used: Marking, key: str, size: complex, wanted: Wanted, suggested: int
) -> Iterator[Item]:
    """Yield the pieces of a marking that are still missing: one item, or one for each row of its series, and white."""
    row = _way(used.way)
    film = (row.film if row else "") or used.film or next(iter(job.available.films), CLEAR)
    backing = bool(row and row.white == BACKING)
    face_down = marking.id in wanted.face_down
    partners = marking.partner is not None or any(
        each.partner and each.partner.of == marking.id for each in job.markings
    )
    first = marking.partner.of if marking.partner else marking.id
    how = marking.partner.how if marking.partner else ""
    mirrored = how == MIRRORED or (how == MIRRORED_BUT_TEXT and used.kind != TEXT)
    base = Item(
        id=marking.id,
        name=marking.name,
        part=Part.COLOUR,
        size=size,
        content=key,
        film=film,
        set_id=first if partners or used.rows or backing else "",
        fixed_turn=backing or is_stripe(size),
        crosses=backing,
        mirrored=mirrored != face_down,
        face_down=face_down,
        bleed=wanted.bleed if film == WHITE else 0.0,
        rim=wanted.rim if film != WHITE else 0.0,
        tab=wanted.tab,
    )
    spares = {OF_JOB: used.spares, NO_SPARES: 0}.get(wanted.spares, max(used.spares, suggested))
    for item in _rows(base, marking, used, spares):
        yield item
        if backing:
            yield replace(item, id=f"{item.id}/white", part=Part.WHITE_UNDER, film=WHITE, bleed=0.0, rim=0.0)


def _rows(base: Item, marking: Marking, used: Marking, spares: int) -> Iterator[Item]:
    """Yield an item, or one for each row of a series, with as many copies as the bench still lacks."""
    if not used.rows:
        copies, more = lacking(used.copies, spares, marking.bench)
        if copies + more:
            yield replace(base, copies=copies, spares=more)
        return
    # A partner of a series has no rows of its own, and is counted as a whole, from the first row on.
    done = marking.bench.printed - marking.bench.spoiled
    for place, row in enumerate(used.rows, 1):
        counted = min(max(done, 0), row.copies + spares)
        done -= counted
        bench = replace(row.bench, printed=row.bench.printed + counted)
        copies, more = lacking(row.copies, spares, bench)
        if copies + more:
            yield replace(base, id=f"{base.id}/{place}", name=f"{base.name}, {row.text}", copies=copies, spares=more)


def lacking(copies: int, spares: int, bench: Bench) -> tuple[int, int]:
    """Return how many copies, and how many spares, are still to be printed. Spares are what is done without last.

    >>> lacking(2, 1, Bench(printed=1)), lacking(2, 1, Bench(printed=3, spoiled=2)), lacking(2, 1, Bench(printed=9))
    ((1, 1), (1, 1), (0, 0))
    """
    left = max(0, copies + spares - max(0, bench.printed - bench.spoiled))
    return left - min(left, spares), min(left, spares)


def _trials(items: Sequence[Item]) -> list[Item]:
    """Return one more piece of the most compact marking on each film, to take through the whole chain first."""
    colour = [each for each in items if each.part is Part.COLOUR]
    found = []
    for film in dict.fromkeys(each.film for each in colour):
        smallest = min(
            (each for each in colour if each.film == film), key=lambda each: max(each.size.real, each.size.imag)
        )
        found.append(
            replace(smallest, id=f"{smallest.id}/trial", part=Part.TRIAL, copies=1, spares=0, set_id="", crosses=False)
        )
    return found


def _way(id: str) -> Way | None:
    return tables.row("ways", id) if id else None

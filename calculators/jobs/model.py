"""What a job contains: a livery with its models, what there is to print it with, and its markings."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any
from unicodedata import combining, normalize

from calculators.declare import MARKING, Refused, choice, number, shared
from calculators.job_fields import (
    film,
    first_paint,
    looked_at_from,
    marking_printer,
    printer_errors,
    scale_of_model,
    white_beneath,
)
from calculators.jobs import sentences
from calculators.jobs.parts import ByName, Many, Part, TypedInputs, kinds_of
from calculators.jobs.shape import Count, Pattern, Problems, Typed, Words, YesNo, stored, typed, typed_as

#: Increase it when the structure of a job changes, and add a step to ``migrate.py``.
FORMAT = 3
#: More than the largest livery has, and few enough to read at once.
MOST_MARKINGS, MOST_MODELS, MOST_ROWS = 2000, 100, 500

HASH = Pattern(label="Hash", help="64 characters of 0 to 9 and a to f", pattern="[0-9a-f]{64}")
ID = Pattern(label="Id", help="1 to 40 small letters, digits and hyphens", pattern="[a-z0-9][a-z0-9-]{0,39}")
NO_ID = dataclasses.replace(ID, optional=True)
#: The label of an area separates nothing in the cell of a list.
AREA = Pattern(
    label="Area",
    help="1 to 60 characters without |",
    pattern=r"(?=.{1,60}$)[^|\s\x00-\x1f\x7f]([^|\x00-\x1f\x7f]*[^|\s\x00-\x1f\x7f])?",
)

PICTURE, OUTLINES, TEXT = "picture", "outlines", "text"
ON_MODEL, FULL_SIZE = "on-model", "full-size"
OWN, WITH_MARGINS = "own", "with-margins"
SAME, MIRRORED, MIRRORED_BUT_TEXT = "same", "mirrored", "mirrored-but-text"


@dataclass(frozen=True, kw_only=True)
class StoredFile:
    """A file by the SHA-256 of its bytes; traced outlines name their picture as ``of``."""

    hash: str = stored(HASH)
    name: str = stored(Words(label="File name", most=255, fewest=1))
    media: str = stored(Words(label="Media type", most=100), "")
    size: int = stored(Count(label="Bytes", high=1 << 31), 0)
    of: str = stored(dataclasses.replace(HASH, optional=True), "")


@dataclass(frozen=True, kw_only=True)
class SharedText:
    """A value that several calculators ask for, as typed; the calculator in which, and the picture it describes."""

    text: str = stored(Words(label="Value", most=4000, lines=True))
    origin: str = stored(NO_ID, "")
    picture: str = stored(Words(label="Picture", most=200), "")


@dataclass(frozen=True, kw_only=True)
class SharedFile:
    """A file that several calculators use. ``at`` grows: the later of picture and outlines is the one that counts."""

    file: StoredFile = stored(Part(label="File", of=StoredFile))
    origin: str = stored(NO_ID, "")
    at: int = stored(Count(label="Order", high=1 << 31), 0)


@dataclass(frozen=True, kw_only=True)
class Entry:
    """What was typed into a calculator, and the files chosen there by field."""

    inputs: Mapping[str, Any] = stored(TypedInputs(label="Inputs"), {})
    files: Mapping[str, StoredFile] = stored(ByName(label="Files", of=Part(of=StoredFile)), {})


_ENTRIES = ByName(label="Calculators", of=Part(of=Entry))


@dataclass(frozen=True, kw_only=True)
class Paint:
    """A paint of a model by the area that it covers."""

    area: str = stored(AREA)
    colour: str = typed(first_paint())
    kind: str = typed(choice("Kind of paint", default="", table="coats"))


@dataclass(frozen=True, kw_only=True)
class Model:
    """A model that markings go onto."""

    id: str = stored(ID)
    name: str = stored(Words(label="Name of the model", fewest=1))
    scale: str = typed(scale_of_model())
    paints: tuple[Paint, ...] = stored(Many(label="Paints", of=Part(of=Paint), most=40), ())
    seal: str = typed(choice("Seal coat", default="", table="coats"))
    clear: str = typed(choice("Clear coat", default="", table="coats"))


@dataclass(frozen=True, kw_only=True)
class Available:
    """What there is to work with, what its printers do to a sheet, and from where the models are looked at."""

    printers: tuple[str, ...] = stored(Many(label="Printers", of=typed_as(marking_printer()), most=20), ())
    films: tuple[str, ...] = stored(Many(label="Films", of=typed_as(film()), most=20), ())
    whites: tuple[str, ...] = stored(Many(label="Whites", of=typed_as(white_beneath()), most=20), ())
    viewing_distance: str = typed(looked_at_from())
    printer_errors: str = typed(printer_errors())


@dataclass(frozen=True, kw_only=True)
class Bench:
    """How many pieces are printed, sealed, on the model, and spoiled."""

    printed: int = stored(Count(label="Printed", column="Printed"), 0)
    sealed: int = stored(Count(label="Sealed", column="Sealed"), 0)
    on_model: int = stored(Count(label="On the model", column="On the model"), 0)
    spoiled: int = stored(Count(label="Spoiled", column="Spoiled"), 0)


@dataclass(frozen=True, kw_only=True)
class Partner:
    """The twin of a marking, whose changes it takes on while it ``follows``."""

    of: str = stored(dataclasses.replace(ID, label="Partner of", column="Partner of"))
    how: str = typed(
        choice(
            "The partner is",
            default="",
            options={SAME: "The same", MIRRORED: "Mirrored", MIRRORED_BUT_TEXT: "Mirrored except its text"},
        ),
        column="Partner is",
        default=SAME,
    )
    follows: bool = stored(YesNo(label="Follows its partner", column="Follows"), True)


@dataclass(frozen=True, kw_only=True)
class SeriesRow:
    """One of a series, such as a number of a fleet."""

    text: str = stored(Words(label="Text", most=200, column="Text"))
    copies: int = stored(Count(label="Copies", column="Copies"), 1)
    bench: Bench = stored(Part(label="At the bench", of=Bench), Bench())


@dataclass(frozen=True, kw_only=True)
class Marking:
    """One marking. ``width`` is its own, without margins; ``with-margins`` only until its picture has been measured.

    ``values`` and ``files`` are what calculators share beyond the attributes, by the names that their fields share.
    """

    id: str = stored(dataclasses.replace(ID, column="Id"))
    name: str = stored(Words(label="Name", fewest=1, column="Name"))
    model: str = stored(dataclasses.replace(NO_ID, label="Model", column="Model"), "")
    place: str = stored(Words(label="Place", most=120, column="Place"), "")
    kind: str = typed(
        choice("Kind", default="", options={PICTURE: "Picture", OUTLINES: "Outlines", TEXT: "Text"}), column="Kind"
    )
    width: str = typed(number("Width", unit="mm", low=0.1, high=1_000_000, default=0), column="Width")
    size: str = typed(
        choice("Size is", default="", options={ON_MODEL: "On the model", FULL_SIZE: "Full size"}),
        column="Size is",
        default=ON_MODEL,
    )
    width_of: str = typed(
        choice(
            "Width is that of",
            default="",
            options={OWN: "Marking without margins", WITH_MARGINS: "Whole picture, with margins"},
        ),
        column="Width of",
        default=OWN,
    )
    copies: int = stored(Count(label="Copies", column="Copies"), 1)
    spares: int = stored(Count(label="Spares", column="Spares"), 0)
    rows: tuple[SeriesRow, ...] = stored(Many(label="Rows", of=Part(of=SeriesRow), most=MOST_ROWS), ())
    partner: Partner | None = stored(Part(label="Partner", of=Partner, optional=True), None)
    paints: tuple[str, ...] = stored(Many(label="Lies on", of=AREA, most=10, column="Lies on"), ())
    way: str = typed(shared("way", choice("Way", default="", table="ways"), MARKING), column="Way")
    film: str = typed(film(), column="Film")
    printer: str = typed(marking_printer(), column="Printer")
    white: str = typed(white_beneath(), column="White")
    bench: Bench = stored(Part(label="At the bench", of=Bench), Bench())
    values: Mapping[str, SharedText] = stored(ByName(label="Values", of=Part(of=SharedText)), {})
    files: Mapping[str, SharedFile] = stored(ByName(label="Files", of=Part(of=SharedFile)), {})
    calculators: Mapping[str, Entry] = stored(_ENTRIES, {})


@dataclass(frozen=True, kw_only=True)
class Job:
    """A livery. ``revision`` grows with each change; ``calculators`` hold what was typed into those that are about no
    marking.
    """

    format: int = stored(Count(label="Format", low=FORMAT, high=FORMAT), FORMAT)
    revision: int = stored(Count(label="Revision", high=1 << 40), 0)
    name: str = stored(Words(label="Name of the job", most=120), "")
    note: str = stored(Words(label="Note", most=4000, lines=True), "")
    models: tuple[Model, ...] = stored(Many(label="Models", of=Part(of=Model), most=MOST_MODELS), ())
    available: Available = stored(Part(label="What there is", of=Available), Available())
    markings: tuple[Marking, ...] = stored(Many(label="Markings", of=Part(of=Marking), most=MOST_MARKINGS), ())
    calculators: Mapping[str, Entry] = stored(_ENTRIES, {})

    def marking(self, id: str) -> Marking:
        """Return the marking with that id. Raises KeyError."""
        found: Marking = _by_id(self.markings, id)
        return found

    def model_of(self, marking: Marking) -> Model | None:
        """Return the model that a marking goes onto, where it is decided."""
        return next((each for each in self.models if each.id == marking.model), None)

    def with_marking(self, marking: Marking) -> Job:
        """Return the job with ``marking`` in place of the one with its id, or after the last."""
        there = [each.id for each in self.markings]
        if marking.id not in there:
            return replace(self, markings=(*self.markings, marking))
        return replace(self, markings=tuple(marking if each.id == marking.id else each for each in self.markings))


_JOB = Part(of=Job)


def read_job(data: Any) -> Job:
    """Return the job in JSON data of the present format. Raises Refused with every problem by its path."""
    problems = Problems()
    job: Job | None = _JOB.read(data, "", problems)
    if job is not None:
        for path, text in contradictions(job):
            problems.add(path, text)
    if job is None or problems.listed:
        raise Refused(*problems.all())
    return job


def plain(job: Job) -> dict[str, Any]:
    """Return a job as JSON data, without what is as by default; its format always."""
    data = _JOB.plain(job) or {}
    return {"format": job.format, **data}


def schema() -> dict[str, Any]:
    """Return the JSON Schema of the present format. What does not go together, ``read_job`` alone finds."""
    parts: dict[str, Any] = {}
    found = _JOB.schema(parts)
    parts["Job"]["required"] = ["format"]
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Job", **found, "$defs": parts}


def contradictions(job: Job) -> Iterator[tuple[str, str]]:
    """Yield (path, text) for all that is well formed and does not go together."""
    models = {each.id: each for each in job.models}
    markings = {each.id: each for each in job.markings}
    for what, ids in (("models", [each.id for each in job.models]), ("markings", [each.id for each in job.markings])):
        seen: set[str] = set()
        for place, id in enumerate(ids):
            if id in seen:
                yield f"{what}[{place}].id", sentences.SAME_ID.format(what=what, id=id)
            seen.add(id)
    for place, marking in enumerate(job.markings):
        path = f"markings[{place}]"
        if marking.model and marking.model not in models:
            yield f"{path}.model", sentences.NO_SUCH_MODEL.format(id=marking.model)
            continue
        areas = {paint.area for paint in models[marking.model].paints} if marking.model else set()
        for at, area in enumerate(marking.paints):
            if area not in areas:
                yield f"{path}.paints[{at}]", sentences.NO_SUCH_AREA.format(area=area)
        if marking.partner:
            twin = markings.get(marking.partner.of)
            if twin is None:
                yield f"{path}.partner.of", sentences.NO_SUCH_PARTNER.format(id=marking.partner.of)
            elif twin is marking or twin.partner:
                yield f"{path}.partner.of", sentences.PARTNER_OF_PARTNER


def files_of(job: Job) -> dict[str, StoredFile]:
    """Return every file that a job uses, by its hash."""
    entries = [*job.calculators.values(), *(each for one in job.markings for each in one.calculators.values())]
    named = [file for entry in entries for file in entry.files.values()]
    named += [each.file for marking in job.markings for each in marking.files.values()]
    return {each.hash: each for each in named}


def shared_attributes(part: type) -> dict[str, str]:
    """Return the attributes of a part by the name of the job's value that each holds."""
    found = {}
    for name, kind in kinds_of(part).items():
        if isinstance(kind, Typed) and kind.field.shares:
            found[kind.field.shares] = name
    return found


def new_id(name: str, taken: Any) -> str:
    """Return an id made of ``name`` that is not among ``taken``.

    >>> new_id("Crest, left", ["crest-left"])
    'crest-left-2'
    """
    letters = (each for each in normalize("NFKD", name.casefold()) if not combining(each))
    words = "".join(each if each.isascii() and each.isalnum() else " " for each in letters).split()
    base = "-".join(words)[:32].strip("-") or "marking"
    if base not in taken:
        return base
    # Halving finds the next number soon among thousands.
    last, free = 1, 2
    while f"{base}-{free}" in taken:
        last, free = free, 2 * free
    while free - last > 1:
        middle = (last + free) // 2
        last, free = (middle, free) if f"{base}-{middle}" in taken else (last, middle)
    return f"{base}-{free}"


def _by_id(every: Any, id: str) -> Any:
    for each in every:
        if each.id == id:
            return each
    raise KeyError(id)

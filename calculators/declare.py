"""How a calculator is declared: once, in frozen dataclasses, read by everything else.

Inputs are a frozen, keyword-only dataclass whose fields are made by ``number``, ``choice``, ``rows``
and so on; results are another whose fields are made by ``measure``, ``verdict``, ``table`` and so
on. A ``Calculator`` ties them to one pure function. The form, the validation, the page's tables,
the command line, the job and the generic tests all read these declarations and nothing else.
"""

from __future__ import annotations

import dataclasses
import inspect
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

#: The nine stages in the order of the work, each with the question that it answers.
STAGES: dict[str, str] = {
    "size": "How big is it on this model?",
    "artwork": "Is the picture good enough, and what in it is meant?",
    "underlay": "Will the paint show through, and what goes beneath?",
    "sheet": "How does all of it fit on this film, with spares?",
    "print": "Which film, which settings, which side?",
    "seal": "When is it dry, and how much sealer does it need?",
    "apply": "Will it lie down here, and in which order?",
    "finish": "How is it protected, and how does its edge vanish?",
    "rescue": "What went wrong, and how is it undone?",
}


# -- Fields: what is asked -------------------------------------------------------------------------

#: The name of a field and the text of it that is meant, None for any; or no condition.
When = tuple[str, str | None] | None


@dataclass(frozen=True, kw_only=True)
class Field:
    """What every kind of field declares. ``without`` says what leaving an optional one out means.

    ``only_when`` names a field beside this one and the text of it with which this one counts; None: any
    text. Where it does not count, the page hides it and leaves it at its default.
    """

    label: str
    help: str = ""
    optional: bool = False
    without: str = ""
    only_when: When = None
    kind = ""


@dataclass(frozen=True, kw_only=True)
class NumberField(Field):
    """A number between ``low`` and ``high`` inclusive, in ``unit``.

    A field in mm is a length and takes any unit of length. A field in "1:n" is a scale and may be
    named from the table ``names``.
    """

    unit: str
    low: float
    high: float
    whole: bool = False
    names: str = ""

    @property
    def kind(self) -> str:
        return "whole" if self.whole else "number"

    @property
    def is_length(self) -> bool:
        return self.unit == "mm"


@dataclass(frozen=True, kw_only=True)
class ChoiceField(Field):
    """One of a few: ``options`` maps values to labels, or ``table`` names a data table.

    ``where`` names a part of its rows and what that must be for a row to be among them; None: every row is.
    """

    options: Mapping[str, str] = dataclasses.field(default_factory=dict)
    table: str = ""
    where: tuple[str, str] | None = None
    kind = "choice"


@dataclass(frozen=True, kw_only=True)
class YesNoField(Field):
    kind = "yes-no"


@dataclass(frozen=True, kw_only=True)
class TextField(Field):
    """Text of at most ``most`` characters; may be empty where ``may_be_empty``."""

    most: int
    may_be_empty: bool = False
    kind = "text"


@dataclass(frozen=True, kw_only=True)
class ColourField(Field):
    """An sRGB colour, as #rrggbb in small letters. It may be named from the table ``names``."""

    names: str = ""
    kind = "colour"


@dataclass(frozen=True, kw_only=True)
class PointField(Field):
    """A point in pixels of the picture in field ``of``: x from its left edge, y from its top edge.

    Points of one ``group`` belong together: the page joins two by a line, more by an outline in order.
    """

    of: str
    group: str
    low: float = 0
    high: float = 100_000
    kind = "point"


@dataclass(frozen=True, kw_only=True)
class RowsField(Field):
    """A list of ``row`` (an inputs dataclass), from ``fewest`` to ``most`` long."""

    row: type
    fewest: int
    most: int
    kind = "rows"


@dataclass(frozen=True, kw_only=True)
class FileField(Field):
    """A file's name and bytes; ``accept`` is the hint for the file picker."""

    accept: str = ""
    most_bytes: int = 64 * 1024 * 1024
    kind = "file"


@dataclass(frozen=True, kw_only=True)
class PictureField(FileField):
    """A picture: its bytes, what its header says and, where ``pixels``, its RGBA pixels.

    ``fills`` maps other fields to the attribute of the picture that gives their value. ``points_fit`` is
    the size in pixels of a picture that the default points lie right on.
    """

    pixels: bool = False
    points_fit: tuple[int, int] | None = None
    fills: Mapping[str, str] = dataclasses.field(default_factory=dict)
    kind = "picture"


def _asked(declared: Field, default: Any) -> Any:
    given = {} if default is dataclasses.MISSING else {"default": default}
    return field(metadata={"field": declared}, **given)


def number(
    label: str, *, unit: str, low: float, high: float, default: float | None = None, names: str = "",
    help: str = "", without: str = "", only_when: When = None,
) -> Any:  # fmt: skip
    """Declare a number; without ``default`` it may be left out and is then None."""
    return _asked(
        NumberField(label=label, help=help, unit=unit, low=low, high=high, names=names,
                    optional=default is None, without=without, only_when=only_when), default)  # fmt: skip


def whole_number(
    label: str, *, unit: str, low: int, high: int, default: int | None = None, help: str = "", without: str = "",
    only_when: When = None,
) -> Any:  # fmt: skip
    """Declare a whole number; without ``default`` it may be left out and is then None."""
    return _asked(
        NumberField(label=label, help=help, unit=unit, low=low, high=high, whole=True,
                    optional=default is None, without=without, only_when=only_when), default)  # fmt: skip


def choice(
    label: str, *, default: str, options: Mapping[str, str] | None = None, table: str = "",
    where: tuple[str, str] | None = None, help: str = "", only_when: When = None,
) -> Any:  # fmt: skip
    """Declare a choice from ``options`` (value to label) or from the ids of a data ``table``, of some rows of it."""
    return _asked(
        ChoiceField(label=label, help=help, options=options or {}, table=table, where=where, only_when=only_when), default
    )


def yes_no(label: str, *, default: bool, help: str = "", only_when: When = None) -> Any:
    """Declare a question answered by yes or no."""
    return _asked(YesNoField(label=label, help=help, only_when=only_when), default)


def text(
    label: str, *, default: str, most: int, may_be_empty: bool = False, help: str = "", only_when: When = None
) -> Any:
    """Declare a line of text."""
    return _asked(TextField(label=label, help=help, most=most, may_be_empty=may_be_empty, only_when=only_when), default)


def colour(label: str, *, default: str, names: str = "", help: str = "", only_when: When = None) -> Any:
    """Declare an sRGB colour, which may be named from the data table ``names``."""
    return _asked(ColourField(label=label, help=help, names=names, only_when=only_when), default)


def point(
    label: str, *, of: str, group: str, default: tuple[float, float], help: str = "", only_when: When = None
) -> Any:
    """Declare a point in the picture of field ``of``, in pixels from its top left corner."""
    return _asked(PointField(label=label, help=help, of=of, group=group, only_when=only_when), default)


def rows(
    label: str, *, row: type, default: tuple, fewest: int = 1, most: int = 50, help: str = "", only_when: When = None
) -> Any:
    """Declare a list of rows, each of them an inputs dataclass of its own."""
    return _asked(RowsField(label=label, help=help, row=row, fewest=fewest, most=most, only_when=only_when), default)


def picture(
    label: str, *, pixels: bool = False, fills: Mapping[str, str] | None = None,
    points_fit: tuple[int, int] | None = None, help: str = "", without: str = "", only_when: When = None,
) -> Any:  # fmt: skip
    """Declare a picture, which may be left out and is then None."""
    return _asked(
        PictureField(label=label, help=help, accept="image/*,.svg,.tif,.tiff", pixels=pixels, fills=fills or {},
                     points_fit=points_fit, optional=True, without=without, only_when=only_when), None)  # fmt: skip


def any_file(label: str, *, accept: str = "", help: str = "", without: str = "", only_when: When = None) -> Any:
    """Declare a file of any kind, which may be left out and is then None."""
    return _asked(
        FileField(label=label, help=help, accept=accept, optional=True, without=without, only_when=only_when), None
    )


def asked(inputs: type) -> dict[str, Field]:
    """Return the declared fields of an inputs dataclass by name, in order."""
    return {each.name: each.metadata["field"] for each in dataclasses.fields(inputs)}


# -- Results: what is answered ---------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class Result:
    """What every kind of result declares."""

    label: str
    help: str = ""
    kind = ""


@dataclass(frozen=True, kw_only=True)
class MeasureResult(Result):
    """A finite number in ``unit`` shown with ``decimals`` places, or None: nothing to tell."""

    unit: str
    decimals: int
    kind = "measure"


@dataclass(frozen=True, kw_only=True)
class VerdictResult(Result):
    """One of ``levels``: verdict to (pass | watch | fail, title). Reasons stand in field ``reasons``."""

    levels: Mapping[str, tuple[str, str]]
    reasons: str
    kind = "verdict"


@dataclass(frozen=True, kw_only=True)
class ReasonsResult(Result):
    """A tuple of ``Said``, shown beneath the verdict that names it."""

    kind = "reasons"


@dataclass(frozen=True, kw_only=True)
class WordsResult(Result):
    """A line of text; where ``names`` are given, one of them, shown by its words."""

    names: Mapping[str, str] = dataclasses.field(default_factory=dict)
    kind = "words"


@dataclass(frozen=True, kw_only=True)
class ColourResult(Result):
    kind = "colour"


@dataclass(frozen=True, kw_only=True)
class TableResult(Result):
    """A tuple of ``row``, a dataclass whose fields are results themselves."""

    row: type
    kind = "table"


@dataclass(frozen=True, kw_only=True)
class FigureResult(Result):
    kind = "figure"


@dataclass(frozen=True, kw_only=True)
class FileResult(Result):
    kind = "file"


def _answered(declared: Result) -> Any:
    return field(metadata={"result": declared})


def measure(label: str, *, unit: str = "", decimals: int = 1, help: str = "") -> Any:
    """Declare a number that is answered."""
    return _answered(MeasureResult(label=label, help=help, unit=unit, decimals=decimals))


def verdict(label: str, *, levels: Mapping[str, tuple[str, str]], reasons: str = "reasons") -> Any:
    """Declare a judgement: the names it may take, each with its level and the title shown."""
    return _answered(VerdictResult(label=label, levels=levels, reasons=reasons))


def reasons(label: str = "Reasons") -> Any:
    """Declare the sentences that say why."""
    return _answered(ReasonsResult(label=label))


def words(label: str, *, help: str = "") -> Any:
    """Declare a line of text that is answered: a ``Said`` or a plain text, or None."""
    return _answered(WordsResult(label=label, help=help))


def named(label: str, *, names: Mapping[str, str], help: str = "") -> Any:
    """Declare an answer that is one of ``names``: name to the words that are shown."""
    return _answered(WordsResult(label=label, help=help, names=names))


def colour_result(label: str, *, help: str = "") -> Any:
    """Declare a colour (#rrggbb) that is answered."""
    return _answered(ColourResult(label=label, help=help))


def table(label: str, *, row: type, help: str = "") -> Any:
    """Declare a table of results."""
    return _answered(TableResult(label=label, help=help, row=row))


def figure(label: str) -> Any:
    """Declare a drawing."""
    return _answered(FigureResult(label=label))


def file_result(label: str, *, help: str = "") -> Any:
    """Declare a file that is handed over, or None."""
    return _answered(FileResult(label=label, help=help))


def answered(outputs: type) -> dict[str, Result]:
    """Return the declared results of an outputs dataclass by name, in order."""
    return {each.name: each.metadata["result"] for each in dataclasses.fields(outputs)}


# -- Values ----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Said:
    """A sentence from ``messages`` with its values; names end in their unit, as everywhere."""

    sentence: str
    values: Mapping[str, Any]


def said(sentence: str, **values: Any) -> Said:
    """Return ``sentence`` with its values, to be written out in the reader's units later."""
    return Said(sentence, values)


@dataclass(frozen=True)
class Figure:
    """A drawing: SVG text with presentation attributes and classes only, and its text alternative."""

    svg: str
    alt: str


@dataclass(frozen=True)
class NamedFile:
    """A file that came in or goes out."""

    name: str
    media: str
    data: bytes


@dataclass(frozen=True)
class Problem:
    """What a reader can put right: where, what, and a hint that quotes what was typed."""

    field: str
    text: str
    hint: str = ""


class Refused(ValueError):
    """Raised by ``compute`` where inputs that are right one by one do not fit together."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__("; ".join(each.text for each in problems))
        self.problems = problems


@dataclass(frozen=True)
class Progress:
    """A step of long work: the share that is done (0 to 1, or None if unknown) and what is going on."""

    share: float | None
    words: str


# -- The calculator --------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class Calculator:
    """One question, its inputs, its results and the pure function between them.

    ``compute`` takes the inputs and returns the results, or raises ``Refused``; a long one is a
    generator that yields ``Progress`` and returns them. ``needs`` names libraries that are loaded on its page only.
    ``limit_s`` ends a request in the page.
    """

    id: str
    title: str
    summary: str
    stage: str
    inputs: type
    outputs: type
    compute: Callable[[Any], Any]
    sources: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    limit_s: float = 20.0
    order: int = 100

    def steps(self, inputs: Any) -> Iterator[Any]:
        """Yield the ``Progress`` of the work on ``inputs``, then the outputs."""
        made = self.compute(inputs)
        yield (yield from made) if inspect.isgenerator(made) else made

    def answer(self, inputs: Any) -> Any:
        """Return the outputs for ``inputs``. Raises ``Refused``."""
        *_, outputs = self.steps(inputs)
        return outputs

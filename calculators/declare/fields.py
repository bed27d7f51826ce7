"""Fields: what a calculator asks."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

#: The name of a field and the text of it that is meant, None for any; or no condition.
When = tuple[str, str | None] | None


@dataclass(frozen=True, kw_only=True)
class Field:
    """What every kind of field declares. ``without`` says what leaving an optional one out means.

    ``only_when`` names a field beside this one and the text of it with which this one counts; None: any
    text. Where it does not count, the page hides it and leaves it at its default. ``shares`` names a value of the
    job: fields of several calculators that share it start from what was typed last in any of them.
    """

    label: str
    help: str = ""
    optional: bool = False
    without: str = ""
    only_when: When = None
    shares: str = ""
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
    """Text of at most ``most`` characters; may be empty where ``may_be_empty``. Its box is ``lines`` high.

    ``marks`` names a drawing among the results whose numbered areas the text marks; the page then lets them be touched.
    ``read`` tells the page what the text means, where it has a grammar of its own; it raises ValueError where it means nothing.
    """

    most: int
    may_be_empty: bool = False
    lines: int = 1
    marks: str = ""
    read: Callable[[str], Any] | None = None
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

    ``outlines`` names the value of the job, made by another calculator, that it takes as well: filled outlines in an SVG file.
    ``fills`` maps other fields to the attribute of the picture that gives their value. ``points_fit`` is
    the size in pixels of a picture that the default points lie right on.
    """

    pixels: bool = False
    outlines: str = ""
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
    label: str, *, default: str, most: int, may_be_empty: bool = False, lines: int = 1, marks: str = "",
    read: Callable[[str], Any] | None = None, help: str = "", only_when: When = None,
) -> Any:  # fmt: skip
    """Declare text, in a box that is ``lines`` high. It may mark the areas of the drawing ``marks``; ``read`` is its grammar."""
    return _asked(
        TextField(label=label, help=help, most=most, may_be_empty=may_be_empty, lines=lines, marks=marks, read=read,
                  only_when=only_when), default)  # fmt: skip


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
    label: str, *, pixels: bool = False, outlines: str = "", fills: Mapping[str, str] | None = None,
    points_fit: tuple[int, int] | None = None, help: str = "", without: str = "", only_when: When = None,
) -> Any:  # fmt: skip
    """Declare a picture, which may be left out and is then None; the job's ``outlines`` may be taken for it."""
    return _asked(
        PictureField(label=label, help=help, accept="image/*,.svg,.tif,.tiff", pixels=pixels, outlines=outlines, fills=fills or {},
                     points_fit=points_fit, optional=True, without=without, only_when=only_when), None)  # fmt: skip


def any_file(label: str, *, accept: str = "", help: str = "", without: str = "", only_when: When = None) -> Any:
    """Declare a file of any kind, which may be left out and is then None."""
    return _asked(
        FileField(label=label, help=help, accept=accept, optional=True, without=without, only_when=only_when), None
    )


def shared(name: str, made: Any) -> Any:
    """Return a declared field, such as ``picture(…)``, as one that shares the job's value ``name``."""
    return _asked(dataclasses.replace(made.metadata["field"], shares=name), made.default)


def asked(inputs: type) -> dict[str, Field]:
    """Return the declared fields of an inputs dataclass by name, in order."""
    return {each.name: each.metadata["field"] for each in dataclasses.fields(inputs)}

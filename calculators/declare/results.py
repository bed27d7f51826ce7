"""Results: what a calculator answers."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


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
    """A tuple of ``row``, a dataclass whose fields are results themselves.

    With ``cards`` each row is shown as a card of its own, for rows with more words than a table has room for.
    """

    row: type
    cards: bool = False
    kind = "table"


@dataclass(frozen=True, kw_only=True)
class FigureResult(Result):
    kind = "figure"


@dataclass(frozen=True, kw_only=True)
class ScenesResult(Result):
    """``Scenes`` of a picture over two paints. The page moves their border: the fields ``percent`` and ``degrees``."""

    percent: str
    degrees: str
    kind = "scenes"


@dataclass(frozen=True, kw_only=True)
class FileResult(Result):
    """A ``NamedFile`` or None; ``shares`` names the job's value that the reader may keep it as.

    A text may be ``proposed`` as a new file in that folder of the project, and is then offered for copying too.
    """

    shares: str = ""
    proposed: str = ""
    kind = "file"


@dataclass(frozen=True, kw_only=True)
class ProseResult(Result):
    """``Prose``: a page, or a part of one, as it will look."""

    kind = "prose"


@dataclass(frozen=True, kw_only=True)
class LinkResult(Result):
    """A ``Link`` to a page of the site, or None."""

    kind = "link"


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


def table(label: str, *, row: type, cards: bool = False, help: str = "") -> Any:
    """Declare a table of results, or a list of ``cards``."""
    return _answered(TableResult(label=label, help=help, row=row, cards=cards))


def figure(label: str) -> Any:
    """Declare a drawing."""
    return _answered(FigureResult(label=label))


def scenes(label: str, *, percent: str, degrees: str, help: str = "") -> Any:
    """Declare pictures over two paints, whose border the fields ``percent`` and ``degrees`` place."""
    return _answered(ScenesResult(label=label, help=help, percent=percent, degrees=degrees))


def file_result(label: str, *, shares: str = "", proposed: str = "", help: str = "") -> Any:
    """Declare a file that is handed over, or None; it may be kept as the job's value ``shares`` or ``proposed`` for a folder."""
    return _answered(FileResult(label=label, help=help, shares=shares, proposed=proposed))


def prose(label: str, *, help: str = "") -> Any:
    """Declare a page, or a part of one, that is shown as it will look."""
    return _answered(ProseResult(label=label, help=help))


def link(label: str, *, help: str = "") -> Any:
    """Declare a link to a page of the site."""
    return _answered(LinkResult(label=label, help=help))


def answered(outputs: type) -> dict[str, Result]:
    """Return the declared results of an outputs dataclass by name, in order."""
    return {each.name: each.metadata["result"] for each in dataclasses.fields(outputs)}

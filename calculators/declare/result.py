"""The base class of results, the outputs of calculators."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass, field
from typing import Any, ClassVar

from calculators import units
from calculators.declare.field import found_as
from calculators.values import NamedFile

__all__ = ["Result", "answered"]

VERDICTS, LINES, SCENES, FIGURES, PAGES, TABLES, FILES, LEADS = (
    "verdicts",
    "lines",
    "scenes",
    "figures",
    "pages",
    "tables",
    "files",
    "leads",
)
#: The sections of an answer in the order of the page. In each, results are in the order of their declaration.
SECTIONS = (VERDICTS, LINES, SCENES, FIGURES, PAGES, TABLES, FILES, LEADS)


@dataclass(frozen=True, kw_only=True)
class Result:
    """What every kind of result declares.

    None means that there is no result to show; ``folded`` puts it under its label.

    A kind is a subclass in a module of its own. Its template and its script are found by the module's name.
    """

    label: str
    help: str = ""
    folded: bool = False
    kind: ClassVar[str] = ""
    #: Its place in an answer: one of SECTIONS.
    section: ClassVar[str] = ""
    #: Whether it has a place of its own on the page, and is not shown by another result.
    stands_alone: ClassVar[bool] = True

    # -- Formatting

    def render(self, value: Any, outputs: Any, display: units.Display) -> dict[str, Any]:
        """Return ``value``, one of ``outputs``, as the page shows it."""
        return {"kind": self.kind, **({"shown": None} if value is None else self.parts(value, display))}

    def parts(self, value: Any, display: units.Display) -> dict[str, Any]:
        """Return the texts of a value that is not None, by the name of the part of the page that each goes into."""
        return {"shown": str(value)}

    def cell(self, value: Any, row: Any, display: units.Display) -> dict[str, Any]:
        """Return ``value`` of ``row`` as a cell of a table shows it."""
        rendered = self.render(value, row, display)
        return {
            "shown": rendered.get("shown"),
            "unit": rendered.get("unit"),
            "level": None,
            "href": rendered.get("href"),
        }

    # -- Data

    def plain(self, value: Any) -> Any:
        """Return a value as JSON-able data: numbers unrounded, sentences in mm, no bytes."""
        return value

    def plain_in(self, value: Any, outputs: Any) -> Any:
        """Return a value, which is one of ``outputs``, as JSON-able data."""
        return self.plain(value)

    def saved(self, value: Any) -> NamedFile | None:
        """Return the file that the reader may save."""
        return None

    def hand_over(self, value: Any, rendered: dict[str, Any], buffers: list[bytes]) -> None:
        """Add further bytes for the page to ``buffers``, and record their indexes in ``rendered``."""

    # -- Description for pages

    def described(self, name: str) -> dict[str, Any]:
        """Return the description for pages, as JSON-able data."""
        return {
            "name": name,
            "label": self.label,
            "kind": self.kind,
            "found_as": found_as(type(self)),
            "section": self.section,
            "help": self.help,
            "folded": self.folded,
            "unit": "",
            "shares": "",
            "proposed": "",
            "columns": [],
            **self.details(),
        }

    def details(self) -> dict[str, Any]:
        """Return the parts of the description that only this kind has."""
        return {}


def declared(made: Result) -> Any:
    """Return the field of an outputs dataclass that ``made`` declares."""
    return field(metadata={"result": made})


def answered(outputs: type) -> dict[str, Result]:
    """Return the declared results of an outputs dataclass by name, in order."""
    return {each.name: each.metadata["result"] for each in dataclasses.fields(outputs)}


def standing_alone(outputs: type) -> dict[str, Result]:
    """Return the results that have a place of their own on the page."""
    return {name: result for name, result in answered(outputs).items() if result.stands_alone}


def plain(outputs: Any) -> dict[str, Any]:
    """Return results as JSON-able data: numbers unrounded, sentences in mm, no bytes."""
    return {name: result.plain_in(getattr(outputs, name), outputs) for name, result in answered(type(outputs)).items()}


def describe_results(outputs: type) -> list[dict[str, Any]]:
    """Return the results of an outputs dataclass that have a place of their own."""
    return [result.described(name) for name, result in standing_alone(outputs).items()]

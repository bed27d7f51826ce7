"""Values of the reader's current marking within the text of a page, and messages that hold them.

The page prints what stands in for a value; theme/scripts/job/of-job.mjs fills in what the job on the device has.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import fields
from typing import Any

import jinja2
from markupsafe import Markup

from calculators import catalogue, messages, units
from calculators.declare import ChoiceField, Field, asked
from calculators.jobs.model import Marking, shared_attributes
from calculators.jobs.partners import OWN_PARTS
from calculators.jobs.parts import kinds_of
from calculators.jobs.shape import Count, Typed, Words

#: Of the picture or of the marking alone, whichever the reader gives.
WIDTH = "width"

_VALUE = Markup('<span class="dw-of-job" data-of="{name}"{more}>{otherwise}</span>')
_MORE = Markup(' data-{name}="{value}"')


def names(templates: jinja2.Environment) -> dict[str, Callable[..., str]]:
    """Return what pages call, by name."""
    return {
        "of_job": value_of_job,
        "of_calculator": value_of_calculator,
        # No blank line within, and one on each side: Markdown leaves the block alone.
        "message": lambda caller: f"\n\n{message(templates, caller())}\n\n",
    }


def value_of_job(name: str, otherwise: str) -> Markup:
    """Return the attribute ``name`` of the current marking as HTML within a line; ``otherwise`` until it is known.

    Raises ``ValueError`` where a marking has no such attribute that can be written in a line.
    """
    kind = kinds_of(Marking).get(name)
    if not isinstance(kind, (Words, Count, Typed)):
        raise ValueError(f"A marking has no such value: {name}")
    more: dict[str, Any] = {}
    if isinstance(kind, Count):
        more["default"] = _default(Marking, name)
    if isinstance(kind, Typed):
        more["shared"] = next((each for each, held in shared_attributes(Marking).items() if held == name), "")
        more |= _labels(kind.field)
    if name == WIDTH:
        more["width"] = ""
    if name in OWN_PARTS:
        more["own"] = ""
    return _place(name, otherwise, more)


def value_of_calculator(id: str, name: str, otherwise: str) -> Markup:
    """Return what was typed into a field of a calculator for the current marking; ``otherwise`` until it was used.

    Raises ``ValueError`` where there is no such calculator or field.
    """
    try:
        inputs = catalogue.find(id).inputs
        field = asked(inputs)[name]
    except KeyError:
        raise ValueError(f"There is no such field: {name} of {id}") from None
    more = {"calculator": id, "default": field.text_of(_default(inputs, name), units.MM), "shared": field.shares or ""}
    return _place(name, otherwise, more | _labels(field))


def _default(part: type, name: str) -> Any:
    return next(each.default for each in fields(part) if each.name == name)


def _place(name: str, otherwise: str, more: Mapping[str, Any]) -> Markup:
    written = Markup().join(_MORE.format(name=key, value=each) for key, each in more.items())
    return _VALUE.format(name=name, otherwise=otherwise, more=written)


def _labels(field: Field) -> dict[str, str]:
    if not isinstance(field, ChoiceField):
        return {}
    return {"labels": json.dumps(field.labels(), ensure_ascii=False)}


def message(templates: jinja2.Environment, text: str) -> str:
    """Return a message to send, whose ``text`` is HTML, with a button that copies it as plain text."""
    macros: Any = templates.get_template("message.html").module
    return str(macros.message(Markup(text.strip()), messages.PAGE)).strip()

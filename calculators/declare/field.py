"""The base class of fields, the inputs of calculators."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, field
from typing import Any, ClassVar, Protocol

from calculators import messages, units
from calculators.other_units import Other

__all__ = ["JOB", "MARKING", "MODEL", "Field", "SubmittedFile", "When", "asked", "belonging", "shared"]

#: What a value of a job belongs to.
MARKING, MODEL, JOB = "marking", "model", "job"

#: A condition: the name of a field and its required text, or one of several (None: any text); or None for no condition.
When = tuple[str, str | tuple[str, ...] | None] | None


class Trouble(Exception):
    """A problem with one field. The walk over the fields adds the address."""

    def __init__(self, text: str, hint: str = "") -> None:
        super().__init__(text)
        self.text, self.hint = text, hint


@dataclass(frozen=True)
class SubmittedFile:
    """An uploaded file; ``pixels`` are (width, height, RGBA bytes) if already decoded."""

    name: str
    data: bytes
    pixels: tuple[int, int, bytes] | None = None


class Submission(Protocol):
    """The submitted text or file of one field: ``typed`` and ``default`` are MISSING if there is none.

    ``display`` is the unit in which limits are named.
    """

    @property
    def typed(self) -> Any: ...

    @property
    def default(self) -> Any: ...

    @property
    def display(self) -> units.Display: ...

    def file(self) -> SubmittedFile | None:
        """Return the file submitted for the field."""

    def rows(self, row: type) -> tuple[Any, ...]:
        """Return each typed row as the inputs dataclass ``row``; their problems are recorded with their addresses."""


@dataclass(frozen=True, kw_only=True)
class Field:
    """What every kind of field declares. ``without`` says what leaving an optional one out means.

    ``only_when`` names a field before this one and the text, or texts, of it with which this one counts; None: any
    text. It does not count where that field itself does not. Then the page hides it and leaves it at its default.
    ``shares`` names a value of the job: fields of several calculators that share it start from what was typed last in
    any of them. ``shared_by`` says what that value belongs to: one marking, all markings of a model, or the whole job.
    ``belongs_to`` names the picture
    field that this one describes: another picture asks for it again. ``folded`` puts it with the
    seldom changed ones, at the end of the form.

    A kind is a subclass in a module of its own. Its template and its script are found by the module's name.
    """

    label: str
    help: str = ""
    optional: bool = False
    without: str = ""
    only_when: When = None
    shares: str = ""
    shared_by: str = ""
    belongs_to: str = ""
    folded: bool = False
    kind: ClassVar[str] = ""
    #: What may be typed, in words, for the table of inputs.
    takes: ClassVar[str] = ""
    #: Whether an empty text is a value.
    may_be_empty: ClassVar[bool] = False
    #: Whether the page gets the parsed value.
    sent_to_page: ClassVar[bool] = True
    #: Other fields that this one fills, each with the attribute of its value to use.
    fills: ClassVar[Mapping[str, str]] = {}

    # -- Parsing

    def taken(self, submitted: Submission) -> Any:
        """Return the value of a submission. Raises Trouble."""
        if submitted.typed is MISSING:
            return self.left_out(submitted)
        if not isinstance(submitted.typed, str):
            raise self.trouble(messages.NOT_TEXT, messages.TEXTS_IN_QUOTES)
        if not submitted.typed.strip() and not self.may_be_empty:
            hint = messages.LEAVE_OUT.format(without=self.without) if self.optional and self.without else ""
            raise self.trouble(messages.EMPTY, hint, takes=self.accepts(submitted.display))
        return self.read(submitted.typed, submitted.display)

    def left_out(self, submitted: Submission) -> Any:
        """Return the default, for a field without submission. Raises Trouble if it has none."""
        if submitted.default is MISSING:
            raise self.trouble(messages.EMPTY, takes=self.accepts(submitted.display))
        return submitted.default

    def read(self, text: str, display: units.Display) -> Any:
        """Return the value of a typed text that is not empty. Raises Trouble."""
        raise NotImplementedError(f"{type(self).__name__} reads no text")

    def accepts(self, display: units.Display) -> str:
        """Return what may be typed, to follow "takes" in a sentence; limits in the unit of ``display``."""
        return self.takes

    def takes_only(self, hint: str, display: units.Display) -> Trouble:
        """Return the problem that the submission is not what this field takes."""
        return self.trouble(messages.TAKES, hint, takes=self.accepts(display))

    def trouble(self, sentence: str, hint: str = "", **values: Any) -> Trouble:
        """Return a problem with this field; ``sentence`` may name its label."""
        label = self.label
        return Trouble(
            sentence.format(label=messages.in_sentence(label), Label=messages.as_subject(label), **values), hint
        )

    # -- Formatting

    def restated(self, typed: Any, display: units.Display) -> Any:
        """Return typed text converted to the unit of ``display``; None if it has no such unit or is unreadable."""
        return None

    def others_typed(self, typed: Any) -> dict[str, Other]:
        """Return the units in which ``typed`` wants its answer, by the unit that each stands for."""
        return {}

    def text_of(self, value: Any, display: units.Display) -> Any:
        """Return a value as a reader could have typed it."""
        return str(value)

    def parsed(self, value: Any) -> Any:
        """Return a parsed value as JSON-able data for the page. Raises ValueError if it has no meaning."""
        return value

    def typed(self, value: Any) -> Any:
        """Return a value as text that is valid in any display unit."""
        return self.text_of(value, units.MM)

    def label_of(self, text: str | None) -> str | None:
        """Return the label for the typed ``text``."""
        return text

    # -- Description for pages

    def described(self, name: str, default: Any) -> dict[str, Any]:
        """Return the description for form and pages, as JSON-able data."""
        return {
            "name": name,
            "label": self.label,
            "kind": self.kind,
            "found_as": found_as(type(self)),
            "help": self.help,
            "optional": self.optional,
            "without": self.without,
            "shares": self.shares,
            "shared_by": self.shared_by,
            "belongs_to": self.belongs_to,
            "folded": self.folded,
            "only_when": None,
            "quantity": None,
            "unit": "",
            "default": None if default is None else self.default_texts(default),
            "value": "" if default is None else self.text_of(default, units.MM),
            "default_words": "" if default is None else self.default_words(default),
            "takes": self.takes,
            **self.details(),
        }

    def details(self) -> dict[str, Any]:
        """Return the parts of the description that only this kind has."""
        return {}

    def default_texts(self, default: Any) -> Any:
        """Return the default as text to type, by unit."""
        return {unit: self.text_of(default, display) for unit, display in units.DISPLAYS.items()}

    def default_words(self, default: Any) -> str:
        """Return the default for the table of inputs."""
        words: str = self.text_of(default, units.MM)
        return words


def folded(text: str) -> str:
    """Return ``text`` for comparing names: in lower case, with single blanks."""
    return " ".join(text.casefold().split())


def found_as(kind: type) -> str:
    """Return the name by which module, template and script of a kind are found."""
    return kind.__module__.rpartition(".")[2]


def declared(made: Field, default: Any) -> Any:
    """Return the field of an inputs dataclass that ``made`` declares."""
    options = {} if default is MISSING else {"default": default}
    return field(metadata={"field": made}, **options)


def shared(name: str, made: Any, by: str) -> Any:
    """Return a declared field, such as ``picture(…)``, that shares the job's value ``name`` within ``by``."""
    return declared(dataclasses.replace(made.metadata["field"], shares=name, shared_by=by), made.default)


def belonging(made: Any, picture: str = "picture") -> Any:
    """Return a declared field as one that tells something of the picture in the field
    ``picture``, so that another asks for it again.
    """
    return declared(dataclasses.replace(made.metadata["field"], belongs_to=picture), made.default)


def asked(inputs: type) -> dict[str, Field]:
    """Return the declared fields of an inputs dataclass by name, in order."""
    return {each.name: each.metadata["field"] for each in dataclasses.fields(inputs)}


def defaults(inputs: type) -> dict[str, Any]:
    """Return the default of each field of an inputs dataclass; MISSING where it has none."""
    return {each.name: each.default for each in dataclasses.fields(inputs)}


def restated(inputs: type, typed: Mapping[str, Any], display: units.Display) -> dict[str, Any]:
    """Return the readable ``typed`` texts whose unit changes, converted to the unit of ``display``."""
    texts = {name: field.restated(typed.get(name), display) for name, field in asked(inputs).items()}
    return {name: text for name, text in texts.items() if text is not None}


def others_typed(inputs: type, typed: Mapping[str, Any]) -> dict[str, Other]:
    """Return the units that a reader typed in place of those of the fields, by these; the first of several counts."""
    others: dict[str, Other] = {}
    for name, each in asked(inputs).items():
        others = each.others_typed(typed.get(name)) | others
    return others


def parsed(inputs: type, values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the parsed values of fields as JSON-able data, without files.

    A point is [x, y], a colour #rrggbb, rows are a list of such mappings. A text with its own grammar is given by its
    meaning, and left out if it has none.
    """
    by_name = {}
    for name, each in asked(inputs).items():
        if name in values and each.sent_to_page:
            try:
                by_name[name] = each.parsed(values[name])
            except ValueError:
                continue
    return by_name


def values_of(inputs: Any) -> dict[str, tuple[Field, Any]]:
    """Return field and value of the inputs of a calculator or of a row by name, without those that are left out."""
    values = {name: (field, getattr(inputs, name)) for name, field in asked(type(inputs)).items()}
    return {name: (field, value) for name, (field, value) in values.items() if value is not None}


def _condition(when: tuple[str, Any], fields: Mapping[str, Field], default_values: Mapping[str, Any]) -> dict[str, Any]:
    """Return a condition for the page, and whether it holds by default; several texts are separated by blanks."""
    name, text = when
    other, default = fields[name], default_values[name]
    texts: tuple[str, ...] = (text,) if isinstance(text, str) else text or ()
    holds = default is not None and (text is None or other.text_of(default, units.MM) in texts)
    further = other.only_when
    return {
        "field": name,
        "label": other.label,
        "value": None if text is None else " ".join(texts),
        "value_label": None if text is None else messages.or_listed([other.label_of(each) or each for each in texts]),
        "by_default": holds and (not further or _condition(further, fields, default_values)["by_default"]),
    }


def describe_fields(inputs: type) -> list[dict[str, Any]]:
    """Return the descriptions of the fields of an inputs dataclass for the page."""
    fields, default_values = asked(inputs), defaults(inputs)
    descriptions = [field.described(name, default_values[name]) for name, field in fields.items()]
    for each in descriptions:
        if when := fields[each["name"]].only_when:
            each["only_when"] = _condition(when, fields, default_values)
    return descriptions

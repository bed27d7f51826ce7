"""Typed text in, inputs out, or every problem at once.

This is the only place where what a reader typed is understood. Nothing is clamped: a value outside
its range is a problem that names its field.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields
from typing import Any

from calculators import messages, numbers, tables, units
from calculators.declare import (
    ChoiceField,
    ColourField,
    Field,
    FileField,
    NamedFile,
    NumberField,
    PictureField,
    PointField,
    Problem,
    RowsField,
    TextField,
    YesNoField,
    asked,
)
from calculators.files.picture import Picture, PictureTrouble, read_picture

YES = ("yes", "true", "on", "1", "y")
NO = ("no", "false", "off", "0", "n")


@dataclass(frozen=True)
class GivenFile:
    """A file as it was handed in: ``pixels`` are (width, height, RGBA bytes) where already decoded."""

    name: str
    data: bytes
    pixels: tuple[int, int, bytes] | None = None


@dataclass(frozen=True)
class Reading:
    """``inputs`` (None if there are problems), the problems, and texts that a picture gave fields.

    ``values`` holds the value of every field that could be read, by name; of rows, one such mapping for each row.
    """

    inputs: Any
    problems: tuple[Problem, ...]
    fills: Mapping[str, str]
    values: Mapping[str, Any]


class _Trouble(Exception):
    """A problem on its way to its field."""

    def __init__(self, text: str, hint: str = "") -> None:
        super().__init__(text)
        self.text, self.hint = text, hint


def read(
    inputs: type,
    typed: Mapping[str, Any],
    files: Mapping[str, GivenFile] | None = None,
    display: units.Display = units.MM,
) -> Reading:
    """Return the inputs dataclass made of ``typed`` texts and given ``files``, or all problems.

    ``typed`` maps field names to texts (rows: to lists of such mappings). A field that is absent
    takes its default; one that is empty is a problem. ``display`` is the unit in which limits are
    named.
    """
    return _Reader(files or {}, display).read(inputs, typed, "")


def read_aside(inputs: type, typed: Mapping[str, Any]) -> dict[str, Any]:
    """Return the values of ``typed`` texts that do not count now, by name; what cannot be read is left out."""
    reader, values = _Reader({}, units.MM), {}
    for name, field in asked(inputs).items():
        if name in typed and not isinstance(field, RowsField | FileField):
            try:
                values[name] = reader.value(field, typed[name])
            except _Trouble:
                continue
    return values


class _Reader:
    def __init__(self, files: Mapping[str, GivenFile], display: units.Display) -> None:
        self.files, self.display, self.claimed = files, display, set()

    def read(self, inputs: type, typed: Mapping[str, Any], within: str) -> Reading:
        problems: list[Problem] = []
        values: dict[str, Any] = {}
        rows: dict[str, Any] = {}
        fills: dict[str, str] = {}
        declared = {each.name: (each, each.metadata["field"]) for each in fields(inputs)}
        # Pictures first: they may give other fields their value.
        ordered = sorted(declared.items(), key=lambda item: not isinstance(item[1][1], PictureField))
        for name, (each, field) in ordered:
            path = f"{within}{name}"
            try:
                if isinstance(field, RowsField):
                    values[name], rows[name] = self._rows(field, typed.get(name, MISSING), each.default, path, problems, fills)
                elif isinstance(field, FileField):
                    values[name] = self._file(field, path, typed.get(name), each.default)
                    if isinstance(field, PictureField) and values[name]:
                        self._fill(inputs, field, values[name], typed, within, values, fills, problems)
                elif name not in values:
                    values[name] = (
                        self.value(field, typed[name]) if name in typed else _default(each, field)
                    )
            except _Trouble as trouble:
                problems.append(Problem(path, trouble.text, trouble.hint))
        problems += [_unknown(f"{within}{name}", name, declared) for name in typed if name not in declared]
        if not within:
            problems += [
                Problem(path, messages.UNKNOWN_FILE_FIELD.format(name=path), _fields_are(declared))
                for path in self.files if path not in self.claimed
            ]  # fmt: skip
        order = {name: place for place, name in enumerate(declared)}
        problems.sort(key=lambda problem: order.get(re.split(r"[.\[]", problem.field[len(within):])[0], 999))
        made = None if problems else inputs(**values)
        wrong = {problem.field for problem in problems}
        understood = {name: value for name, value in (values | rows).items() if f"{within}{name}" not in wrong}
        return Reading(made, tuple(problems), fills, understood)

    def value(self, field: Field, text: Any) -> Any:
        """Return the value of one field from its typed text."""
        if not isinstance(text, str):
            raise _Trouble(_words(messages.NOT_TEXT, field), messages.TEXTS_IN_QUOTES)
        if not text.strip() and not (isinstance(field, TextField) and field.may_be_empty):
            hint = messages.LEAVE_OUT.format(without=field.without) if field.optional and field.without else ""
            raise _Trouble(_words(messages.ENTER, field), hint)
        match field:
            case NumberField():
                return self._number(field, text)
            case ChoiceField():
                return _choice(field, text.strip())
            case YesNoField():
                return _yes_no(field, text.strip())
            case ColourField():
                return _colour(field, text.strip())
            case PointField():
                return _point(field, text)
            case TextField():
                if len(text) > field.most:
                    raise _Trouble(
                        _words(messages.TOO_LONG, field, most=field.most), messages.TYPED.format(typed=messages.quoted(text))
                    )
                return text
        raise TypeError(f"no way to read a {type(field).__name__}")

    def _number(self, field: NumberField, text: str) -> float:
        try:
            value = _measured(field, text)
            trouble = None if field.low <= value <= field.high else self._out_of_range(field, text)
        except units.Unread as unread:
            trouble = _not_read(field, unread)
        if trouble and field.names and (named := _named(field, text)) is not None:
            value, trouble = named, None
        if trouble:
            raise trouble
        if not field.whole:
            return value
        if value != int(value):
            hint = messages.MUST_BE_WHOLE.format(typed=messages.quoted(text))
            raise _Trouble(_words(messages.NOT_WHOLE, field), hint)
        return int(value)

    def _out_of_range(self, field: NumberField, text: str) -> _Trouble:
        low, high, unit = shown_range(field, self.display)
        return _Trouble(
            _words(messages.BETWEEN, field, low=low, high=high, unit=unit),
            messages.TYPED.format(typed=messages.quoted(text)),
        )

    def _rows(self, field: RowsField, typed: Any, default: Any, path: str, problems: list, fills: dict) -> tuple[Any, Any]:
        """Return the rows as inputs, and what could be read of each."""
        if typed is MISSING:
            return default, tuple(map(vars, default))
        if not isinstance(typed, list) or not all(isinstance(row, Mapping) for row in typed):
            raise _Trouble(_words(messages.NOT_ROWS, field))
        if len(typed) < field.fewest:
            rows = "row" if field.fewest == 1 else "rows"
            raise _Trouble(_words(messages.TOO_FEW_ROWS, field, fewest=field.fewest, rows=rows))
        if len(typed) > field.most:
            raise _Trouble(_words(messages.TOO_MANY_ROWS, field, most=field.most))
        read = [self.read(field.row, row, f"{path}[{place}].") for place, row in enumerate(typed)]
        for each in read:
            problems += each.problems
            fills.update(each.fills)
        return tuple(each.inputs for each in read), tuple(each.values for each in read)

    def _file(self, field: FileField, path: str, typed: Any, default: Any) -> Any:
        if typed is not None:
            raise _Trouble(_words(messages.NOT_A_FILE, field))
        given = self.files.get(path)
        self.claimed.add(path)
        if given is None:
            if not field.optional:
                raise _Trouble(_words(messages.CHOOSE_FILE, field))
            return default
        if not given.data:
            raise _Trouble(messages.EMPTY_FILE.format(name=given.name))
        if not isinstance(field, PictureField):
            return NamedFile(given.name, "", given.data)
        try:
            return read_picture(given.name, given.data, pixels=given.pixels, wanted=field.pixels, or_outlines=bool(field.outlines))
        except PictureTrouble as trouble:
            raise _Trouble(trouble.text, trouble.hint) from None

    def _fill(
        self, inputs: type, field: PictureField, given: Picture, typed: Mapping[str, Any], within: str,
        values: dict, fills: dict, problems: list,
    ) -> None:  # fmt: skip
        """Give other fields the values that the picture's header holds, unless they contradict."""
        declared = {each.name: each.metadata["field"] for each in fields(inputs)}
        for name, attribute in field.fills.items():
            value = getattr(given, attribute)
            if value is None:
                continue
            try:
                stated = self.value(declared[name], typed[name]) if name in typed else value
                if stated != value:
                    raise _Trouble(
                        messages.FILE_CONTRADICTS.format(
                            Label=messages.as_subject(declared[name].label), read=numbers.plain(value),
                            typed=numbers.plain(stated)),
                        messages.TAKE_PICTURE_OR_TYPE,
                    )  # fmt: skip
                values[name] = self.value(declared[name], numbers.plain(value))
                fills[f"{within}{name}"] = numbers.plain(value)
            except _Trouble as trouble:
                values[name] = None  # read; the problem below keeps it from being used
                problems.append(Problem(f"{within}{name}", trouble.text, trouble.hint))


def shown_range(field: NumberField, display: units.Display) -> tuple[str, str, str]:
    """Return low, high and " unit" of a number as a reader sees them; as printed they are accepted."""
    if field.unit == "1:n":
        return f"1:{numbers.plain(field.low)}", f"1:{numbers.plain(field.high)}", ""
    if field.is_length and display is not units.MM:
        return (
            numbers.inward(units.in_display(field.low, display), 4, up=True),
            numbers.inward(units.in_display(field.high, display), 4, up=False),
            f" {display.unit}",
        )
    unit = units.shown_unit(field.unit)
    return numbers.plain(field.low), numbers.plain(field.high), f" {unit}" if unit else ""


def choice_labels(field: ChoiceField) -> dict[str, str]:
    """Return the values that a choice may take, each with its label."""
    if field.options:
        return dict(field.options)
    part, wanted = field.where or ("", "")
    return {row.id: row.label for row in tables.load(field.table) if not part or getattr(row, part) == wanted}


def _default(each: Any, field: Field) -> Any:
    if each.default is MISSING:
        raise _Trouble(_words(messages.ENTER, field))
    return each.default


def _measured(field: NumberField, text: str) -> float:
    """Return the number typed for a length, a scale or anything else. Raises units.Unread."""
    if field.is_length:
        return units.length_mm(text)
    return units.ratio(text) if field.unit == "1:n" else units.number(text, field.unit)


def _not_read(field: NumberField, unread: units.Unread) -> _Trouble:
    if field.is_length:
        return _Trouble(_words(messages.NOT_A_LENGTH, field), str(unread))
    if field.unit == "1:n":
        hint = f"{unread} {messages.RATIO_OR_NAME}" if field.names else str(unread)
        return _Trouble(_words(messages.NOT_A_RATIO, field), hint)
    return _Trouble(_words(messages.NOT_A_NUMBER, field), str(unread))


def _named(field: NumberField, text: str) -> float | None:
    """Return the number that ``text`` names in the table of the field, or None if it names none.

    A name that stands for several numbers is a problem that lists them.
    """
    wanted = _folded(text)
    found = {}
    for row in tables.load(field.names):
        if wanted in (_folded(row.id), _folded(row.label)):
            return row.ratio.value
        if wanted in map(_folded, row.aliases):
            found.setdefault(row.ratio.value, row.label)
    if len(found) > 1:
        raise _Trouble(
            _words(messages.NOT_A_RATIO, field),
            messages.SEVERAL_SCALES.format(
                typed=messages.quoted(text),
                names=", ".join(f"{label} (1:{numbers.plain(value)})" if ":" not in label else label
                                for value, label in found.items())),
        )  # fmt: skip
    return next(iter(found), None)


def _choice(field: ChoiceField, text: str) -> str:
    labels = choice_labels(field)
    text = tables.current(field.table, text) if field.table else text  # a kept job may know an older id
    if text in labels:
        return text
    for value, label in labels.items():
        if _folded(text) in (_folded(value), _folded(label)):
            return value
    near = difflib.get_close_matches(_folded(text)[:100], [*map(_folded, labels)], n=1)
    hint = (
        messages.DID_YOU_MEAN.format(meant=messages.quoted(near[0])) if near
        else messages.ON_THE_LIST.format(names=", ".join(labels))
    )  # fmt: skip
    raise _Trouble(_words(messages.NOT_ON_LIST, field), f"{messages.TYPED.format(typed=messages.quoted(text))} {hint}")


def _yes_no(field: YesNoField, text: str) -> bool:
    if text.lower() in YES + NO:
        return text.lower() in YES
    raise _Trouble(
        _words(messages.NOT_YES_OR_NO, field),
        f"{messages.TYPED.format(typed=messages.quoted(text))} {messages.YES_OR_NO_HINT}",
    )


def _colour(field: ColourField, text: str) -> str:
    short = re.fullmatch(r"#?([0-9a-fA-F])([0-9a-fA-F])([0-9a-fA-F])", text)
    full = "".join(2 * digit for digit in short.groups()) if short else text.removeprefix("#")
    if re.fullmatch(r"[0-9a-fA-F]{6}", full):
        return f"#{full.lower()}"
    if field.names and (named := _named_colour(field, text)):
        return named
    hint = messages.COLOUR_OR_NAME if field.names else messages.COLOUR_HINT
    raise _Trouble(_words(messages.NOT_A_COLOUR, field), f"{messages.TYPED.format(typed=messages.quoted(text))} {hint}")


def _named_colour(field: ColourField, text: str) -> str | None:
    """Return the colour that ``text`` names in the table of the field, or None. Close names are told as a problem."""
    wanted = _folded(text)
    names = {
        _folded(name): row for row in tables.load(field.names) for name in (*row.aliases, row.label, row.id)
    }
    if wanted in names:
        return names[wanted].colour
    if near := difflib.get_close_matches(wanted[:100], names, n=1):
        raise _Trouble(
            _words(messages.NOT_A_COLOUR, field),
            f"{messages.TYPED.format(typed=messages.quoted(text))} "
            f"{messages.DID_YOU_MEAN.format(meant=messages.quoted(names[near[0]].label))}",
        )
    return None


def _point(field: PointField, text: str) -> tuple[float, float]:
    try:
        point = units.point(text)
    except units.Unread as unread:
        raise _Trouble(_words(messages.NOT_A_POINT, field), str(unread)) from None
    if not all(field.low <= part <= field.high for part in point):
        low, high = numbers.plain(field.low), numbers.plain(field.high)
        raise _Trouble(
            _words(messages.POINT_BETWEEN, field, low=low, high=high), messages.TYPED.format(typed=messages.quoted(text))
        )
    return point


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())


def _unknown(path: str, name: str, declared: Mapping[str, Any]) -> Problem:
    near = difflib.get_close_matches(name[:100], declared, n=1)
    hint = messages.DID_YOU_MEAN.format(meant=messages.quoted(near[0])) if near else _fields_are(declared)
    return Problem(path, messages.UNKNOWN_FIELD.format(name=name[:100]), hint)


def _fields_are(declared: Mapping[str, Any]) -> str:
    return messages.FIELDS_ARE.format(names=", ".join(declared))


def _words(sentence: str, field: Field, **values: Any) -> str:
    label = field.label
    return sentence.format(label=messages.in_sentence(label), Label=messages.as_subject(label), **values)

"""Results written out for a reader: in the reader's unit, rounded, sentence by sentence."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from html import escape
from typing import Any

from calculators import numbers, tables, units
from calculators.declare import (
    Calculator,
    ChoiceField,
    ColourField,
    Field,
    Figure,
    FileField,
    Link,
    MeasureResult,
    NamedFile,
    NumberField,
    PictureField,
    PointField,
    Prose,
    Result,
    RowsField,
    Said,
    Scenes,
    ScenesResult,
    TableResult,
    TextField,
    VerdictResult,
    YesNoField,
    answered,
    asked,
)
from calculators.read import choice_labels, shown_range

#: Decimals that the ratio of a scale is given with in the trade (1:76.2); a measured one has no more to tell.
SCALE_DECIMALS = 2
#: Decimals of a value inside a sentence, by the unit that its name ends in; None: three digits.
_IN_SENTENCES = {"mm": None, "ppi": 0, "px": 0, "arcmin": None, "percent": 0}


def sentence(said: Said | str, display: units.Display) -> str:
    """Return a sentence with its values written in the reader's unit.

    >>> from calculators.declare import said
    >>> sentence(said("One pixel is {pixel_mm} wide.", pixel_mm=0.127), units.MM)
    'One pixel is 0.127 mm wide.'
    """
    if isinstance(said, str):
        return said
    return said.sentence.format(**{name: _in_sentence(name, value, display) for name, value in said.values.items()})


def _in_sentence(name: str, value: Any, display: units.Display) -> str:
    unit = name.rpartition("_")[2]
    if isinstance(value, Said):
        return sentence(value, display)
    if isinstance(value, str) or unit not in _IN_SENTENCES:
        return str(value)
    if unit == "mm":
        value, unit = units.in_display(value, display), display.unit
    decimals = _IN_SENTENCES[unit] if unit in _IN_SENTENCES else None
    shown = numbers.significant(value) if decimals is None else f"{value:.{decimals}f}"
    singular = unit == "arcmin" and shown == "1"
    return f"{shown} {'arcminute' if singular else units.shown_unit(unit)}"


def html(prose: Prose, display: units.Display) -> str:
    """Return prose as HTML, its sentences in the reader's unit.

    >>> from calculators.declare import said
    >>> html(Prose(("<p>", said("Less than {gap_mm} & no more.", gap_mm=0.5), "</p>")), units.MM)
    '<p>Less than 0.5 mm &amp; no more.</p>'
    """
    return "".join(each if isinstance(each, str) else escape(sentence(each, display)) for each in prose.parts)


def plain(value: Any) -> Any:
    """Return a result as JSON-able data: unrounded numbers, sentences in mm, no file bytes."""
    match value:
        case Said():
            return sentence(value, units.MM)
        case NamedFile():
            return {"name": value.name, "media": value.media, "size": len(value.data)}
        case tuple() | list():
            return [plain(each) for each in value]
        case Figure():
            return {"alt": value.alt}
        case Prose():
            return html(value, units.MM)
        case Link():
            return {"words": value.words, "page": value.page}
        case Scenes():
            return {"width_px": value.width_px, "height_px": value.height_px, "scenes": [each.label for each in value.scenes]}
    if dataclasses.is_dataclass(value):
        return {name: plain(getattr(value, name)) for name in answered(type(value))}
    return value


def parsed(inputs: type, values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the values that were read of fields as JSON-able data, without files.

    A point is [x, y], a colour #rrggbb, rows are a list of such mappings; a text that has a grammar of its own is what
    it means, left out where it means nothing.
    """
    told = {}
    for name, field in asked(inputs).items():
        if name in values and not isinstance(field, FileField):
            try:
                told[name] = _parsed(field, values[name])
            except ValueError:
                continue
    return told


def _parsed(field: Field, value: Any) -> Any:
    match field:
        case RowsField():
            # Rows by default are the dataclass itself.
            return [parsed(field.row, row if isinstance(row, Mapping) else vars(row)) for row in value]
        case PointField():
            return list(value)
        case TextField(read=grammar) if grammar:
            meant = grammar(value)
            # As pairs, since JSON would turn the numbers of its keys into texts.
            return [list(pair) for pair in meant.items()] if isinstance(meant, Mapping) else meant
    return value


def view(outputs: Any, display: units.Display) -> dict[str, Any]:
    """Return what the page shows of ``outputs``, by name of the result."""
    declared = answered(type(outputs))
    return {
        name: _shown(result, getattr(outputs, name), outputs, display)
        for name, result in declared.items()
        if result.kind != "reasons"
    }


def out_files(outputs: Any) -> Iterator[tuple[str, NamedFile]]:
    """Yield (name of the result, file) for every file among ``outputs``."""
    for name in answered(type(outputs)):
        value = getattr(outputs, name)
        if isinstance(value, NamedFile):
            yield name, value


def out_scenes(outputs: Any) -> Iterator[tuple[str, Scenes]]:
    """Yield (name of the result, scenes) for all scenes among ``outputs``."""
    for name in answered(type(outputs)):
        value = getattr(outputs, name)
        if isinstance(value, Scenes):
            yield name, value


def _shown(result: Result, value: Any, outputs: Any, display: units.Display) -> dict[str, Any]:
    match result:
        case VerdictResult():
            level, title = result.levels[value]
            said = getattr(outputs, result.reasons, ())
            return {"kind": result.kind, "value": value, "level": level, "title": title,
                    "reasons": [sentence(each, display) for each in said]}  # fmt: skip
        case MeasureResult():
            return {"kind": result.kind, **measure(result, value, display)}
        case TableResult():
            columns = answered(result.row)
            return {"kind": result.kind, "rows": [
                {name: _cell(column, getattr(row, name), row, display) for name, column in columns.items()
                 if column.kind != "reasons"} for row in value]}  # fmt: skip
    if value is None:
        return {"kind": result.kind, "shown": None}
    match result.kind:
        case "figure":
            return {"kind": "figure", "svg": value.svg, "alt": value.alt}
        case "scenes":
            return {"kind": "scenes", "width": value.width_px, "height": value.height_px, "paints": list(value.paints),
                    "first": value.first,
                    "scenes": [{"label": each.label, "marks": dict(each.marks)} for each in value.scenes]}  # fmt: skip
        case "file":
            return {"kind": "file", "name": value.name, "media": value.media, "size": len(value.data)}
        case "prose":
            return {"kind": "prose", "html": html(value, display)}
        case "link":
            # The page of every calculator stands two steps below the root of the site.
            return {"kind": "link", "shown": value.words, "href": f"../../{value.page}"}
        case "words":
            return {"kind": "words", "shown": result.names[value] if result.names else sentence(value, display)}
    return {"kind": result.kind, "shown": str(value)}


def measure(result: MeasureResult, value: float | None, display: units.Display) -> dict[str, Any]:
    """Return {"shown", "unit"} of a number; both None where there is none."""
    if value is None:
        return {"shown": None, "unit": None}
    if result.unit == "mm":
        decimals = result.decimals + display.more_decimals
        return {"shown": numbers.rounded(units.in_display(value, display), decimals), "unit": display.unit}
    if result.unit == "1:n":
        return {"shown": f"1:{numbers.plain(round(value, max(result.decimals, SCALE_DECIMALS)))}", "unit": ""}
    # What is counted has no decimals, however few its digits are.
    shown = numbers.plain(value) if isinstance(value, int) else numbers.rounded(value, result.decimals)
    return {"shown": shown, "unit": units.shown_unit(result.unit)}


def _cell(column: Result, value: Any, row: Any, display: units.Display) -> dict[str, Any]:
    shown = _shown(column, value, row, display)
    if isinstance(column, VerdictResult):
        return {"shown": shown["title"], "unit": None, "level": shown["level"]}
    return {"shown": shown.get("shown"), "unit": shown.get("unit"), "level": None, "href": shown.get("href")}


def default_view(calculator: Calculator, unit: str = "mm") -> dict[str, Any]:
    """Return {"view", "result"} of a calculator for its defaults: the worked example of its page."""
    outputs = calculator.answer(calculator.inputs())
    return {"view": view(outputs, units.DISPLAYS[unit]), "result": plain(outputs)}


# -- The declaration, for form and pages -----------------------------------------------------------


def describe(calculator: Calculator) -> dict[str, Any]:
    """Return everything that a page, a form or a listing needs to know, as JSON-able data."""
    return {
        "id": calculator.id,
        "title": calculator.title,
        "summary": calculator.summary,
        "stage": calculator.stage,
        "limit_s": calculator.limit_s,
        "sources": list(calculator.sources),
        "cautions": list(calculator.cautions),
        "needs": list(calculator.needs),
        "fields": describe_fields(calculator.inputs),
        "results": describe_results(calculator.outputs),
    }


def describe_fields(inputs: type) -> list[dict[str, Any]]:
    """Return the fields of an inputs dataclass as the contract of the page has them."""
    defaults = {name: each.default for name, each in inputs.__dataclass_fields__.items()}
    declared = asked(inputs)
    told = [_field(name, field, defaults[name]) for name, field in declared.items()]
    for each in told:
        if when := declared[each["name"]].only_when:
            other, text = when
            default = defaults[other]
            counts = default is not None and text in (None, text_of(declared[other], default, units.MM))
            each["only_when"] = {"field": other, "label": declared[other].label, "value": text,
                                 "value_label": _value_label(declared[other], text), "by_default": counts}  # fmt: skip
    return told


def _field(name: str, field: Field, default: Any) -> dict[str, Any]:
    told: dict[str, Any] = {
        "name": name, "label": field.label, "kind": field.kind, "help": field.help,
        "optional": field.optional, "without": field.without, "shares": field.shares, "only_when": None, "quantity": None, "unit": "",
        "default": None if default is None else _default_texts(field, default),
    }  # fmt: skip
    match field:
        case NumberField():
            ranges = {unit: shown_range(field, display) for unit, display in units.DISPLAYS.items()}
            told |= {
                "unit": units.shown_unit(field.unit),
                "quantity": "length" if field.is_length else None,
                "low": field.low,
                "high": field.high,
                "range": {unit: f"{low} to {high}{suffix}" for unit, (low, high, suffix) in ranges.items()},
                "inputmode": "text" if field.names or field.is_length else "numeric" if field.whole else "decimal",
                "suggestions": suggestions(field.names) if field.names else [],
            }
        case ChoiceField():
            told["options"] = [{"value": value, "label": label} for value, label in choice_labels(field).items()]
        case ColourField(names=names) if names:
            told["suggestions"] = [{"value": row.colour, "label": row.label} for row in tables.load(names)]
        case PointField():
            told |= {"unit": "px", "of": field.of, "group": field.group, "low": field.low, "high": field.high,
                     "inputmode": "text"}  # fmt: skip
        case TextField():
            told |= {"most": field.most, "lines": field.lines, "marks": field.marks, "inputmode": "text"}
        case RowsField():
            told |= {"fewest": field.fewest, "most": field.most, "fields": describe_fields(field.row),
                     "default": [_row_texts(field.row, row) for row in default]}  # fmt: skip
        case FileField():
            told |= {"accept": field.accept, "most_bytes": field.most_bytes}
            if isinstance(field, PictureField):
                told |= {"pixels": field.pixels, "outlines": field.outlines, "camera": True, "fills": list(field.fills),
                         "points_fit": list(field.points_fit) if field.points_fit else None}  # fmt: skip
    return told


def _value_label(field: Field, text: str | None) -> str | None:
    return choice_labels(field).get(text, text) if isinstance(field, ChoiceField) else text


def _default_texts(field: Field, default: Any) -> dict[str, str]:
    return {unit: text_of(field, default, display) for unit, display in units.DISPLAYS.items()}


def _row_texts(row: type, value: Any) -> dict[str, Any]:
    """Return the texts of one default row in mm, without what it leaves out."""
    texts = {}
    for name, field in asked(row).items():
        given = getattr(value, name)
        if isinstance(field, RowsField):
            texts[name] = [_row_texts(field.row, inner) for inner in given]
        elif given is not None:
            texts[name] = text_of(field, given, units.MM)
    return texts


def text_of(field: Field, value: Any, display: units.Display) -> str:
    """Return a value as the text that a reader could have typed for it."""
    match field:
        case NumberField(unit="1:n"):
            return f"1:{numbers.plain(value)}"
        case NumberField():
            return units.restated(value, display) if field.is_length else numbers.plain(value)
        case YesNoField():
            return "yes" if value else "no"
        case PointField():
            return ", ".join(map(numbers.plain, value))
    return str(value)


def suggestions(table: str) -> list[dict[str, str]]:
    """Return the names that a table offers for a number, as text to type and label to read."""
    return [
        {"value": f"1:{numbers.plain(row.ratio.value)}", "label": row.label if ":" in row.label else
         f"{row.label}, 1:{numbers.plain(row.ratio.value)}"}
        for row in tables.load(table)
    ]  # fmt: skip


def describe_results(outputs: type) -> list[dict[str, Any]]:
    """Return the results of an outputs dataclass, without the reasons that a verdict shows itself."""
    return [
        {
            "name": name,
            "label": result.label,
            "kind": result.kind,
            "help": result.help,
            "unit": units.shown_unit(getattr(result, "unit", "")),
            "shares": getattr(result, "shares", ""),
            "proposed": getattr(result, "proposed", ""),
            "columns": describe_results(result.row) if isinstance(result, TableResult) else [],
            "cards": getattr(result, "cards", False),
            "moved_by": [result.percent, result.degrees] if isinstance(result, ScenesResult) else [],
        }
        for name, result in answered(outputs).items()
        if result.kind != "reasons"
    ]

"""The rules for texts and lists of a row, shared by the file checker and by forms.

A rule returns None, or the mistake and its cure. The rules know plain text only; the checker handles YAML.
"""

from __future__ import annotations

import difflib
import json
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from calculators import messages
from calculators.tables.declaration import COMMON_PRACTICE, FOLDERS, Column, columns, required

Wrong = tuple[str, str]

#: The name of a wait as a text has it: {soak}.
WAIT = re.compile(r"\{([a-z0-9]+(?:-[a-z0-9]+)*)\}")

#: Invisible characters that change how text is read.
UNSEEN = re.compile(
    r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u00ad\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufffe\uffff"
    r"\ud800-\udfff\U000e0000-\U000e007f]"
)

_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_MARKUP = re.compile(r"<[a-zA-Z/!?]|&#?\w+;|\{\{|\{%|\{#")
_DIGITS = r"\d+(?:[.,]\d+)?"
_WORDS = (
    r"half "
    r"an|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty|forty|twenty-four|forty-eight"
)
_SPAN = r"(?:seconds?|secs?|minutes?|mins?|hours?|hrs?|days?|weeks?|months?)"
_TYPED_WAIT = re.compile(
    rf"\b(?:{_DIGITS}(?:\s*(?:to|or|–|-)\s*{_DIGITS})?[\s-]*(?:{_SPAN}|s|h)|(?:{_WORDS})(?:\s+(?:to|or)\s+(?:{_WORDS}))?[\s-]+{_SPAN})\b",
    re.IGNORECASE,
)
#: Every typed wait contains one of these; most texts have neither and are skipped quickly. In lower case.
_OF_WAIT = re.compile(r"\d|sec|min|hour|hr|day|week|month")
_TRADE_MARK = re.compile(r"[®™℠©]|\((?:TM|R|tm)\)")
_ADDRESS = re.compile(
    r"\b(?:https?://|ftp://|www\.)|\b[a-z0-9-]+\.(?:com|org|net|io|shop|co\.uk|de|eu)\b", re.IGNORECASE
)
_DOT_WITHIN = re.compile(r"\.\w")
_OPENING, _CLOSING = "“„«", "”‟»"
_SENTENCE_END = re.compile(r"(?<=[.?!])[\"')]*\s+")
#: Longer sentences are hard to read. Names and quotations of documents may be longer.
_MOST_WORDS_OF_ENTRY, _MOST_WORDS = 30, 40
_ENDED = re.compile(r"[.?!][\"”’)]*$")


# -- One text


def wrong_text(value: str, name: str, column: Column) -> Wrong | None:
    """Return what is wrong with a text or an id."""
    # Asking whether all can be printed is many times faster than looking for what cannot, and most texts are in order.
    if not value.isprintable() and (found := UNSEEN.search(value)):
        return unseen(found[0])
    if not value.strip():
        return messages.PART_EMPTY.format(name=name), messages.WRITE_OR_TAKE_OUT.format(shape=pattern(name, column))
    if column.holds == "id":
        return None if is_id(value) else (_cannot(name, value), messages.ID_SIGNS.format(made=made_id(value) or "…"))
    if column.one_of:
        return None if value in column.one_of else (_cannot(name, value), nearest(value, column.one_of))
    if value != value.strip():
        return messages.PART_BLANK_ENDS.format(name=name), messages.WRITE_TEXT.format(text=short(value.strip()))
    if "\n" in value or "\t" in value:
        return messages.PART_LINE_END.format(name=name), messages.ON_ONE_LINE
    if _MARKUP.search(value):
        return messages.PART_MARKUP.format(name=name), messages.PLAIN_WORDS
    if wrong := _not_for_readers(value, name):
        return wrong
    if len(value) > column.most:
        return messages.PART_TOO_LONG.format(name=name, count=len(value), most=column.most), messages.SHORTEN
    return _too_many_words(value, name, column) or (_wrong_wording(value, name, column) if column.wording else None)


def _not_for_readers(value: str, name: str) -> Wrong | None:
    """The mistake of a text with symbols or an address that readers should not see."""
    if not value.strip(" .…"):
        return messages.PART_DOTS.format(name=name), messages.OWN_WORDS
    if (plain := plain_quotes(value)) != value:
        return messages.PART_SMART_QUOTES.format(name=name), messages.WRITE_QUOTED.format(
            text=json.dumps(plain, ensure_ascii=False)
        )
    if ("(" in value or not value.isascii()) and (found := _TRADE_MARK.search(value)):
        return messages.PART_TRADE_MARK.format(name=name, sign=found[0]), messages.NAME_THE_KIND
    if _may_hold_address(value) and _ADDRESS.search(value):
        return messages.PART_ADDRESS.format(name=name), messages.NO_ADDRESS
    return None


def _may_hold_address(value: str) -> bool:
    # Most texts hold none of what every address has, and plain text is found many times faster than a pattern.
    return "://" in value or _DOT_WITHIN.search(value) is not None or "www." in value.lower()


def plain_quotes(text: str) -> str:
    """Return ``text`` with typographic quotation marks and apostrophes replaced by plain ones.

    >>> plain_quotes("“Milky veil”"), plain_quotes("it won’t “stick”")
    ('Milky veil', "it won't 'stick'")
    """
    if text.isascii():
        return text
    inner = re.fullmatch(rf"[{_OPENING}]([^{_OPENING}{_CLOSING}]*)[{_CLOSING}]", text)
    return re.sub(f"[{_OPENING}{_CLOSING}‚‹›‘’]", "'", inner[1] if inner else text)


def _too_many_words(value: str, name: str, column: Column) -> Wrong | None:
    most = _MOST_WORDS_OF_ENTRY if column.wording else _MOST_WORDS
    if len(value) < 2 * most:
        return None  # as many words as that need a letter and a blank each
    count = max(len(each.split()) for each in _SENTENCE_END.split(value))
    if count <= most:
        return None
    return messages.SENTENCE_TOO_LONG.format(name=name, count=count, most=most), messages.MAKE_TWO_SENTENCES


def _wrong_wording(value: str, name: str, column: Column) -> Wrong | None:
    """What is wrong with a heading or with sentences."""
    if _OF_WAIT.search(value.lower()) and (typed := _TYPED_WAIT.search(value)):
        return messages.WAIT_TYPED.format(name=name, typed=typed[0]), messages.NAME_WAIT.format()
    if column.wording == "heading":
        if "{" in value or "}" in value:
            return messages.BRACES_IN_HEADING.format(name=name), messages.WAITS_ELSEWHERE
        if value.endswith("."):
            return messages.HEADING_HAS_STOP.format(name=name), messages.LEAVE_STOP_OUT
        return None
    if ("{" in value or "}" in value) and re.search(r"[{}]", WAIT.sub("", value)):
        return messages.BRACE_ALONE.format(name=name), messages.WAIT_IN_BRACES.format()
    if not _ENDED.search(value):
        return messages.PART_STOP_MISSING.format(name=name), messages.END_WITH_STOP
    return None


def unseen(sign: str) -> Wrong:
    """Return the mistake and cure for an invisible character."""
    return messages.UNSEEN_SIGN.format(code=ord(sign)), messages.TAKE_OUT


def _cannot(name: str, value: str) -> str:
    return messages.PART_CANNOT_BE.format(name=name, typed=short(value))


def is_id(text: str) -> bool:
    """Whether ``text`` may be an id."""
    return _ID.fullmatch(text) is not None


def made_id(text: str) -> str:
    """Return ``text`` as an id: lower case, digits, hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:60].strip("-")


# -- Lists, and what names another row


def wrong_count(count: int, name: str, column: Column) -> Wrong | None:
    """Return what is wrong with the length of a list."""
    if not count and column.fewest:
        return messages.LIST_EMPTY.format(name=name), messages.WRITE_LIST.format(shape=pattern(name, column))
    if count < column.fewest:
        return messages.LIST_TOO_SHORT.format(name=name, count=count, fewest=column.fewest), messages.ADD_ENTRY
    if column.at_most and count > column.at_most:
        return messages.LIST_TOO_LONG.format(name=name, count=count, most=column.at_most), messages.KEEP_THE_BEST
    return None


def twice(value: str, name: str) -> Wrong:
    """Return the mistake and cure for a repeated entry of a list."""
    return messages.ENTRY_TWICE.format(typed=short(value), name=name), messages.KEEP_ONE


def unlisted(id: str, table: str, ids: Collection[str]) -> Wrong | None:
    """Return the mistake and cure for an id that is not among ``ids`` of ``table``."""
    if id in ids:
        return None
    what = messages.NOT_IN_TABLE.format(typed=short(id), file=file_of(table))
    return what, nearest(id, sorted(ids), messages.TAKE_FROM_FILE)


def name_of_another(name: str, id: str) -> Wrong:
    """Return the mistake and cure for a name that the row ``id`` already has."""
    return messages.NAME_OF_ANOTHER.format(name=short(name), id=id), messages.OWN_NAME


def id_taken(id: str) -> Wrong:
    """Return the mistake and cure for an id that another row has."""
    return messages.ID_TAKEN.format(id=id), messages.OWN_ID


def folded(name: str) -> str:
    """Return a name for comparison, ignoring case and blanks."""
    return " ".join(name.casefold().split())


def missing(name: str, column: Column | None) -> Wrong:
    """Return the mistake and cure for a missing part."""
    if column is not None and len(column.one_of) > 1 and column.holds == "text":
        return messages.PART_MISSING.format(name=name), messages.ADD_ONE_OF.format(
            name=name, names=", ".join(column.one_of)
        )
    return messages.PART_MISSING.format(name=name), messages.ADD_PART.format(shape=pattern(name, column))


# -- A whole row, as a form has it


@dataclass(frozen=True)
class Slip:
    """A mistake in a row: the path to it, its description, and the cure."""

    path: tuple[str | int, ...]
    what: str
    fix: str


def in_form(fix: str) -> str:
    """Return a cure in the words of a form instead of files and rows."""
    named = {
        messages.NAME_WAIT.format(): messages.NAME_WAIT_IN_FORM.format(),
        messages.TAKE_FROM_WAITS: messages.NAME_WAIT_IN_FORM.format(),
        messages.SHORTEN: messages.SHORTEN_IN_FORM,
    }
    return named.get(fix, fix)


def slips(declared: type, plain: Mapping[str, Any], ids: Mapping[str, Collection[str]]) -> Iterator[Slip]:
    """Yield what is wrong with a row, part by part, in the words of a form: a part is called by its label.

    ``plain`` holds texts, lists of texts and lists of such mappings, as in a form; ``ids`` are those of the tables that
    the row may refer to. Values and sources are not checked here, but by the file checker.
    """
    parts = columns(declared)
    for name in required(declared):
        if name not in plain:
            yield Slip((name,), messages.PART_MISSING.format(name=parts[name].label), messages.FILL_IN)
    for name, value in plain.items():
        yield from _slips_of_part((name,), value, parts[name], ids)


def _slips_of_part(
    path: tuple[str | int, ...], value: Any, column: Column, ids: Mapping[str, Collection[str]]
) -> Iterator[Slip]:
    name = column.label
    if column.holds in ("texts", "refs", "parts"):
        if wrong := wrong_count(len(value), name, column):
            yield Slip(path, wrong[0], wrong[1] if value else messages.FILL_IN)
        one = replace(column, holds={"texts": "text", "refs": "ref", "parts": "part"}[column.holds])
        for place, each in enumerate(value):
            if isinstance(each, str) and each in value[:place]:
                yield Slip((*path, place), *twice(each, name))
            else:
                yield from _slips_of_part((*path, place), each, one, ids)
    elif column.holds == "part":
        for slip in slips(column.parts, value, ids):
            yield replace(slip, path=(*path, *slip.path))
    elif column.holds == "ref":
        if value not in ids[column.table[0]]:
            yield Slip(path, messages.NOT_AMONG_TITLES.format(typed=short(value)), messages.TAKE_A_TITLE)
    elif column.holds in ("text", "id"):
        if not value.strip():
            yield Slip(path, messages.PART_EMPTY.format(name=name), messages.FILL_IN)
        elif wrong := wrong_text(value, name, column):
            yield Slip(path, wrong[0], in_form(wrong[1]))


# -- How a part is written


def pattern(name: str, column: Column | None) -> str:
    """Return how a part is written, in quotation marks, for "add …" and "write …"."""
    shapes = {
        "text": '"…"',
        "url": '"https://…"',
        "texts": '["…", "…"]',
        "refs": "[…, …]",
        "yes-no": "true",
        "source": COMMON_PRACTICE,
        "document": '{ref: …, at: "…"}',
        "judgements": '[{what: …, verdict: …, why: "…"}]',
        "statements": '[{says: "…", source: {ref: …, at: "…"}, status: read}]',
    }
    if column is None:
        shape = {"source": COMMON_PRACTICE, "at": '"…"', "why": '"…"', "says": '"…"'}.get(name, "…")
    elif column.holds == "fact":
        shape = f"{{value: …, unit: {column.unit}, source: {COMMON_PRACTICE}}}"
    elif column.holds == "parts":
        shape = "[{" + ", ".join(f'{each}: "…"' for each in columns(column.row)) + "}]"
    elif column.one_of:
        shape = column.one_of[0] if column.holds == "text" else f"[{column.one_of[0]}]"
    else:
        shape = shapes.get(column.holds, "…")
    return f"'{name}: {shape}'"


def nearest(got: str, wanted: Iterable[str], otherwise: str = "") -> str:
    """Return the cure for a word that is not among ``wanted``."""
    wanted = list(wanted)
    near = difflib.get_close_matches(got[:100], wanted, n=1)
    if near:
        return messages.DID_YOU_MEAN_ROW.format(meant=short(near[0]))
    return (
        messages.ONE_OF.format(names=", ".join(wanted))
        if (len(wanted) <= 12 and wanted) or not otherwise
        else otherwise
    )


def file_of(table: str) -> str:
    """Return the name of a table's file, or of the folder of its files, in messages."""
    return f"data/{table}/" if table in FOLDERS else f"data/{table}.yaml"


def short(text: str) -> str:
    """Return ``text`` for a message, on one line and shortened."""
    return messages.legible(text if len(text) <= 60 else f"{text[:57]}…")

"""python -m builder new TABLE: asks for the parts of a row on the terminal and writes the row, checked.

Each answer is checked at once; a wrong one is explained with its cure and asked again. Nothing is
written before the whole row is correct, and an unfinished row is printed as far as it got.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import yaml

from builder.check import check
from builder.check_file import LOADER
from builder.check_part import Known
from builder.check_row import RowCheck
from builder.mistakes import Mistake, Mistakes
from calculators.tables import (
    COMMON_PRACTICE,
    FOLDERS,
    KINDS,
    MARKS,
    STATUSES,
    TABLES,
    VERDICTS,
    Column,
    columns,
    required,
)
from calculators.tables.rules import file_of, id_taken, is_id, made_id

Ask = Callable[[str], str]
Say = Callable[[str], None]

_RANGE = re.compile(r"\s*(-?[\d.,]+)\s*(?:to|-|–|…)\s*(-?[\d.,]+)\s*")


def new_row(root: Path, table: str, ask: Ask = input, say: Say = print) -> Path:
    """Ask for a row of ``table`` and add it below ``root``; return the file that was written.

    Raises ``Mistakes`` where there is no such table, where the data is not in order to begin with, or where the
    answers end before the row does.
    """
    if table not in TABLES:
        raise Mistakes([f"There is no table '{table}'. The tables are {', '.join(TABLES)}"])
    found = check(root)
    if found:
        raise Mistakes([*map(str, found), "Put this right first: a new row is checked together with the others"])
    asking = _Asking(root, table, ask, say)
    try:
        return asking.run()
    except (EOFError, KeyboardInterrupt):
        text = asking.text()
        progress = f"\nThis is as far as it got:\n{text}" if text else ""
        raise Mistakes([f"The answers ended before the row was complete; nothing was written{progress}"]) from None


class _Asking:
    def __init__(self, root: Path, table: str, ask: Ask, say: Say) -> None:
        self._root, self._table, self._ask, self._say = root, table, ask, say
        self._declared = TABLES[table]
        self._columns, self._required = columns(self._declared), required(self._declared)
        self._name = "label" if "label" in self._columns else "title" if table in FOLDERS else ""
        self._ids = {name: [each["id"] for each in _plain(root, name) if "now" not in each] for name in TABLES}
        read = {each["id"]: each["read"] for each in _plain(root, "sources")}
        self._known = Known({name: set(ids) for name, ids in self._ids.items()}, read)
        self._sources_listed = False
        #: What was answered, as YAML, by the name of the part.
        self._written: dict[str, str] = {}

    def run(self) -> Path:
        self._say(f"A new row of {file_of(self._table)}. Leave an answer empty to take what stands in [brackets].")
        # The suggested id is made from the name, so ask for the name first.
        for name in sorted(self._columns, key=lambda each: each == "note" or (each == "id" and bool(self._name))):
            if name not in self._written:
                self._part(name)
        while True:
            path, before = self._put()
            mistakes = list(check(self._root))
            if not mistakes:
                self._say(f"{path.relative_to(self._root)} holds the new row '{self._id()}'.")
                return path
            self._take_back(path, before)
            self._again(mistakes, path, before)

    def text(self) -> str:
        """The row as YAML, as far as it was answered."""
        lines = (
            "\n".join(_line(name, self._written[name]) for name in self._parts()).split("\n") if self._written else []
        )
        return "".join(f"{'- ' if place == 0 else '  '}{line}\n" for place, line in enumerate(lines))

    def _parts(self) -> list[str]:
        """The parts that were answered, in the order of the file; an id may be the name of the file."""
        return [
            name for name in self._columns if name in self._written and not (name == "id" and self._table in FOLDERS)
        ]

    # -- Writing

    def _id(self) -> str:
        return self._written["id"].strip('"')

    def _folder(self) -> bool:
        return self._table in FOLDERS or (self._root / "data" / self._table).is_dir()

    def _put(self) -> tuple[Path, str | None]:
        if self._folder():
            path = self._root / "data" / self._table / f"{self._id()}.yaml"
            text, before = self._head() + re.sub("(?m)^(- |  )", "", self.text()), None
        else:
            path = self._root / file_of(self._table)
            before = path.read_text("utf-8")
            rows = re.sub(r"(?m)^\[\]\s*$", "", before).rstrip("\n")
            text = f"{rows}\n\n{self.text()}" if rows else self.text()
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")
        return path, before

    def _head(self) -> str:
        """The line before a row that has a file of its own, by which editors find the schema."""
        return f"# yaml-language-server: $schema=../schemas/{self._table}.json\n" if self._table in FOLDERS else ""

    def _take_back(self, path: Path, before: str | None) -> None:
        if before is None:
            path.unlink()
        else:
            path.write_text(before, "utf-8")

    def _again(self, mistakes: list[Mistake], path: Path, before: str | None) -> None:
        """Ask again for the parts in which the check of the whole row found mistakes."""
        rows = re.sub(r"(?m)^\[\]\s*$", "", before or "").rstrip("\n")
        first = rows.count("\n") + 3 if rows else 1 + self._head().count("\n")
        names = [name for name in self._parts() for _ in self._written[name].split("\n")]
        again: dict[str, None] = {}
        for each in mistakes:
            self._say(f"{each.what}. {each.fix}")
            place = each.line - first
            if not 0 <= place < len(names):
                raise Mistakes([str(each)])
            again[names[place]] = None
        for name in again:
            self._part(name)

    # -- Asking

    def _part(self, name: str) -> None:
        column = self._columns[name]
        optional = name not in self._required
        if name == "status" and "source" in self._columns:
            return  # asked with the source
        self._say("")
        self._say(f"{column.label}{' (optional)' if optional else ''}: {column.help}")
        if column.one_of:
            self._say(f"  One of: {', '.join(column.one_of)}")
        elif column.table:
            for table in column.table:
                self._say(f"  {table}: {', '.join(self._ids[table]) or 'none yet'}")
        while True:
            written = self._answer(name, column, optional)
            if written is None:
                self._written.pop(name, None)
                return
            mistakes = self._wrong(name, written)
            if not mistakes:
                self._written.update(written)
                return
            for each in mistakes:
                self._say(f"  {each.what}. {each.fix}")

    def _wrong(self, name: str, written: dict[str, str]) -> list[Mistake]:
        mistakes: list[Mistake] = []
        node = yaml.compose("\n".join(_line(part, text) for part, text in written.items()), Loader=LOADER)
        RowCheck(file_of(self._table), self._table, self._known, mistakes).one_part(_mapping(node), name)
        if name == "id" and written["id"] in self._ids[self._table]:
            mistakes.append(Mistake("", 1, 1, *id_taken(written["id"])))
        return mistakes

    def _line(self, words: str, default: str = "") -> str:
        return self._ask(f"  {words}{f' [{default}]' if default else ''}: ").strip() or default

    def _answer(self, name: str, column: Column, optional: bool) -> dict[str, str] | None:
        """Return what is written for a part, by name (a source brings its status), or None for nothing."""
        match column.holds:
            case "fact":
                return self._fact(name, column, optional)
            case "source":
                return dict(zip(("source", "status"), self._source(), strict=False))
            case "texts" | "refs":
                return self._many(name, column, optional)
            case "judgements":
                return self._entries(name, optional, self._judgement)
            case "parts":
                return self._listed_parts(name, column, optional)
            case "statements":
                return self._entries(name, optional, self._statement)
        default = made_id(json.loads(self._written.get(self._name, '""'))) if name == "id" else ""
        line = self._line(KINDS[column.holds], default)
        if not line and optional:
            return None
        if column.holds == "yes-no":
            return {name: {"yes": "true", "y": "true", "no": "false", "n": "false"}.get(line.lower(), line or '""')}
        if column.holds == "whole" and line.isdigit():
            return {name: line}
        return {name: (_word if column.holds in ("id", "ref") or column.one_of else _quoted)(line)}

    def _many(self, name: str, column: Column, optional: bool) -> dict[str, str] | None:
        line = self._line("several are parted by ;")
        write = _word if column.one_of or column.table else _quoted
        each = [write(part.strip()) for part in line.split(";") if part.strip()]
        return None if optional and not each else {name: f"[{', '.join(each)}]"}

    def _entries(self, name: str, optional: bool, one: Callable[[], str | None]) -> dict[str, str] | None:
        entries = []
        while (entry := one()) is not None:
            entries.append(entry)
        return None if optional and not entries else {name: f"[{', '.join(entries)}]"}

    def _listed_parts(self, name: str, column: Column, optional: bool) -> dict[str, str] | None:
        """Ask for entries with parts of their own, until the first part of one is left empty."""
        entries: list[str] = []
        declared = columns(column.parts)
        while len(entries) < (column.at_most or 99):
            texts = []
            for place, each in enumerate(declared.values()):
                texts.append(
                    self._line(
                        f"{len(entries) + 1}. {each.label}: {each.help}"
                        + ("" if place else " (empty when all are told)")
                    )
                )
                if not texts[0]:
                    break
            if not texts[0]:
                break
            entries.append(
                "\n  - " + "\n    ".join(f"{part}: {_quoted(text)}" for part, text in zip(declared, texts, strict=True))
            )
        if not entries:
            return None if optional else {name: "[]"}
        return {name: "".join(entries)}

    def _judgement(self) -> str | None:
        what = self._line("on what, as table/id (empty when all are told)")
        if not what:
            return None
        return (
            f"{{what: {_word(what)}, verdict: {_word(self._line(' or '.join(VERDICTS)))}, why: "
            f"{_quoted(self._line('why'))}}}"
        )

    def _statement(self) -> str | None:
        says = self._line("the sentence as read (empty when all are told)")
        return None if not says else f"{{says: {_quoted(says)}, {self._sourced()}}}"

    def _fact(self, name: str, column: Column, optional: bool) -> dict[str, str] | None:
        line = self._line("a number, or low to high" + (f", in {column.unit}" if not column.units else ""))
        if not line and optional:
            return None
        ends = _RANGE.fullmatch(line)
        value = f"low: {_numeral(ends[1])}, high: {_numeral(ends[2])}" if ends else f"value: {_numeral(line)}"
        unit = self._line(f"unit: {', '.join(column.units)}", column.unit) if column.units else column.unit
        note = ""
        sourced = self._sourced()
        if line := self._line("a note on this value (optional)"):
            note = f", note: {_quoted(line)}"
        return {name: f"{{{value}, unit: {_word(unit)}, {sourced}{note}}}"}

    def _sourced(self) -> str:
        source, *status = self._source()
        return f"source: {source}" + "".join(f", status: {each}" for each in status)

    def _source(self) -> tuple[str, ...]:
        if not self._sources_listed:
            self._say("  " + "; ".join(f"{mark}: {means}" for mark, means in MARKS.items()))
            self._say(f"  Documents: {', '.join(self._ids['sources'])}")
            self._sources_listed = True
        source = self._line("source", COMMON_PRACTICE)
        if source in MARKS:
            return (source,)
        if not is_id(source):
            return (_quoted(source),)
        at = _quoted(self._line("where in it: clause, table or page"))
        status = self._line(f"status: {', '.join(f'{each} ({words})' for each, words in STATUSES.items())}", "read")
        return (f"{{ref: {source}, at: {at}}}", _word(status))


def _mapping(node: yaml.Node | None) -> yaml.MappingNode:
    if not isinstance(node, yaml.MappingNode):
        raise TypeError("a part of a row is a mapping")
    return node


def _plain(root: Path, table: str) -> list[dict[str, Any]]:
    folder = root / "data" / table
    if folder.is_dir():
        return [
            {"id": path.stem, **yaml.load(path.read_text("utf-8"), Loader=LOADER)}
            for path in sorted(folder.glob("*.yaml"))
        ]
    if table in FOLDERS and not (root / file_of(table)).exists():
        return []
    rows: list[dict[str, Any]] = yaml.load((root / file_of(table)).read_text("utf-8-sig"), Loader=LOADER)
    return rows


def _line(name: str, written: str) -> str:
    """Return a part of a row as it is written, on one line or as a block below its name."""
    return f"{name}:{written}" if written.startswith("\n") else f"{name}: {written}"


def _word(text: str) -> str:
    """Return a word of a list or an id as YAML: bare, unless YAML would read something else."""
    node = yaml.compose(text, Loader=LOADER) if re.fullmatch(r"[a-zµ°][\w/³-]*(?: [\w-]+)*", text) else None
    bare = node is not None and node.tag.endswith(":str")
    return text if bare else _quoted(text)


def _quoted(text: str) -> str:
    """Return ``text`` as YAML, in double quotes."""
    return json.dumps(text, ensure_ascii=False)


def _numeral(text: str) -> str:
    """Return digits unchanged and anything else in quotes, so that the checker reports it."""
    return text if re.fullmatch(r"-?\d+(?:\.\d+)?", text) else _quoted(text)

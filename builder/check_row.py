"""Compares one row of a table with its declaration: one message for one mistake."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Collection, Iterable, Iterator
from functools import cache
from pathlib import PurePosixPath
from typing import Any

import yaml

from builder.check_fact import FactCheck
from builder.check_part import FACT_KEYS, SOURCE_KEYS, TEXT, Known, Parts
from builder.mistakes import Mistake
from calculators.tables import FOLDERS, TABLES, VERDICTS, Column, columns, required
from calculators.tables.lettering_whole import lettering_fits
from calculators.tables.rules import short
from calculators.tables.whole import RULES as RULES_OF_ENTRIES

FORWARDING = ("id", "now")
#: The rules for whole rows by table; no page needs those of lettering.
RULES = {**RULES_OF_ENTRIES, "rules": (lettering_fits,)}
JUDGEMENT_KEYS = ("what", "verdict", "why")
STATEMENT_KEYS = ("says", "source", "status")


def key_names(declared: type) -> set[str]:
    """Return every name that a part of such a row, or a part of a part, may have."""
    inner = [name for column in columns(declared).values() if column.row for name in columns(column.row)]
    return {*columns(declared), *inner, *FORWARDING, *FACT_KEYS, *JUDGEMENT_KEYS, *STATEMENT_KEYS, *SOURCE_KEYS}


class RowCheck(FactCheck):
    """Checks the rows of one file of ``table``; what is wrong is added to ``mistakes``."""

    def __init__(self, file: str, table: str, known: Known, mistakes: list[Mistake]) -> None:
        super().__init__(file, TABLES[table], known, mistakes)
        self._table = table
        #: Parts that the file name gives already.
        self._named = {"id": PurePosixPath(file).stem} if table in FOLDERS else {}

    def row(self, node: yaml.MappingNode) -> None:
        """Check one row."""
        if self._runs_on(node):
            return
        before = len(self._mistakes)
        self._misplaced.clear()
        parts = self.parts(node, row=True)
        if parts is None:
            return
        if is_forwarding(parts, self._columns):
            self._forwarding(node, parts)
            return
        needed = [name for name in self._required if name not in self._named]
        if "source" in self._columns and "source" in parts:
            needed += self._status_needed(parts)
        self._keys(node, parts, self._columns, needed)
        for name, column in self._columns.items():
            if name in parts:
                self._part(parts[name][1], name, column, parts)
        if "source" in self._columns:
            self._origin(parts, safety=False)
        self._rising(parts)
        if len(self._mistakes) == before:
            self._whole(parts)

    def one_part(self, node: yaml.MappingNode, name: str) -> None:
        """Check the part ``name`` of a row that holds only this part so far, or a source and its status."""
        parts = self.parts(node) or {}
        if name == "source" and "source" in self._columns:
            self._origin(parts, safety=False)
        else:
            self._part(parts[name][1], name, self._columns[name], parts)

    def _runs_on(self, node: yaml.Node) -> bool:
        """Report the first unquoted text that continues on the next line; return whether there is one."""
        for each in _scalars(node):
            if not each.style and each.end_mark.line > each.start_mark.line:
                glued = re.search(r"(?:^|\s)([\w-]+):(?=[\"'\[{\w])", each.value)
                if re.match(r"-[\"'{\w]", each.value):
                    self.report(each, "a blank is missing after the dash", "write '- …'")
                elif glued and glued[1] in self._columns:
                    self.report(
                        each, f"a blank is missing after '{glued[1]}:', in a line below", f"write '{glued[1]}: …'"
                    )
                else:
                    self.report(
                        each,
                        "a text without quotation marks runs on in the next line",
                        "put it in double quotes, on one line",
                    )
                return True
        return False

    # -- Parts

    def _part(self, node: yaml.Node, name: str, column: Column, parts: Parts) -> None:
        match column.holds:
            case "fact":
                self._fact(node, name, column)
            case "texts":
                of_one = _as_text(column)
                for each in self._list(node, name, column):
                    self._scalar(each, name, of_one)
            case "refs":
                for each in self._list(node, name, column):
                    self._reference(each, name, column.table[0])
            case "judgements":
                for each in self._list(node, name, column):
                    self._judgement(each, name, column)
            case "parts":
                for each in self._list(node, name, column):
                    self._entry(each, name, column)
            case "statements":
                for each in self._list(node, name, column):
                    self._statement(each, name)
            case "ref":
                self._reference(node, name, column.table[0])
            case "source":
                pass  # together with its status, by the row
            case _:
                if not (name == "status" and "source" in parts and "source" in self._columns):
                    self._scalar(node, name, column)

    def _entry(self, node: yaml.Node, name: str, column: Column) -> None:
        declared = columns(column.row)
        parts = self._mapping(node, name, ", ".join(f'{each}: "…"' for each in declared))
        if parts is None:
            return
        self._keys(
            node, parts, declared, [each for each in required(column.parts) if (name, each) not in self._misplaced]
        )
        for each, inner in declared.items():
            if each in parts:
                self._scalar(parts[each][1], each, inner)

    def _judgement(self, node: yaml.Node, name: str, column: Column) -> None:
        parts = self._mapping(node, name, 'what: table/id, verdict: safe, why: "…"')
        if parts is None:
            return
        self._keys(node, parts, JUDGEMENT_KEYS, JUDGEMENT_KEYS)
        if "what" in parts and self._scalar(parts["what"][1], "what", TEXT):
            what = parts["what"][1]
            table, slash, id = what.value.partition("/")
            if not slash or table not in column.table:
                self.report(
                    what,
                    f"'what' cannot be '{short(what.value)}'",
                    f"a table and an id in it: {', '.join(f'{each}/…' for each in column.table)}",
                )
            else:
                self._reference(what, "what", table, id)
        if "verdict" in parts:
            self._scalar(parts["verdict"][1], "verdict", dataclasses.replace(TEXT, one_of=VERDICTS))
        if "why" in parts:
            self._scalar(parts["why"][1], "why", TEXT)

    def _statement(self, node: yaml.Node, name: str) -> None:
        parts = self._mapping(node, name, 'says: "…", source: {ref: …, at: "…"}, status: read')
        if parts is None:
            return
        self._keys(node, parts, STATEMENT_KEYS, ("says", "source", *self._status_needed(parts)))
        if "says" in parts:
            self._scalar(parts["says"][1], "says", TEXT)
        self._origin(parts, safety=True)

    def _whole(self, parts: Parts) -> None:
        """Check how the parts fit together, once each part is correct by itself."""
        ids = self._known.ids
        if self._table not in RULES or any(
            table not in ids for column in self._columns.values() for table in column.table
        ):
            return
        plain = {name: _plain(node) for name, (_, node) in parts.items()}
        for rule in RULES[self._table]:
            for slip in rule({**plain, **self._named}, ids):
                self.report(_at(parts[str(slip.path[0])][1], slip.path[1:]), slip.what, slip.fix)

    # -- Renamed rows

    def _forwarding(self, node: yaml.Node, parts: Parts) -> None:
        self._keys(node, parts, FORWARDING, [name for name in FORWARDING if name not in self._named])
        for name in FORWARDING:
            if name in parts:
                self._scalar(parts[name][1], name, Column(label="", holds="id", help=""))


def is_forwarding(parts: Parts, declared: Collection[str]) -> bool:
    """Whether a row only says which id another row has now; also with 'now' misspelt."""
    others = [name for name in parts if name != "id"]
    if sum(name in declared for name in others) > 2:
        return False  # a part of a cause is called 'now' too, and may have slipped out of its place
    return "now" in parts or ("id" in parts and len(others) == 1 and others[0] not in declared)


@cache
def _as_text(column: Column) -> Column:
    return dataclasses.replace(column, holds="text")


def _plain(node: yaml.Node) -> Any:
    """Return what is written in a node, every value as a text."""
    if isinstance(node, yaml.ScalarNode):
        return node.value
    if isinstance(node, yaml.SequenceNode):
        return [_plain(each) for each in node.value]
    return {_plain(key): _plain(value) for key, value in node.value if isinstance(key, yaml.ScalarNode)}


def _at(node: yaml.Node, path: Iterable[str | int]) -> yaml.Node:
    """Return the node to which a path of names and places leads."""
    for step in path:
        node = (
            node.value[step] if isinstance(step, int) else next(value for key, value in node.value if key.value == step)
        )
    return node


def _scalars(node: yaml.Node) -> Iterator[yaml.ScalarNode]:
    waiting = [node]
    while waiting:
        each = waiting.pop()
        if isinstance(each, yaml.ScalarNode):
            yield each
        elif isinstance(each, yaml.SequenceNode):
            waiting += reversed(each.value)
        else:
            waiting += [part for pair in reversed(each.value) for part in reversed(pair)]

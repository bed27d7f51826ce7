"""The checker of the data tables: every mistake at once, each with its place and its cure.

The tables are read as YAML nodes, so that line and column survive, and held against the rows that
``calculators.tables`` declares. One mistake gives one message.
"""

from __future__ import annotations

import dataclasses
import difflib
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import yaml

from calculators import numbers
from calculators.tables import COMMON_PRACTICE, STATUSES, TABLES, Column, columns

#: A table is a few hundred rows of text; what is larger is no table.
MOST_BYTES = 2 * 1024 * 1024

_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_MARKUP = re.compile(r"<[a-zA-Z/!]|&#?\w+;|\{\{|\{%")
_FACT_KEYS = ("value", "low", "high", "unit", "source", "status", "note")


@dataclass(frozen=True, order=True)
class Mistake:
    """What a contributor can put right: where, what, and the corrected text or what to do."""

    file: str
    line: int
    column: int
    what: str
    fix: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.what}\nFix: {self.fix}"

    def annotation(self) -> str:
        """Return the mistake as a line that a code host shows beside the changed line."""
        told = f"{self.what}. Fix: {self.fix}".replace("%", "%25").replace("\n", "%0A")
        return f"::error file={self.file},line={self.line},col={self.column}::{told}"


def check(root: Path) -> list[Mistake]:
    """Return every mistake in the tables below ``root``/data, by file and line."""
    read = {table: _Table(root, table) for table in TABLES}
    sources = {row.id for row in read["sources"].rows()}
    for table in read.values():
        table.check(sources)
    known = {f"{table}.yaml" for table in TABLES}
    strays = (
        Mistake(f"data/{path.name}", 1, 1, "this file is no table", f"name it one of {', '.join(sorted(known))}")
        for path in (root / "data").glob("*.y*ml") if path.name not in known
    )  # fmt: skip
    return sorted([*strays, *(mistake for table in read.values() for mistake in table.mistakes)])


@dataclass(frozen=True)
class _RowNode:
    id: str
    node: yaml.Node
    parts: Mapping[str, tuple[yaml.Node, yaml.Node]]


class _Table:
    """One file on its way through the checks."""

    def __init__(self, root: Path, name: str) -> None:
        self.name, self.file, self.mistakes = name, f"data/{name}.yaml", []
        self._rows = list(self._read(root / self.file))

    def rows(self) -> list[_RowNode]:
        return self._rows

    def told(self, node: yaml.Node | None, what: str, fix: str) -> None:
        line, column = (node.start_mark.line + 1, node.start_mark.column + 1) if node else (1, 1)
        self.mistakes.append(Mistake(self.file, line, column, what, fix))

    def check(self, sources: set[str]) -> None:
        seen: dict[str, int] = {}
        for row in self._rows:
            if row.id in seen:
                self.told(row.parts["id"][1], f"id '{row.id}' stands on line {seen[row.id]} already", "give this row an id of its own")
            elif row.id:
                seen[row.id] = row.parts["id"][1].start_mark.line + 1
            self._row(row, columns(TABLES[self.name]), sources)

    # -- Reading

    def _read(self, path: Path) -> Iterator[_RowNode]:
        top = self._composed(path)
        if top is None:
            return
        if not isinstance(top, yaml.SequenceNode):
            self.told(top, "the file is no list of rows", "begin each row with '- id: …'")
            return
        for node in top.value:
            if isinstance(node, yaml.MappingNode):
                parts = self._parts(node)
                id_node = parts.get("id", (None, None))[1]
                yield _RowNode(id_node.value if isinstance(id_node, yaml.ScalarNode) else "", node, parts)
            else:
                self.told(node, "this is no row", "begin each row with '- id: …'")

    def _composed(self, path: Path) -> yaml.Node | None:
        try:
            if path.stat().st_size > MOST_BYTES:
                self.told(None, "the file is larger than 2 MiB", "split it, or take out what is no table")
                return None
            text = path.read_text("utf-8")
        except FileNotFoundError:
            self.told(None, "the file is missing", "put it back, or add it with its first row")
            return None
        except UnicodeDecodeError as error:
            before = path.read_bytes()[: error.start]
            column = len(before) - before.rfind(b"\n")
            self.mistakes.append(Mistake(self.file, before.count(b"\n") + 1, column, "this character is not UTF-8", "save the file as UTF-8"))
            return None
        trouble = next(self._refused_yaml(text), None)
        if trouble:
            self.mistakes.append(trouble)
            return None
        try:
            return yaml.compose(text, Loader=_Loader)
        except yaml.YAMLError as error:
            mark = getattr(error, "problem_mark", None)
            line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
            what = getattr(error, "problem", None) or "this is not YAML"
            self.mistakes.append(Mistake(self.file, line, column, f"YAML cannot be read here: {what}", "compare the line with the example in data/README.md"))
            return None

    def _refused_yaml(self, text: str) -> Iterator[Mistake]:
        for place, line in enumerate(text.splitlines(), 1):
            blank = line[: len(line) - len(line.lstrip())]
            if "\t" in blank:
                column = line.index("\t") + 1
                yield Mistake(self.file, place, column, "a tab stands in the indent", "use two spaces for each step")
        try:
            for token in yaml.scan(text, Loader=_Loader):
                if isinstance(token, (yaml.AnchorToken, yaml.AliasToken, yaml.TagToken)):
                    mark = token.start_mark
                    yield Mistake(self.file, mark.line + 1, mark.column + 1, "anchors, aliases and tags are not used here",
                                  "write the value out, in double quotes if it begins with & or *")  # fmt: skip
        except yaml.YAMLError:
            return  # told by compose, with its place

    def _parts(self, node: yaml.MappingNode) -> dict[str, tuple[yaml.Node, yaml.Node]]:
        parts: dict[str, tuple[yaml.Node, yaml.Node]] = {}
        for key, value in node.value:
            name = key.value if isinstance(key, yaml.ScalarNode) else ""
            if name in parts:
                self.told(key, f"'{name}' stands twice here", "keep one of the two")
            parts.setdefault(name, (key, value))
        return parts

    # -- Checking

    def _row(self, row: _RowNode, declared: Mapping[str, Column], sources: set[str]) -> None:
        required = {each.name for each in dataclasses.fields(TABLES[self.name]) if each.default is dataclasses.MISSING}
        self._keys(row.node, row.parts, declared, required)
        for name, column in declared.items():
            if name not in row.parts:
                continue
            node = row.parts[name][1]
            if column.holds == "fact":
                self._fact(node, name, column, sources)
            elif column.holds == "texts":
                self._texts(node, name, column)
            else:
                self._scalar(node, name, column)

    def _keys(self, node: yaml.Node, parts: Iterable[str], declared: Iterable[str], required: Iterable[str]) -> None:
        declared, unknown = list(declared), [name for name in parts if name not in declared]
        missing = [name for name in required if name not in parts]
        for name in unknown:
            key = parts[name][0]
            near = difflib.get_close_matches(name, [each for each in declared if each not in parts], n=1)
            if near:
                missing = [each for each in missing if each != near[0]]
                self.told(key, f"'{name}' is no part of a row here", f"did you mean '{near[0]}:'?")
            else:
                self.told(key, f"'{name}' is no part of a row here", f"take it out; the parts are {', '.join(declared)}")
        for name in declared:
            if name in missing:
                self.told(node, f"'{name}' is missing", f"add '{name}: …'")

    def _scalar(self, node: yaml.Node, name: str, column: Column) -> None:
        if not isinstance(node, yaml.ScalarNode):
            self.told(node, f"'{name}' must be one value", f"write '{name}: …' on one line")
            return
        tests: dict[str, Callable[[], bool]] = {
            "id": lambda: bool(_ID.fullmatch(node.value)),
            "yes-no": lambda: node.tag.endswith(":bool"),
            "whole": lambda: node.tag.endswith(":int") and column.low <= int(node.value) <= column.high,
            "url": lambda: bool(re.fullmatch(r"https://[^\s<>\"]+", node.value)),
            "text": lambda: bool(node.value.strip()) and not node.tag.endswith((":null", ":bool")),
        }
        if not tests[column.holds]():
            self.told(node, f"'{name}' cannot be '{node.value}'", _wanted(column, node.value))
        elif column.one_of and node.value not in column.one_of:
            self.told(node, f"'{name}' cannot be '{node.value}'", _one_of(node.value, column.one_of))
        elif column.holds == "text" and _MARKUP.search(node.value):
            self.told(node, f"'{name}' holds markup", "write plain words; < and & only with blanks around them")

    def _texts(self, node: yaml.Node, name: str, column: Column) -> None:
        if not isinstance(node, yaml.SequenceNode):
            self.told(node, f"'{name}' must be a list", f"write '{name}: [\"…\", \"…\"]', or [] for none")
            return
        for each in node.value:
            self._scalar(each, name, dataclasses.replace(column, holds="text"))

    def _fact(self, node: yaml.Node, name: str, column: Column, sources: set[str]) -> None:
        if not isinstance(node, yaml.MappingNode):
            fix = f"write '{name}: {{value: {getattr(node, 'value', '…')}, unit: {column.unit}, source: common-practice}}'"
            self.told(node, f"'{name}' must be a value with its unit and source", fix)
            return
        parts = self._parts(node)
        practice = "source" in parts and parts["source"][1].value == COMMON_PRACTICE
        ranged = "low" in parts or "high" in parts
        required = [*(("low", "high") if ranged else ("value",)), "unit", "source", *(() if practice else ("status",))]
        if ranged and "value" in parts:
            self.told(parts["value"][0], "'value' stands beside a range", "keep 'value' alone, or 'low' and 'high'")
        if practice and "status" in parts:
            self.told(parts["status"][0], "common practice has no status", "take 'status' out")
        self._keys(node, parts, _FACT_KEYS, required)
        self._numbers(parts, name, column)
        if "unit" in parts and parts["unit"][1].value != column.unit:
            self.told(parts["unit"][1], f"the unit of '{name}' is '{column.unit}'", f"convert the value and write 'unit: {column.unit}'")
        if "status" in parts and not practice and parts["status"][1].value not in STATUSES:
            self.told(parts["status"][1], f"'status' cannot be '{parts['status'][1].value}'", _one_of(parts["status"][1].value, STATUSES))
        if "note" in parts:
            self._scalar(parts["note"][1], "note", Column(label="Note", holds="text"))
        if "source" in parts and not practice:
            self._source(parts["source"][1], sources)

    def _numbers(self, parts: Mapping[str, tuple[yaml.Node, yaml.Node]], name: str, column: Column) -> None:
        values = {}
        for key in ("value", "low", "high"):
            if key not in parts:
                continue
            node = parts[key][1]
            if not (isinstance(node, yaml.ScalarNode) and node.tag.endswith((":int", ":float"))):
                self.told(node, f"'{key}' must be a number", "digits with a point, and no unit: '0.15'")
                continue
            values[key] = float(node.value)
            if not column.low <= values[key] <= column.high:
                low, high = numbers.plain(column.low), numbers.plain(column.high)
                self.told(node, f"{node.value} is no likely '{name}'", f"values from {low} to {high} {column.unit} are taken; look at unit and point")
        if len(values) == 2 and values["low"] > values["high"]:
            self.told(parts["low"][1], "'low' is above 'high'", f"write 'low: {parts['high'][1].value}, high: {parts['low'][1].value}'")

    def _source(self, node: yaml.Node, sources: set[str]) -> None:
        if not isinstance(node, yaml.MappingNode):
            near = difflib.get_close_matches(node.value if isinstance(node, yaml.ScalarNode) else "", [COMMON_PRACTICE], n=1)
            fix = f"did you mean '{COMMON_PRACTICE}'?" if near else "write 'source: {ref: …, at: \"…\"}'"
            self.told(node, "this is no source", fix)
            return
        parts = self._parts(node)
        self._keys(node, parts, ("ref", "at"), ("ref", "at"))
        if "ref" in parts and parts["ref"][1].value not in sources:
            ref = parts["ref"][1]
            self.told(ref, f"source '{ref.value}' is not in data/sources.yaml", _one_of(str(ref.value), sorted(sources)))
        if "at" in parts:
            self._scalar(parts["at"][1], "at", Column(label="Place", holds="text"))


def _one_of(got: str, wanted: Iterable[str]) -> str:
    wanted = list(wanted)
    near = difflib.get_close_matches(got, wanted, n=1)
    if near:
        return f"did you mean '{near[0]}'?"
    return f"one of {', '.join(wanted)}" if len(wanted) <= 12 else "take an id from that file, or add the source there"


def _wanted(column: Column, got: str) -> str:
    if column.holds == "id":
        made = re.sub(r"[^a-z0-9]+", "-", got.lower()).strip("-")
        return f"lower case, digits and hyphens: '{made or '…'}'"
    return {
        "yes-no": "write true or false",
        "whole": f"a whole number from {numbers.plain(column.low)} to {numbers.plain(column.high)}",
        "url": "an address that begins with https://",
        "text": "write words, in double quotes",
    }[column.holds]


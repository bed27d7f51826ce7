"""One row of a table held against its declaration: one message for one mistake."""

from __future__ import annotations

import dataclasses
import difflib
import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

import yaml

from builder.check_value import file_of, nearest, number, pattern, short, wrong_value
from builder.mistakes import Mistake
from calculators import numbers
from calculators.tables import COMMON_PRACTICE, STATUSES, VERDICTS, Column, columns, required

Parts = Mapping[str, tuple[yaml.Node, yaml.Node]]

FORWARDING = ("id", "now")
FACT_KEYS = ("value", "low", "high", "unit", "source", "status", "note")
JUDGEMENT_KEYS = ("what", "verdict", "why")
STATEMENT_KEYS = ("says", "source", "status")
SOURCE_KEYS = ("ref", "at")

_NUMBER = re.compile(r"[-−+]?\d+(?:\.\d+)?")
_TEXT = Column(label="", holds="text", help="")
#: What a source may vouch for, by how much of it was read.
_KNOWN_BY = {"memory": ("computed", "memory"), "package": ("package", "computed")}


@dataclass(frozen=True)
class Known:
    """What rows may refer to: the ids of every table that could be read, and what of each source was read."""

    ids: Mapping[str, Collection[str]]
    read: Mapping[str, str]


def key_names(declared: type) -> set[str]:
    """Return every name that a part of such a row, or a part of a part, may have."""
    return {*columns(declared), *FORWARDING, *FACT_KEYS, *JUDGEMENT_KEYS, *STATEMENT_KEYS, *SOURCE_KEYS}


class RowCheck:
    """Checks the rows of one file; what is wrong is added to ``mistakes``."""

    def __init__(self, file: str, declared: type, known: Known, mistakes: list[Mistake]) -> None:
        self._file, self._declared, self._known, self._mistakes = file, declared, known, mistakes
        self._columns, self._required = columns(declared), required(declared)
        #: Parts of a value that stand beside it, already told: (name of the value, name of its part).
        self._misplaced: set[tuple[str, str]] = set()

    def told(self, node: yaml.Node, what: str, fix: str) -> None:
        mark = node.start_mark
        self._mistakes.append(Mistake(self._file, mark.line + 1, mark.column + 1, what, fix))

    def row(self, node: yaml.MappingNode) -> None:
        """Check one row."""
        if self._runs_on(node):
            return
        self._misplaced.clear()
        parts = self.parts(node, row=True)
        if parts is None:
            return
        if is_forwarding(parts, self._columns):
            self._forwarding(node, parts)
            return
        needed = list(self._required)
        if "source" in self._columns and "source" in parts:
            needed += self._status_needed(parts)
        self._keys(node, parts, self._columns, needed)
        for name, column in self._columns.items():
            if name in parts:
                self._part(parts[name][1], name, column, parts)
        if "source" in self._columns:
            self._origin(parts, safety=False)
        self._rising(parts)

    def one_part(self, node: yaml.MappingNode, name: str) -> None:
        """Check the part ``name`` of a row that holds nothing else yet, but for a status beside a source."""
        parts = self.parts(node) or {}
        if name == "source" and "source" in self._columns:
            self._origin(parts, safety=False)
        else:
            self._part(parts[name][1], name, self._columns[name], parts)

    # -- Keys

    def parts(self, node: yaml.MappingNode, *, row: bool = False) -> Parts | None:
        """Return the parts of a mapping by name, the first of each; None where a row turns out to be two."""
        parts: dict[str, tuple[yaml.Node, yaml.Node]] = {}
        for key, value in node.value:
            name = key.value if isinstance(key, yaml.ScalarNode) else ""
            if row and name == "id" and name in parts and key.start_mark.line > parts[name][0].start_mark.line:
                self.told(key, "a row begins here without its dash", f"write '- id: {getattr(value, 'value', '…')}' at the start of the line")
                return None
            if name in parts:
                self.told(key, f"'{name}' stands twice here", "keep one of the two")
            parts.setdefault(name, (key, value))
        return parts

    def _keys(self, node: yaml.Node, parts: Parts, declared: Mapping[str, Column] | Sequence[str], needed: Iterable[str]) -> None:
        missing = [name for name in needed if name not in parts]
        unknown = [name for name in parts if name not in declared]
        for name in unknown:
            key, value = parts[name]
            missing = self._unknown(name, key, value, parts, declared, missing)
        order = list(declared)
        for name in sorted(missing, key=lambda each: order.index(each) if each in order else len(order)):
            self.told(node, f"'{name}' is missing", f"add {pattern(name, declared[name] if isinstance(declared, Mapping) else None)}")

    def _unknown(
        self, name: str, key: yaml.Node, value: yaml.Node, parts: Parts, declared: Mapping[str, Column] | Sequence[str], missing: list[str]
    ) -> list[str]:
        """Tell of a part with a name that is not declared; return what is still missing."""
        glued = re.match(r"([\w-]+):(?=\S)", name)
        if glued and glued[1] in declared:
            self.told(key, f"a blank is missing after '{glued[1]}:'", f"write '{glued[1]}: {name[glued.end() :]}'")
            return [each for each in missing if each != glued[1]]
        if name.isdigit() and getattr(value, "value", None) == "":
            before = next((part for part, (_, each) in parts.items() if each.end_mark.index == key.start_mark.index - 1), "")
            whole = f"{before}: {parts[before][1].value}.{name}" if before else "0.15"
            self.told(key, "a comma stands where the decimal point belongs", f"write '{whole}'")
            return missing
        if name == "<<":
            self.told(key, "merge keys are not used here", "write the parts out")
            return missing
        free = [each for each in declared if each not in parts]
        near = difflib.get_close_matches(name, free, n=1)
        if not near and len(missing) == 1 and len([each for each in parts if each not in declared]) == 1:
            near = missing
        if near:
            self.told(key, f"'{name}' is no part of a row here", f"did you mean '{near[0]}:'?")
            return [each for each in missing if each != near[0]]
        if declared is self._columns and name in FACT_KEYS:
            above = self._fact_above(key, parts)
            if above:
                self.told(key, f"'{name}' belongs to '{above}'", "indent it by two blanks more")
                self._misplaced.add((above, name))
                return missing
        if declared is not self._columns and name in self._columns:
            self.told(key, f"'{name}' is a part of the row", "indent it as the other parts of the row")
            return missing
        self.told(key, f"'{name}' is no part of a row here", f"take it out; the parts are {', '.join(declared)}")
        return missing

    def _fact_above(self, key: yaml.Node, parts: Parts) -> str:
        above = [name for name, (each, _) in parts.items() if each.start_mark.line < key.start_mark.line and name in self._columns]
        return above[-1] if above and self._columns[above[-1]].holds == "fact" else ""

    def _runs_on(self, node: yaml.Node) -> bool:
        """Tell of the first text without quotation marks that runs over a line's end, and whether there is one."""
        for each in _scalars(node):
            if not each.style and each.end_mark.line > each.start_mark.line:
                glued = re.search(r"(?:^|\s)([\w-]+):(?=[\"'\[{\w])", each.value)
                if re.match(r"-[\"'{\w]", each.value):
                    self.told(each, "a blank is missing after the dash", "write '- …'")
                elif glued and glued[1] in self._columns:
                    self.told(each, f"a blank is missing after '{glued[1]}:', in a line below", f"write '{glued[1]}: …'")
                else:
                    self.told(each, "a text without quotation marks runs on in the next line", "put it in double quotes, on one line")
                return True
        return False

    # -- Parts

    def _part(self, node: yaml.Node, name: str, column: Column, parts: Parts) -> None:
        match column.holds:
            case "fact":
                self._fact(node, name, column)
            case "texts":
                for each in self._list(node, name, column):
                    self._scalar(each, name, dataclasses.replace(column, holds="text"))
            case "refs":
                for each in self._list(node, name, column):
                    self._reference(each, name, column.table[0])
            case "judgements":
                for each in self._list(node, name, column):
                    self._judgement(each, name, column)
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

    def _scalar(self, node: yaml.Node, name: str, column: Column) -> bool:
        """Check one value that is no fact, and return whether it is in order."""
        wrong = wrong_value(node, name, column)
        if wrong:
            self.told(node, *wrong)
        return not wrong

    def _list(self, node: yaml.Node, name: str, column: Column) -> list[yaml.Node]:
        if not isinstance(node, yaml.SequenceNode):
            self.told(node, f"'{name}' must be a list", f"write {pattern(name, column)}{'' if column.fewest else ', or [] for none'}")
            return []
        if len(node.value) < column.fewest:
            self.told(node, f"'{name}' holds nothing", f"write {pattern(name, column)}")
        seen: set[str] = set()
        for each in node.value:
            if isinstance(each, yaml.ScalarNode) and each.value in seen:
                self.told(each, f"'{short(each.value)}' stands twice in '{name}'", "keep one of the two")
            elif isinstance(each, yaml.ScalarNode):
                seen.add(each.value)
        return node.value

    def _reference(self, node: yaml.Node, name: str, table: str, written: str | None = None) -> None:
        if written is None and not self._scalar(node, name, _TEXT):
            return
        id = node.value if written is None else written
        ids = self._known.ids.get(table)
        if ids is not None and id not in ids:
            self.told(node, f"'{short(id)}' is not in {file_of(table)}", nearest(id, sorted(ids), "take an id from that file, or add the row there first"))

    def _mapping(self, node: yaml.Node, name: str, shape: str) -> Parts | None:
        if isinstance(node, yaml.MappingNode):
            return self.parts(node)
        self.told(node, f"an entry of '{name}' has {len(shape.split(', '))} parts", f"write {{{shape}}}")
        return None

    def _judgement(self, node: yaml.Node, name: str, column: Column) -> None:
        parts = self._mapping(node, name, 'what: table/id, verdict: safe, why: "…"')
        if parts is None:
            return
        self._keys(node, parts, JUDGEMENT_KEYS, JUDGEMENT_KEYS)
        if "what" in parts and self._scalar(parts["what"][1], "what", _TEXT):
            what = parts["what"][1]
            table, slash, id = what.value.partition("/")
            if not slash or table not in column.table:
                self.told(what, f"'what' cannot be '{short(what.value)}'", f"a table and an id in it: {', '.join(f'{each}/…' for each in column.table)}")
            else:
                self._reference(what, "what", table, id)
        if "verdict" in parts:
            self._scalar(parts["verdict"][1], "verdict", dataclasses.replace(_TEXT, one_of=VERDICTS))
        if "why" in parts:
            self._scalar(parts["why"][1], "why", _TEXT)

    def _statement(self, node: yaml.Node, name: str) -> None:
        parts = self._mapping(node, name, 'says: "…", source: {ref: …, at: "…"}, status: read')
        if parts is None:
            return
        self._keys(node, parts, STATEMENT_KEYS, ("says", "source", *self._status_needed(parts)))
        if "says" in parts:
            self._scalar(parts["says"][1], "says", _TEXT)
        self._origin(parts, safety=True)

    # -- Facts

    def _fact(self, node: yaml.Node, name: str, column: Column) -> None:
        if not isinstance(node, yaml.MappingNode):
            number = _NUMBER.search(getattr(node, "value", "") or "")
            fix = f"write '{name}: {{value: {number[0] if number else '…'}, unit: {column.unit}, source: {COMMON_PRACTICE}}}'"
            self.told(node, f"'{name}' must be a value with its unit and source", fix)
            return
        parts = self.parts(node) or {}
        ranged = "low" in parts or "high" in parts
        if ranged and "value" in parts:
            self.told(parts["value"][0], "'value' stands beside a range", "keep 'value' alone, or 'low' and 'high'")
        value = ("low", "high") if ranged and "value" not in parts else () if ranged else ("value",)
        needed = [*value, "unit", "source", *self._status_needed(parts)]
        self._keys(node, parts, FACT_KEYS, [each for each in needed if (name, each) not in self._misplaced])
        unit = self._unit(parts, name, column)
        self._numbers(parts, name, column, unit)
        if "note" in parts:
            self._scalar(parts["note"][1], "note", _TEXT)
        self._origin(parts, safety=column.safety)

    def _unit(self, parts: Parts, name: str, column: Column) -> str:
        """Return the unit, or nothing where there is none or the wrong one."""
        if "unit" not in parts:
            return ""
        node = parts["unit"][1]
        written = node.value if isinstance(node, yaml.ScalarNode) else ""
        units = column.units or (column.unit,)
        if written in units:
            return written
        what = f"the unit of '{name}' is '{units[0]}'" if len(units) == 1 else f"'{written}' is no unit of '{name}'"
        # No nearest one is offered of several: minutes are not months.
        wanted = f"convert the value and write 'unit: {units[0]}'" if len(units) == 1 else f"one of {', '.join(units)}"
        self.told(node, what, wanted)
        return ""

    def _numbers(self, parts: Parts, name: str, column: Column, unit: str) -> None:
        values = {}
        for key in ("value", "low", "high"):
            if key not in parts:
                continue
            node = parts[key][1]
            value = number(node, key)
            if isinstance(value, str):
                self.told(node, f"'{key}' must be a number", value)
                continue
            if any(each.isdigit() and not getattr(parts[each][1], "value", "") for each in parts):
                continue  # a comma cut the number in two
            if unit and not column.low <= column.in_base(value, unit) <= column.high:
                low, high = numbers.plain(column.low), numbers.plain(column.high)
                if column.units:
                    low, high = "1 s", "10 years"
                self.told(node, f"{node.value} is no likely '{name}'", f"values from {low} to {high}{'' if column.units else ' ' + column.unit} are taken; look at unit and point")
                continue
            values[key] = value
        if "low" in values and "high" in values and values["low"] > values["high"]:
            self.told(parts["low"][1], "'low' is above 'high'", f"write 'low: {parts['high'][1].value}, high: {parts['low'][1].value}'")

    def _rising(self, parts: Parts) -> None:
        before, name_before = None, ""
        for name in getattr(self._declared, "RISING", ()):
            ends = self._ends(parts, name)
            if ends is None:
                continue
            if before is not None and (ends[0] < before[0] or ends[1] < before[1]):
                self.told(parts[name][1], f"'{name}' is below '{name_before}'", "look at values and units of both")
            before, name_before = ends, name

    def _ends(self, parts: Parts, name: str) -> tuple[float, float] | None:
        node = parts[name][1] if name in parts else None
        if not isinstance(node, yaml.MappingNode):
            return None
        plain = {key.value: value.value for key, value in node.value if isinstance(value, yaml.ScalarNode)}
        try:
            ends = [float(plain.get(end, plain.get("value", ""))) for end in ("low", "high")]
            low, high = (self._columns[name].in_base(end, plain["unit"]) for end in ends)
        except (ValueError, KeyError):
            return None
        column = self._columns[name]
        return (low, high) if column.low <= low <= high <= column.high else None

    # -- Sources

    def _status_needed(self, parts: Parts) -> tuple[str, ...]:
        """What names a document says how it is known."""
        node = parts["source"][1] if "source" in parts else None
        named = isinstance(node, yaml.MappingNode) and any(key.value in SOURCE_KEYS for key, _ in node.value)
        return ("status",) if named else ()

    def _origin(self, parts: Parts, *, safety: bool) -> None:
        """Check source and status, which belong together."""
        source = parts["source"][1] if "source" in parts else None
        status = parts["status"][1] if "status" in parts else None
        practice = isinstance(source, yaml.ScalarNode) and source.value == COMMON_PRACTICE
        if practice and safety:
            self.told(source, "a safety figure cannot be common practice", "name the document that was read, or take the value out")
        elif practice and status is not None:
            self.told(parts["status"][0], "common practice has no status", "take 'status' out")
        elif source is not None and not practice:
            self._source(source)
        if status is None or practice:
            return
        if not self._scalar(status, "status", dataclasses.replace(_TEXT, one_of=tuple(STATUSES))):
            return
        if safety and status.value == "memory":
            self.told(status, "a safety figure from memory is not shipped", "name the document that was read, or take the value out")
        elif isinstance(source, yaml.MappingNode):
            ref = next((value.value for key, value in source.value if key.value == "ref"), "")
            read = self._known.read.get(ref, "") if isinstance(ref, str) else ""
            if read in _KNOWN_BY and status.value not in _KNOWN_BY[read]:
                self.told(status, f"'{ref}' is known by {read} only", f"one of {', '.join(_KNOWN_BY[read])}, or correct 'read' in data/sources.yaml")

    def _source(self, node: yaml.Node) -> None:
        if not isinstance(node, yaml.MappingNode) or not any(key.value in SOURCE_KEYS for key, _ in node.value):
            near = difflib.get_close_matches(node.value if isinstance(node, yaml.ScalarNode) else "", [COMMON_PRACTICE], n=1)
            fix = f"did you mean '{COMMON_PRACTICE}'?" if near else f"write 'source: {COMMON_PRACTICE}', or 'source: {{ref: …, at: \"…\"}}'"
            self.told(node, "this is no source", fix)
            return
        parts = self.parts(node) or {}
        self._keys(node, parts, SOURCE_KEYS, SOURCE_KEYS)
        ids = self._known.ids.get("sources")
        if "ref" in parts and self._scalar(parts["ref"][1], "ref", _TEXT) and ids is not None:
            ref = parts["ref"][1]
            if ref.value not in ids:
                fix = nearest(ref.value, sorted(ids), "take an id from that file, or add the source there")
                self.told(ref, f"source '{short(ref.value)}' is not in data/sources.yaml", fix)
        if "at" in parts:
            self._scalar(parts["at"][1], "at", _TEXT)

    # -- Renamed rows

    def _forwarding(self, node: yaml.Node, parts: Parts) -> None:
        self._keys(node, parts, FORWARDING, FORWARDING)
        for name in FORWARDING:
            if name in parts:
                self._scalar(parts[name][1], name, Column(label="", holds="id", help=""))


def is_forwarding(parts: Parts, declared: Collection[str]) -> bool:
    """Whether a row only says which id another row has now; also with 'now' misspelt."""
    others = [name for name in parts if name != "id"]
    return "now" in parts or ("id" in parts and len(others) == 1 and others[0] not in declared)


def _scalars(node: yaml.Node) -> Iterable[yaml.ScalarNode]:
    if isinstance(node, yaml.ScalarNode):
        yield node
    elif isinstance(node, yaml.SequenceNode):
        for each in node.value:
            yield from _scalars(each)
    else:
        for key, value in node.value:
            yield from _scalars(key)
            yield from _scalars(value)

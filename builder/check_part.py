"""What the checks of a row share: its keys, its texts and lists, and what names another row."""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import yaml

from builder.check_syntax import messages_of_indent
from builder.check_value import wrong_value
from builder.mistakes import Mistake
from calculators import messages
from calculators.tables import Column, columns, required
from calculators.tables.rules import folded, nearest, pattern, twice, unlisted, wrong_count
from calculators.tables.rules import missing as missing_part

Parts = Mapping[str, tuple[yaml.Node, yaml.Node]]

FACT_KEYS = ("value", "low", "high", "unit", "source", "status", "note")
SOURCE_KEYS = ("ref", "at")

TEXT = Column(label="", holds="text", help="")


@dataclass(frozen=True)
class Known:
    """What rows may refer to: the ids of every table that could be read, what of each
    source was read, and ids by names of rows.
    """

    ids: Mapping[str, Collection[str]]
    read: Mapping[str, str]
    named: Mapping[str, Mapping[str, str]] = field(default_factory=dict)

    def nearest(self, written: str, table: str, otherwise: str) -> str:
        """Return the cure for an unknown id of ``table``: the id of the row with that name, or a similar id."""
        names = self.named.get(table, {})
        called = difflib.get_close_matches(folded(written)[:200], names, n=1, cutoff=0.85)
        return nearest(names[called[0]] if called else written, sorted(self.ids[table]), otherwise)


class PartCheck:
    """Checks the rows of one file; what is wrong is added to ``mistakes``."""

    def __init__(self, file: str, declared: type, known: Known, mistakes: list[Mistake]) -> None:
        self._file, self._declared, self._known, self._mistakes = file, declared, known, mistakes
        self._columns, self._required = columns(declared), required(declared)
        #: Parts of a value that are indented as its siblings, already reported: (name of the value, name of its part).
        self._misplaced: set[tuple[str, str]] = set()

    def report(self, node: yaml.Node, what: str, fix: str) -> None:
        mark = node.start_mark
        self._mistakes.append(Mistake(self._file, mark.line + 1, mark.column + 1, what, fix))

    # -- Keys

    def parts(self, node: yaml.MappingNode, *, row: bool = False) -> Parts | None:
        """Return the parts of a mapping by name, the first of each; None if the row is two rows run together."""
        parts: dict[str, tuple[yaml.Node, yaml.Node]] = {}
        for key, value in node.value:
            name = key.value if isinstance(key, yaml.ScalarNode) else ""
            if row and name == "id" and name in parts and key.start_mark.line > parts[name][0].start_mark.line:
                self.report(
                    key,
                    "a row begins here without its dash",
                    f"write '- id: {getattr(value, 'value', '…')}' at the start of the line",
                )
                return None
            if name in parts:
                self.report(key, f"'{name}' stands twice here", "keep one of the two")
            parts.setdefault(name, (key, value))
        return parts

    def _keys(
        self, node: yaml.Node, parts: Parts, declared: Mapping[str, Column] | Sequence[str], needed: Iterable[str]
    ) -> None:
        missing = [name for name in needed if name not in parts]
        unknown = [name for name in parts if name not in declared]
        for name in unknown:
            key, value = parts[name]
            missing = self._unknown(name, key, value, parts, declared, missing)
        order = list(declared)
        for name in sorted(missing, key=lambda each: order.index(each) if each in order else len(order)):
            self.report(node, *missing_part(name, declared.get(name) if isinstance(declared, Mapping) else None))

    def _unknown(
        self,
        name: str,
        key: yaml.Node,
        value: yaml.Node,
        parts: Parts,
        declared: Mapping[str, Column] | Sequence[str],
        missing: list[str],
    ) -> list[str]:
        """Report a part with an undeclared name; return the names still missing."""
        glued = re.match(r"([\w-]+):(?=\S)", name)
        if glued and glued[1] in declared:
            self.report(key, f"a blank is missing after '{glued[1]}:'", f"write '{glued[1]}: {name[glued.end() :]}'")
            return [each for each in missing if each != glued[1]]
        if name.isdigit() and getattr(value, "value", None) == "":
            before = next(
                (part for part, (_, each) in parts.items() if each.end_mark.index == key.start_mark.index - 1), ""
            )
            whole = f"{before}: {parts[before][1].value}.{name}" if before else "0.15"
            self.report(key, "a comma stands where the decimal point belongs", f"write '{whole}'")
            return missing
        if name == "<<":
            self.report(key, "merge keys are not used here", "write the parts out")
            return missing
        if (
            declared is self._columns
            and (above := self._list_with(name)) in parts
            and self._belongs_to_entry(name, key, parts[above][1], above)
        ):
            return missing
        free = [each for each in declared if each not in parts]
        near = difflib.get_close_matches(name, free, n=1)
        if not near and len(missing) == 1 and len([each for each in parts if each not in declared]) == 1:
            near = missing
        if near:
            self.report(key, f"'{name}' is no part of a row here", f"did you mean '{near[0]}:'?")
            return [each for each in missing if each != near[0]]
        if declared is self._columns and name in FACT_KEYS:
            above = self._fact_above(key, parts)
            if above:
                self.report(key, f"'{name}' belongs to '{above}'", "indent it by two blanks more")
                self._misplaced.add((above, name))
                return missing
        if declared is not self._columns and name in self._columns:
            self.report(key, f"'{name}' is a part of the row", "indent it as the other parts of the row")
            return missing
        self.report(key, f"'{name}' is no part of a row here", f"take it out; the parts are {', '.join(declared)}")
        return missing

    def _list_with(self, name: str) -> str:
        """Return the part whose entries have a part ``name``."""
        return next((each for each, column in self._columns.items() if column.row and name in columns(column.row)), "")

    def _belongs_to_entry(self, name: str, key: yaml.Node, above: yaml.Node, list_name: str) -> bool:
        """Report a part of an entry that is indented as a part of the row, below the list ``above``; return whether it
        is one.
        """
        last = above.value[-1] if isinstance(above, yaml.SequenceNode) and above.value else None
        if not isinstance(last, yaml.MappingNode) or key.start_mark.line <= last.start_mark.line:
            return False
        _, fix = messages_of_indent(f"{name}: …", key.start_mark.column, last.start_mark.column)
        self.report(key, f"'{name}' is a part of '{list_name}', not of the row", fix)
        self._misplaced.add((list_name, name))
        return True

    def _fact_above(self, key: yaml.Node, parts: Parts) -> str:
        above = [
            name
            for name, (each, _) in parts.items()
            if each.start_mark.line < key.start_mark.line and name in self._columns
        ]
        return above[-1] if above and self._columns[above[-1]].holds == "fact" else ""

    # -- Texts, lists and references

    def _scalar(self, node: yaml.Node, name: str, column: Column) -> bool:
        """Check one value that is not a fact, and return whether it is correct."""
        wrong = wrong_value(node, name, column)
        if wrong:
            self.report(node, *wrong)
        return not wrong

    def _list(self, node: yaml.Node, name: str, column: Column) -> list[yaml.Node]:
        if not isinstance(node, yaml.SequenceNode):
            self.report(
                node,
                f"'{name}' must be a list",
                f"write {pattern(name, column)}{'' if column.fewest else ', or [] for none'}",
            )
            return []
        if wrong := wrong_count(len(node.value), name, column):
            self.report(node, *wrong)
        seen: set[str] = set()
        for each in node.value:
            if isinstance(each, yaml.ScalarNode) and each.value in seen:
                self.report(each, *twice(each.value, name))
            elif isinstance(each, yaml.ScalarNode):
                seen.add(each.value)
        entries: list[yaml.Node] = node.value
        return entries

    def _reference(self, node: yaml.Node, name: str, table: str, written: str | None = None) -> None:
        if written is None and not self._scalar(node, name, TEXT):
            return
        id = node.value if written is None else written
        ids = self._known.ids.get(table)
        if ids is not None and (wrong := unlisted(id, table, ids)):
            self.report(node, wrong[0], self._known.nearest(id, table, messages.TAKE_FROM_FILE))

    def _mapping(self, node: yaml.Node, name: str, shape: str) -> Parts | None:
        if isinstance(node, yaml.MappingNode):
            return self.parts(node)
        self.report(node, f"an entry of '{name}' has {len(shape.split(', '))} parts", f"write {{{shape}}}")
        return None

"""The checker of the data tables: every mistake at once, each with its place and its cure.

The tables are read as YAML nodes, so that line, column and digits survive (``check_file``), and each
row is compared with what ``calculators.tables`` declares (``check_row``). This module checks
what concerns several rows: ids, names and published ids. One mistake gives one message.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import Path
from typing import Any

import yaml

from builder.check_file import MOST_BYTES, Reading, plain_value, read_file
from builder.check_part import Known
from builder.check_row import RowCheck, is_forwarding, key_names
from builder.check_value import wrong_value
from builder.mistakes import Mistake, stop_for
from calculators.tables import DATA, FOLDERS, TABLES, columns, required, take
from calculators.tables.rules import file_of, folded, is_id, made_id, name_of_another, nearest, short

__all__ = ["IDS", "Mistake", "check", "check_and_load", "write_ids"]

#: The ids that were published, one ``table/id`` a line: an id is for ever.
IDS = "data/ids.txt"


def check(root: Path) -> list[Mistake]:
    """Return every mistake in the tables below ``root``/data, by file and line."""
    return _checked(root)[0]


def check_and_load(root: Path) -> None:
    """Check the tables below ``root``/data, and keep what was read of them as the tables of this checkout, if it is.

    To read ten thousand files takes as long as to check them. Raises ``Mistakes``.
    """
    mistakes, checked = _checked(root)
    stop_for(mistakes)
    if str((root / "data").resolve()) == DATA:
        take({name: [row.plain(named=name in FOLDERS) for row in table.rows] for name, table in checked.items()})


def _checked(root: Path) -> tuple[list[Mistake], dict[str, _Table]]:
    published = _published(root)
    tables = {name: _Table(root, name, published.get(name, [])) for name in TABLES}
    known = Known(
        ids={name: table.ids for name, table in tables.items() if table.readable},
        read=tables["sources"].single("read"),
        named={name: table.named() for name, table in tables.items()},
    )
    for table in tables.values():
        table.check(known)
    mistakes = [*_strays(root), *(mistake for table in tables.values() for mistake in table.mistakes)]
    return sorted(mistakes), tables


def write_ids(root: Path) -> Path:
    """Write the ids of all rows below ``root``, forwarding ones too, as published; return the file.

    The tables must be correct, so that every published id is among them.
    """
    ids = [f"{name}/{row.id}" for name in TABLES for row in _Table(root, name, []).rows]
    path = root / IDS
    path.write_text("".join(f"{each}\n" for each in ids), "utf-8")
    return path


def _strays(root: Path) -> Iterator[Mistake]:
    known = {f"{table}.yaml" for table in TABLES if table not in FOLDERS}
    for path in (root / "data").glob("*.*"):
        if path.suffix not in (".yaml", ".yml", ".txt") or path.name in {*known, Path(IDS).name} or not path.is_file():
            continue
        if folder := _folder_of(path):
            yield Mistake(
                f"data/{path.name}",
                1,
                1,
                "this file holds an entry, and lies beside its folder",
                f"move it to {file_of(folder)}{made_id(path.stem) or '…'}.yaml",
            )
        else:
            fix = nearest(path.name, sorted(known), f"name it one of {', '.join(sorted(known))}")
            yield Mistake(f"data/{path.name}", 1, 1, "this file is no table", fix)
    for table in FOLDERS:
        for path in (root / "data" / table).glob("*"):
            named = path.name.removesuffix(".yaml")
            if named == path.name or not is_id(named):
                fix = f"rename it to '{made_id(path.stem) or '…'}.yaml'"
                yield Mistake(
                    f"data/{table}/{path.name}", 1, 1, "the name of this file is no id with '.yaml' after it", fix
                )


def _folder_of(path: Path) -> str:
    """Return the table with one file per row that the file at ``path`` fits, judged by its keys; empty if none."""
    begun = set(re.findall(r"(?m)^([a-z_]+):", path.read_text("utf-8", errors="replace")[:MOST_BYTES]))
    return next((table for table in FOLDERS if len(begun & {*required(TABLES[table])}) >= 3), "")


def _published(root: Path) -> dict[str, list[str]]:
    path = root / IDS
    published: dict[str, list[str]] = {}
    for line in path.read_text("utf-8").split() if path.is_file() else ():
        table, _, id = line.partition("/")
        published.setdefault(table, []).append(id)
    return published


@dataclass(frozen=True)
class _Row:
    """The parts of a row that other rows can refer to."""

    file: str
    node: yaml.MappingNode
    id: str
    forwarding: bool

    @classmethod
    def of(cls, file: str, node: yaml.MappingNode, declared: Collection[str], named: str) -> _Row:
        """``named`` is the id from the file name, if the table takes ids from file names."""
        parts = {key.value: (key, value) for key, value in node.value if isinstance(key, yaml.ScalarNode)}
        id_node = parts.get("id", (None, None))[1]
        written = id_node.value if isinstance(id_node, yaml.ScalarNode) else ""
        return cls(file, node, named or written, is_forwarding(parts, declared))

    def plain(self, *, named: bool) -> dict[str, Any]:
        """Return the row as YAML gives it, with the id first if it is ``named`` by its file."""
        plain: dict[str, Any] = plain_value(self.node)
        return {"id": self.id, **plain} if named else plain

    def part(self, name: str) -> yaml.Node | None:
        return next((value for key, value in self.node.value if key.value == name), None)

    def text(self, name: str) -> str:
        node = self.part(name)
        return node.value if isinstance(node, yaml.ScalarNode) else ""


class _Table:
    """One table on its way through the checks: one file with a list of rows, or a folder with a file a row."""

    def __init__(self, root: Path, name: str, published: list[str]) -> None:
        self.name, self._published = name, published
        self.mistakes: list[Mistake] = []
        self.rows: list[_Row] = []
        self._unread: set[str] = set()
        self.readable = True
        declared, keys = columns(TABLES[name]), key_names(TABLES[name])
        folder = root / "data" / name
        self._folder = folder.is_dir() or name in FOLDERS
        paths = sorted(folder.glob("*.yaml")) if self._folder else [root / file_of(name)]
        for path in paths:
            file = f"data/{name}/{path.name}" if self._folder else file_of(name)
            reading = read_file(path, file, keys, listed=not self._folder)
            self._take(reading, file, path.stem, declared)

    def _take(self, reading: Reading, file: str, stem: str, declared: Collection[str]) -> None:
        self.mistakes += reading.mistakes
        if self._folder and not (reading.readable and reading.rows):
            self._unread.add(stem)
        else:
            self.readable &= reading.readable
        self._unread |= reading.unread_ids
        for node in reading.rows:
            row = _Row.of(file, node, declared, stem if self.name in FOLDERS else "")
            self.rows.append(row)
            inner = [
                value.value for key, value in node.value if key.value == "id" and isinstance(value, yaml.ScalarNode)
            ]
            self._unread.update(inner[1:])
            if self.name in FOLDERS and row.part("id") is not None:
                self._report(row, row.part("id"), "the id is the name of the file", "take this line out")
            elif self._folder and row.id != stem and row.id:
                self._report(
                    row,
                    row.part("id"),
                    f"id '{short(row.id)}' is not the name of its file",
                    f"write 'id: {stem}', or rename the file",
                )

    @property
    def ids(self) -> set[str]:
        """All ids that another row may name, including those of unreadable rows and of lost published rows."""
        return {row.id for row in self.rows} | self._unread | set(self._published)

    def single(self, name: str) -> dict[str, str]:
        """Return one part of each row by its id. Duplicate ids are left out as ambiguous."""
        ids = Counter(row.id for row in self.rows)
        return {row.id: row.text(name) for row in self.rows if is_id(row.id) and ids[row.id] == 1}

    def named(self) -> dict[str, str]:
        """Return the ids of rows by what a reader calls them."""
        return {
            folded(row.text(part)): row.id for row in self.rows for part in ("label", "title") if row.text(part).strip()
        }

    def check(self, known: Known) -> None:
        """Check each row by itself, then all together."""
        checks: dict[str, RowCheck] = {}
        reported: set[int] = set()
        for place, row in enumerate(self.rows):
            if row.file not in checks:
                checks[row.file] = RowCheck(row.file, self.name, known, self.mistakes)
            before = len(self.mistakes)
            checks[row.file].row(row.node)
            if any(each.what.startswith(("'id'", "id ")) for each in self.mistakes[before:]) or not row.id:
                reported.add(place)
        reported |= self._duplicate_ids()
        self._forwards()
        self._names()
        if self.readable:
            self._lost_ids(reported)

    def _report(self, row: _Row, node: yaml.Node | None, what: str, fix: str) -> None:
        mark = (node or row.node).start_mark
        self.mistakes.append(Mistake(row.file, mark.line + 1, mark.column + 1, what, fix))

    def _duplicate_ids(self) -> set[int]:
        """Report duplicate ids and return the indexes of the rows that repeat another row's id."""
        places: dict[str, list[int]] = {}
        for place, row in enumerate(self.rows):
            if is_id(row.id):
                places.setdefault(row.id, []).append(place)
        duplicates = set()
        for same in (each for each in places.values() if len(each) > 1):
            own = next((place for place in same if not self._stands_for_another(place)), same[0])
            for place in same:
                if place != own:
                    row, first = self.rows[place], self.rows[own]
                    id_of_first = first.part("id")
                    where = (
                        f"line {id_of_first.start_mark.line + 1}"
                        if id_of_first and first.file == row.file
                        else first.file
                    )
                    self._report(
                        row,
                        row.part("id"),
                        f"id '{row.id}' stands on {where} already",
                        "give this row an id of its own",
                    )
                    duplicates.add(place)
        return duplicates

    def _stands_for_another(self, place: int) -> bool:
        """Whether a row stands between the neighbours of a published row that is now missing."""
        lost = set(self._published) - {row.id for row in self.rows}
        order = {id: index for index, id in enumerate(self._published)} if lost else {}
        for step in (-1, 1):
            if 0 <= place + step < len(self.rows) and self.rows[place + step].id in order:
                index = order[self.rows[place + step].id] - step
                if 0 <= index < len(self._published) and self._published[index] in lost:
                    return True
        return False

    def _forwards(self) -> None:
        renamed = {row.id: row for row in self.rows if row.forwarding}
        lasting = {row.id for row in self.rows if not row.forwarding} | self._unread
        for id, row in renamed.items():
            now, passed = row.text("now"), {id}
            if not now:
                continue
            while now in renamed and now not in passed:
                passed.add(now)
                now = renamed[now].text("now")
            if now in passed:
                self._report(
                    row, row.part("now"), f"'{short(id)}' is forwarded in a circle", "name the row that there is now"
                )
            elif now not in lasting:
                self._report(
                    row,
                    row.part("now"),
                    f"'{short(now)}' is no row of this table",
                    nearest(now, sorted(lasting), "name the row that there is now"),
                )

    def _names(self) -> None:
        """Report names that two rows share, and aliases that are the id of another row."""
        ids = {row.id: row for row in self.rows}
        seen: dict[str, _Row] = {}
        declared = columns(TABLES[self.name])
        name = "label" if "label" in declared else "title"
        for row in self.rows:
            label = row.text(name)
            named = row.part(name)
            if named is not None and wrong_value(named, name, declared[name]):
                continue  # already reported
            first = seen.setdefault(folded(label), row)
            if label.strip() and first is not row and first.id != row.id:
                self._report(row, row.part(name), *name_of_another(label, first.id))
            aliases = row.part("aliases")
            for alias in aliases.value if isinstance(aliases, yaml.SequenceNode) else ():
                other = ids.get(alias.value) if isinstance(alias, yaml.ScalarNode) else None
                if other and other is not row and not other.forwarding:
                    self._report(
                        row,
                        alias,
                        f"'{alias.value}' is the id of another row",
                        "take it out; that row is found by its id",
                    )

    def _lost_ids(self, reported: set[int]) -> None:
        """Report each published id that no row has now, at the row in its place."""
        held = {row.id for row in self.rows} | self._unread
        lost = [id for id in self._published if id not in held]
        if self._folder:
            for id in lost:
                what = f"the published row '{id}' is gone: this file is missing"
                self.mistakes.append(
                    Mistake(
                        f"data/{self.name}/{id}.yaml",
                        1,
                        1,
                        what,
                        "put it back, or leave a file of this name that holds 'now: …'",
                    )
                )
            return
        if not lost:
            return
        ids: list[object] = [row.id if place not in reported else place for place, row in enumerate(self.rows)]
        published = set(self._published)
        for tag, from_, to, start, end in SequenceMatcher(None, self._published, ids, autojunk=False).get_opcodes():
            gone = [id for id in self._published[from_:to] if id in lost]
            if tag not in ("replace", "delete") or not gone:
                continue
            there = [place for place in range(start, end) if place in reported or self.rows[place].id not in published]
            for id, place in zip(gone, there, strict=False):
                row = self.rows[place]
                if place not in reported:
                    self._report(
                        row,
                        row.part("id"),
                        f"the published id '{id}' became '{short(row.id)}'",
                        f"write 'id: {id}', or add a row '- {{id: {id}, now: {short(row.id)}}}'",
                    )
            for id in gone[len(there) :]:
                self._gone(id, start)

    def _gone(self, id: str, place: int) -> None:
        fix = f"put it back, or leave '- {{id: {id}, now: …}}' in its place"
        if place < len(self.rows):
            self._report(self.rows[place], None, f"the published row '{id}' is gone from before this one", fix)
        else:
            file = f"data/{self.name}/{id}.yaml" if self._folder else file_of(self.name)
            self.mistakes.append(Mistake(file, 1, 1, f"the published row '{id}' is gone from the end of the file", fix))

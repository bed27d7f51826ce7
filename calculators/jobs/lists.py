"""Lists of markings as text: CSV, which spreadsheets open and save. Columns come of the declarations in ``model``.

A marking is one row. The rows of a series follow their marking, with its id under "Row of". Cells that a spreadsheet
would run are written behind an apostrophe, which reading takes away again.
"""

from __future__ import annotations

import csv
import dataclasses
import io
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from calculators import messages
from calculators.declare import Problem, Refused
from calculators.jobs import sentences
from calculators.jobs.model import MOST_MARKINGS, Job, Marking, Model, SeriesRow, contradictions, new_id
from calculators.jobs.parts import Part, kinds_of
from calculators.jobs.shape import Kind, Problems, Words

#: The column with the id of the marking whose series a row belongs to.
ROW_OF = "Row of"
#: What may stand between cells; the first is written.
BETWEEN = (",", ";", "\t")
#: A cell that begins with one of these may be run as a formula, or hides what follows.
RUN = ("=", "+", "-", "@", "\t", "\r", "\n")
MARK = "'"
MOST_ROWS, MOST_COLUMNS, MOST_BYTES = 2 * MOST_MARKINGS, 200, 4 * 1024 * 1024
_BEGINNING = 20_000  # characters in which the first row ends


@dataclass(frozen=True)
class _Column:
    """A column: its heading, and the attribute that it holds, of a part within the row or of the row itself."""

    heading: str
    within: str
    attribute: str
    kind: Kind


def _columns(part: type) -> list[_Column]:
    """Return the columns of a part, those of parts in it included."""
    found = []
    for name, kind in kinds_of(part).items():
        if kind.column:
            found.append(_Column(kind.column, "", name, kind))
        elif isinstance(kind, Part):
            found += [
                _Column(each.column, name, attribute, each)
                for attribute, each in kinds_of(kind.of).items()
                if each.column
            ]
    return found


def columns(part: type) -> dict[str, Kind]:
    """Return what the cells of each column of a part hold, by its heading."""
    return {each.heading: each.kind for each in _columns(part)}


def headings() -> list[str]:
    """Return the headings of all columns, in the order in which they are written."""
    own = [each.heading for each in _columns(Marking)]
    return [*own, *(each.heading for each in _columns(SeriesRow) if each.heading not in own), ROW_OF]


@dataclass(frozen=True)
class UnreadRow:
    """A row that could not be used, as it came: its number in the text and its cells."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class ListRead:
    """The markings of a list, its problems by row and column, and the rows that were not used, which have some.

    The field of a problem is such as ``row 7, Width``. ``headings`` are those of the list, ``unread`` the rows as
    they came, so that nothing is lost. ``rows`` are those of each marking, by its id.
    """

    markings: tuple[Marking, ...]
    problems: tuple[Problem, ...]
    headings: tuple[str, ...]
    unread: tuple[UnreadRow, ...]
    rows: Mapping[str, tuple[UnreadRow, ...]]


def written(markings: tuple[Marking, ...]) -> str:
    """Return a list of markings as CSV, with the lines ended as RFC 4180 has it."""
    made = io.StringIO()
    writer = csv.writer(made, lineterminator="\r\n")
    names = headings()
    writer.writerow(names)
    for marking in markings:
        writer.writerow(map(_harmless, _cells(names, Marking, marking)))
        for row in marking.rows:
            cells = _cells(names, SeriesRow, row)
            cells[names.index(ROW_OF)] = marking.id
            writer.writerow(map(_harmless, cells))
    return made.getvalue()


def _cells(names: list[str], part: type, value: Any) -> list[str]:
    texts = {}
    for column in _columns(part):
        holder = getattr(value, column.within) if column.within else value
        texts[column.heading] = "" if holder is None else column.kind.cell(getattr(holder, column.attribute))
    return [texts.get(name, "") for name in names]


def _harmless(cell: str) -> str:
    """Return a cell so that no spreadsheet runs it.

    >>> _harmless("=1+1"), _harmless("'=1+1"), _harmless("12")
    ("'=1+1", "''=1+1", '12')
    """
    return MARK + cell if cell.startswith((*RUN, MARK)) else cell


def _restored(cell: str) -> str:
    return cell[1:] if cell.startswith(MARK) and cell[1:].startswith((*RUN, MARK)) else cell


def decoded(data: bytes) -> str:
    """Return the text of a list: UTF-8 with or without a byte order mark, UTF-16 with one, or Windows-1252."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", "replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def read_list(
    data: bytes | str,
    name: str,
    *,
    mapped: Mapping[str, str] | None = None,
    taken: Iterable[str] = (),
    models: Iterable[Model] = (),
) -> ListRead:
    """Return the markings in a list called ``name``.

    ``mapped`` has the column of ours for headings of the list; "" leaves one out. ``taken`` are ids that rows without
    an id must not get; a model of ``models`` may be given by its name. Raises Refused where nothing of it can be read.
    """
    name = messages.display_name(name)
    if len(data) > MOST_BYTES:
        raise Refused(
            Problem("", sentences.LIST_TOO_BIG.format(name=name, most=MOST_BYTES >> 20), sentences.TOO_MANY_ROWS_HINT)
        )
    text = decoded(data) if isinstance(data, bytes) else data.removeprefix("\ufeff")
    if "\0" in text:
        raise Refused(Problem("", sentences.NOT_A_LIST.format(name=name)))
    return _Reading(mapped or {}, set(taken), {_folded(each.name): each.id for each in models}).read(text, name)


def first_row(data: bytes | str) -> list[str]:
    """Return the cells of the first row of a list, whatever they are; none where it cannot be read."""
    text = decoded(data[:_BEGINNING]) if isinstance(data, bytes) else data.removeprefix("\ufeff")
    try:
        return [_restored(cell) for cell in max((_first_row(text, each) for each in BETWEEN), key=len)][:MOST_COLUMNS]
    except csv.Error:
        return []


def _first_row(text: str, between: str) -> list[str]:
    return next(csv.reader(io.StringIO(text[:_BEGINNING], newline=""), delimiter=between), [])


class _Reading:
    """The reading of one list."""

    def __init__(self, mapped: Mapping[str, str], taken: set[str], models: Mapping[str, str]) -> None:
        self.mapped = {_folded(name): ours for name, ours in mapped.items()}
        self.known = {_folded(name): name for name in headings()}
        self.taken, self.models = taken, models
        self.columns: list[str] = []
        self.markings: dict[str, Marking] = {}
        self.problems: list[Problem] = []
        self.unread: list[UnreadRow] = []
        self.rows: dict[str, tuple[UnreadRow, ...]] = {}

    def read(self, text: str, name: str) -> ListRead:
        rows = self._rows(text, self._between(text))
        first = next(rows, None)
        if first is None or len(first[1]) > MOST_COLUMNS or not self._take_headings(first[1]):
            raise Refused(
                Problem(
                    "row 1",
                    sentences.NO_NAMES.format(name=name),
                    sentences.COLUMNS_ARE.format(names=", ".join(headings())),
                )
            )
        pending = [(number, cells) for number, cells in rows if any(cell.strip() for cell in cells)]
        # Ids that are written in the list are not given to rows without one.
        self.taken |= {cells[at] for at in self._places("Id") for _number, cells in pending if at < len(cells)}
        for number, cells in pending:
            self._take(number, cells)
        found = (tuple(self.markings.values()), tuple(self.problems), tuple(first[1]), tuple(self.unread), self.rows)
        return ListRead(*found)

    def _places(self, heading: str) -> list[int]:
        return [at for at, each in enumerate(self.columns) if each == heading]

    def _between(self, text: str) -> str:
        """Return what stands between cells: with it most headings are known, or the first row has most cells."""

        def known(between: str) -> tuple[int, int]:
            row = _first_row(text, between)
            return sum(bool(self._column(cell)) for cell in row), len(row)

        try:
            return max(BETWEEN, key=known)
        except csv.Error:
            return BETWEEN[0]

    def _rows(self, text: str, between: str) -> Iterator[tuple[int, list[str]]]:
        """Yield each row with its number; where the rest cannot be read, it is reported and kept as it came."""
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=between, strict=True)
        number, line = 0, 0

        def end(problem: str, hint: str = "") -> None:
            self.problems.append(Problem(f"row {number}", problem, hint))
            self.unread.append(UnreadRow(number, ("".join(text.splitlines(keepends=True)[line:]),)))

        while True:
            number += 1
            try:
                row = next(reader)
            except StopIteration:
                return
            except csv.Error:
                end(sentences.BROKEN_ROW)
                return
            if number > MOST_ROWS:
                end(sentences.TOO_MANY_ROWS.format(most=MOST_ROWS), sentences.TOO_MANY_ROWS_HINT)
                return
            line = reader.line_num
            yield number, [_restored(cell) for cell in row]

    def _column(self, heading: str) -> str:
        """Return our heading for one of the list; "" where it has none."""
        folded = _folded(heading)
        return self.mapped.get(folded, self.known.get(folded, ""))

    def _take_headings(self, cells: list[str]) -> bool:
        for at, heading in enumerate(cells):
            column = self._column(heading)
            shown = messages.quoted(heading)
            if column and column in self.columns:
                self.problems.append(Problem(f"row 1, column {at + 1}", sentences.COLUMN_TWICE.format(name=shown)))
                column = ""
            elif not column and heading.strip() and _folded(heading) not in self.mapped:
                hint = sentences.COLUMNS_ARE.format(names=", ".join(headings()))
                self.problems.append(
                    Problem(f"row 1, column {at + 1}", sentences.UNREAD_COLUMN.format(name=shown), hint)
                )
            self.columns.append(column)
        return any(self.columns)

    def _take(self, number: int, cells: list[str]) -> None:
        """Take one row: a marking, or a row of a series."""
        texts = {name: cell for name, cell in zip(self.columns, cells, strict=False) if name}
        problems = _RowProblems(number)
        if any(cell.strip() for cell in cells[len(self.columns) :]):
            problems.add("", sentences.TOO_MANY_CELLS)
        if of := texts.get(ROW_OF, "").strip():
            row = self._part(SeriesRow, texts, problems)
            marking = self.markings.get(of)
            if marking is None:
                problems.add(ROW_OF, sentences.NO_SUCH_MARKING.format(id=messages.quoted(of)))
            elif not problems.found:
                self.markings[of] = replace(marking, rows=(*marking.rows, row))
                self.rows[of] += (UnreadRow(number, tuple(cells)),)
        else:
            marking = self._marking(texts, problems)
            if not problems.found:
                self.markings[marking.id] = marking
                self.rows[marking.id] = (UnreadRow(number, tuple(cells)),)
                self.taken.add(marking.id)
        if problems.found:
            self.problems += problems.found
            self.unread.append(UnreadRow(number, tuple(cells)))

    def _marking(self, texts: dict[str, str], problems: _RowProblems) -> Any:
        if not texts.get("Id", "").strip():
            texts["Id"] = new_id(texts.get("Name", ""), self.taken)
        elif texts["Id"].strip() in self.markings:
            problems.add("Id", sentences.SAME_ID.format(what="rows", id=messages.quoted(texts["Id"])))
        if (model := _folded(texts.get("Model", ""))) in self.models:
            texts["Model"] = self.models[model]
        return self._part(Marking, texts, problems)

    def _part(self, part: type, texts: Mapping[str, str], problems: _RowProblems) -> Any:
        """Return the part in the texts of a row by heading; None where something in it is wrong."""
        values: dict[str, dict[str, Any]] = {"": {}}
        for column in _columns(part):
            text = texts.get(column.heading, "")
            if text.strip() or (text and isinstance(column.kind, Words)):
                read = column.kind.of_cell(text, column.heading, problems.collected)
                values.setdefault(column.within, {})[column.attribute] = read
        problems.collect()
        own = values.pop("")
        for within, parts in values.items():
            kind: Any = kinds_of(part)[within]
            self._complain_of_missing(kind.of, parts, problems)
            if not problems.found:
                own[within] = kind.of(**parts)
        self._complain_of_missing(part, own, problems)
        return None if problems.found else part(**own)

    def _complain_of_missing(self, part: type, values: Mapping[str, Any], problems: _RowProblems) -> None:
        for each in dataclasses.fields(part):
            needed = each.default is dataclasses.MISSING and each.default_factory is dataclasses.MISSING
            kind: Kind = each.metadata["kind"]
            if needed and each.name not in values and not problems.has(kind.column):
                problems.add(kind.column, sentences.MISSING_PART.format(label=kind.label))


class _RowProblems:
    """The problems of one row, each with its column."""

    def __init__(self, number: int) -> None:
        self.number = number
        self.found: list[Problem] = []
        self.collected = Problems()

    def add(self, heading: str, text: str, hint: str = "") -> None:
        """Note a problem in a column."""
        where = f"row {self.number}, {heading}" if heading else f"row {self.number}"
        self.found.append(Problem(where, text, hint))

    def collect(self) -> None:
        """Take over what the kinds found."""
        for each in self.collected.all():
            self.add(each.field.partition("[")[0], each.text, each.hint)
        self.collected = Problems()

    def has(self, heading: str) -> bool:
        """Return whether a column has a problem."""
        return any(each.field == f"row {self.number}, {heading}" for each in self.found)


def read_for(job: Job, data: bytes | str, name: str, *, mapped: Mapping[str, str] | None = None) -> ListRead:
    """Return a list as ``read_list`` does, with problems too for what does not go together with the rest of ``job``.

    A model may be given by its name. Raises Refused as ``read_list`` does.
    """
    found = read_list(data, name, mapped=mapped, taken=[each.id for each in job.markings], models=job.models)
    while True:
        wrong: dict[str, list[Problem]] = {}
        together = merged(job, found.markings)
        for path, text in contradictions(together):
            place, _, attribute = path.removeprefix("markings[").partition("].")
            id = together.markings[int(place)].id if path.startswith("markings[") else ""
            if id in found.rows:
                where = f"row {found.rows[id][0].number}, {_heading(attribute)}"
                wrong.setdefault(id, []).append(Problem(where, text))
        if not wrong:
            return found
        # Without these, others may miss their twin: look again.
        found = replace(
            found,
            markings=tuple(each for each in found.markings if each.id not in wrong),
            problems=(*found.problems, *(each for every in wrong.values() for each in every)),
            unread=(*found.unread, *(row for id in wrong for row in found.rows[id])),
            rows={id: rows for id, rows in found.rows.items() if id not in wrong},
        )


def _heading(attribute: str) -> str:
    """Return the heading of an attribute by its path within a marking, such as ``partner.of``."""
    plain = attribute.partition("[")[0]
    return next(
        (each.heading for each in _columns(Marking) if plain == f"{each.within}.{each.attribute}".lstrip(".")), plain
    )


def merged(job: Job, markings: tuple[Marking, ...]) -> Job:
    """Return the job with the markings of a list: what a list does not tell of those that are there already, stays."""
    listed = {each.attribute if not each.within else each.within for each in _columns(Marking)} | {"rows"}
    there = {each.id: each for each in job.markings}
    for marking in markings:
        existing = there.get(marking.id)
        listed_values = {name: getattr(marking, name) for name in listed}
        job = job.with_marking(replace(existing, **listed_values) if existing else marking)
    return job


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())

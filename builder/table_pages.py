"""The data tables as pages, and as files to take away.

A table is shown in the page that calls ``{{ table("id") }}``. Rows that are mostly prose have a page each
below it, outside the navigation and linked from the table. Every table is offered as CSV and as JSON.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from html import escape
from pathlib import Path, PurePath, PurePosixPath
from typing import Any

import jinja2
from markupsafe import Markup

from builder import cautions, entry_pages
from calculators import messages, tables
from calculators.rescue.entry_page import entry_html
from calculators.tables import ENTRIES, MARKS, STATUSES, Column, Fact, Judgement, Origin, Statement
from calculators.tables.rows import Cause

#: Where the files of the tables are served.
FOLDER = "tables"

#: What a spreadsheet would take for a formula.
_FORMULA = re.compile(r"^[=+\-@\t\r]")
_CALLED = re.compile(r"\{\{\s*table\(\s*[\"']([\w-]+)[\"']\s*\)\s*\}\}")
_LISTED = ("fact", "whole", "yes-no", "ref", "refs", "url")


def pages_of_tables(content: Path) -> dict[str, PurePosixPath]:
    """Return for each table the page below ``content`` that shows it, relative, the first by name."""
    found: dict[str, PurePosixPath] = {}
    for path in sorted(content.rglob("*.md")):
        for table in _CALLED.findall(path.read_text("utf-8")):
            found.setdefault(table, PurePosixPath(path.relative_to(content).as_posix()))
    return found


def url_of(page: PurePath) -> str:
    """Return the address of a page, relative to the site."""
    # As text: a path takes ten times as long, and a table may have ten thousand pages.
    place = page.as_posix().removesuffix(".md")
    return place.removesuffix("index") if place == "index" or place.endswith("/index") else f"{place}/"


@dataclass
class TablePrinter:
    """Prints tables and their rows. ``table_pages`` names the page of each table that is shown somewhere."""

    templates: jinja2.Environment
    table_pages: Mapping[str, PurePosixPath]
    _macros: Any = field(init=False)
    #: From the page that is being printed to the root of the site.
    _root: str = ""
    _addresses: dict[tuple[str, str], str] = field(default_factory=dict)
    _links: dict[tuple[str, str, str], str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        context = {"site": self, "messages": messages.PAGE}
        self._macros = self.templates.get_template("table.html").make_module(context)
        self._entry_macros: Any = self.templates.get_template("entry.html").make_module(context)

    def go_to(self, url: str) -> None:
        """Make later links relative to the page at ``url``, which is relative to the site."""
        self._root = "../" * url.count("/")

    def table(self, id: str) -> str:
        """Return a table as HTML. Raises KeyError for an unknown one."""
        rows = tables.load(id)
        if id in ENTRIES:
            return str(self._entry_macros.entries(id, entry_pages.by_stage(rows), messages.PAGE["table_as_files"]))
        columns = tables.columns(tables.TABLES[id])
        listed = {
            name: column
            for name, column in columns.items()
            if name not in ("id", "label", "title")
            and (not has_pages(id) or in_table(column))
            and any(says_something(getattr(row, name)) for row in rows)
        }
        # What a reader decides by is a column of its own; the rest of a row is unfolded.
        decides = getattr(tables.TABLES[id], "DECIDES", tuple(listed))
        rest = [name for name in listed if name not in decides]
        # Where a cell stands: among the rest of its row, and unless it is empty under which heading, which is printed
        # beside it.
        places = {}
        for name, column in listed.items():
            bare = Markup(" data-rest") if name in rest else Markup()
            places[name] = bare + Markup(' data-label="{}"').format(column.label), bare
        sources = self._sources(rows, listed)
        return str(self._macros.table(id, columns, listed, rest, places, rows, self._before(id), sources))

    def values(self) -> str:
        """Return every value of every table as HTML, by how it is known."""
        return str(self._macros.values(by_status()))

    def rows(self) -> Iterator[tuple[PurePosixPath, PurePosixPath, dict[str, Any], str]]:
        """Yield the page of each row that has one: its table's page, its path, its front matter and its HTML."""
        for table, page in self.table_pages.items():
            if not has_pages(table):
                continue
            columns = tables.columns(tables.TABLES[table])
            for row in tables.load(table):
                path = self._at(page, table, row.id)
                body = self._entry(row) if table in ENTRIES else self._macros.row_page(table, columns, row)
                yield page, path, _meta(table, columns, row), body
            for old, now in tables.forwards(table).items():
                path, row = self._at(page, table, old), tables.row(table, now)
                yield (
                    page,
                    path,
                    {**_meta(table, columns, row), "search": {"exclude": True}},
                    self._macros.moved(table, row),
                )

    def _at(self, page: PurePosixPath, table: str, id: str) -> PurePosixPath:
        path = _path_of_row(page, table, id)
        self.go_to(url_of(path))
        return path

    def _entry(self, row: Any) -> str:
        """The page of an entry, with its cautions before the first cause, since the instructions begin there."""
        related = [(self.link("troubleshooting", each), self.label("troubleshooting", each)) for each in row.related]
        named = cautions.cautions_for(" ".join(map(entry_pages.plain_sentences, entry_pages.steps(row))))
        card = cautions.card(self.templates, named, f"{self._root}{cautions.SAFETY}")
        return entry_html(
            row, render=self.sentences, stage_link=f"{self._root}{row.stage}/", related=related, cautions=card
        )

    # -- What the template asks for

    def tells(self, table: str, name: str, value: Any) -> bool:
        """Whether to show a part on the page of its row. An optional true-or-false part is hidden if it is false."""
        return says_something(value) and (value is not False or name in tables.required(tables.TABLES[table]))

    def link(self, table: str, id: str) -> str:
        """Return the address of a row, relative to this page; empty if no page shows the table."""
        address = self._addresses.get((table, id))
        if address is None:
            address = self._addresses[table, id] = self._address(table, tables.current(table, id))
        return f"{self._root}{address}" if address else ""

    def _address(self, table: str, id: str) -> str:
        page = self.table_pages.get(table)
        if page is None:
            return ""
        return url_of(_path_of_row(page, table, id)) if has_pages(table) else f"{url_of(page)}#{id}"

    def table_link(self, table: str) -> str:
        """Return the address of a table's page, relative to this page."""
        return f"{self._root}{url_of(self.table_pages[table])}"

    def sentences(self, text: str) -> Markup:
        """Return the sentences of an entry as HTML."""
        return entry_pages.sentences(text, lambda id: self.link("drying-times", id))

    def label(self, table: str, id: str) -> str:
        """Return the name of a row."""
        row = tables.row(table, id)
        return str(row.label if hasattr(row, "label") else row.title)

    def linked(self, table: str, id: str) -> str:
        """Return the name of a row as HTML, leading to it where it is shown. Many rows name the same few."""
        link = self._links.get((self._root, table, id))
        if link is None:
            link = self._links[self._root, table, id] = self._macros.row_link(table, id)
        return link

    def file(self, table: str, kind: str) -> str:
        """Return the address of a table's CSV or JSON file, relative to this page."""
        return f"{self._root}{FOLDER}/{table}.{kind}"

    def _before(self, table: str) -> dict[str, list[str]]:
        """The ids that each row had before."""
        had: dict[str, list[str]] = {}
        for old in tables.forwards(table):
            had.setdefault(tables.current(table, old), []).append(old)
        return had

    def _sources(self, rows: Iterable[Any], listed: Mapping[str, Column]) -> list[Any]:
        """The sources of the listed values, in the order of the table."""
        used: dict[str, None] = {}
        for row in rows:
            for name in (*listed, *(("source",) if hasattr(row, "source") else ())):
                value = getattr(row, name)
                if isinstance(value, (Fact, Origin)) and value.source not in MARKS:
                    used[tables.current("sources", value.source)] = None
        return [tables.row("sources", id) for id in used]


def _path_of_row(page: PurePosixPath, table: str, id: str) -> PurePosixPath:
    """The page of a row: below its table's page, or beside it where each row is an entry of its own."""
    return page.parent / f"{id}.md" if table in ENTRIES else page.parent / table / f"{id}.md"


def has_pages(table: str) -> bool:
    """Whether the rows of a table have a page each: those that are mostly words."""
    return "source" in tables.columns(tables.TABLES[table])


def says_something(value: Any) -> bool:
    """Whether a part of a row was filled in."""
    return value is not None and value not in ("", ())


def in_table(column: Column) -> bool:
    """Whether a part is short enough for the table, where the row has a page of its own for the rest."""
    return column.brief or column.holds in _LISTED or bool(column.one_of)


def _meta(table: str, columns: Mapping[str, Column], row: Any) -> dict[str, Any]:
    """The front matter of a row's page, escaped here because the theme prints it as HTML without escaping."""
    fields = (
        {"title": row.label, "description": _first_words(row, columns)}
        if table not in ENTRIES
        else {"title": row.title, "description": entry_pages.plain_sentences(row.see)}
    )
    source = f"data/{table}/{row.id}.yaml" if table in tables.FOLDERS else f"data/{table}.yaml"
    # Readers who search in their own words usually mean a fault, not a row of figures.
    kind, boost = ("entry", 1.7) if table in ENTRIES else ("row", 0.3)
    return {
        **{name: escape(text) for name, text in fields.items()},
        "kind": kind,
        "source": source,
        "hide": ["toc"],
        "search": {"boost": boost},
    }


def _first_words(row: Any, columns: Mapping[str, Column]) -> str:
    words = next(
        (
            getattr(row, name)
            for name, column in columns.items()
            if column.holds == "text" and not column.one_of and name not in ("label", "cas") and getattr(row, name)
        ),
        row.label,
    )
    return f"{row.label}: {words[:1].lower()}{words[1:]}" if words != row.label else words


# -- Every value, by how it is known


@dataclass(frozen=True)
class Known:
    """One value, or the words of a row, with where it is from."""

    table: str
    row: Any
    column: Column
    value: Any
    source: str
    at: str


def by_status() -> dict[str, list[Known]]:
    """Return everything that has a source, by status.

    What has a mark in place of a source comes before what is from memory.
    """
    order = [status for status in STATUSES if status != "memory"] + [*MARKS, "memory"]
    found: dict[str, list[Known]] = {status: [] for status in order}
    for table, declared in tables.TABLES.items():
        columns = tables.columns(declared)
        for row in tables.load(table):
            for name, column in columns.items():
                for value in _sourced(getattr(row, name)):
                    status = value.status or (getattr(row, "status", "") if isinstance(value, Origin) else "")
                    found[status or value.source].append(Known(table, row, column, value, value.source, value.at))
    return found


def _sourced(value: Any) -> Iterable[Fact | Origin | Statement]:
    if isinstance(value, (Fact, Origin)):
        return (value,)
    return (each for each in value if isinstance(each, Statement)) if isinstance(value, tuple) else ()


# -- Files


def write_files(out: Path) -> None:
    """Write each table as CSV and JSON below ``out``."""
    folder = out / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    for table in tables.TABLES:
        # The byte order mark tells spreadsheets that it is UTF-8.
        (folder / f"{table}.csv").write_text(as_csv(table, tables.load(table)), "utf-8-sig", newline="")
        (folder / f"{table}.json").write_text(as_json(table, tables.load(table)), "utf-8")


def as_csv(table: str, rows: Iterable[Any]) -> str:
    """Return rows of ``table`` as CSV with a line of names; a value takes a column for each of its parts.

    Texts that a spreadsheet would run as a formula get an apostrophe before them.
    """
    columns = tables.columns(tables.TABLES[table])
    names = [part for name, column in columns.items() for part in (name, *_fact_names(name, column))]
    held = io.StringIO()
    writer = csv.DictWriter(held, names, restval="")
    writer.writeheader()
    for row in rows:
        cells: dict[str, Any] = {}
        for name, column in columns.items():
            value = getattr(row, name)
            if column.holds == "fact":
                cells |= _fact_cells(name, value)
            else:
                cells[name] = _cell(value)
        writer.writerow(cells)
    return held.getvalue()


def _fact_names(name: str, column: Column) -> tuple[str, ...]:
    return (
        tuple(f"{name}_{part}" for part in ("high", "unit", "source", "at", "status", "note"))
        if column.holds == "fact"
        else ()
    )


def _fact_cells(name: str, value: Fact | None) -> dict[str, Any]:
    if value is None:
        return {}
    parts = ("unit", "source", "at", "status", "note")
    return {
        name: value.low,
        f"{name}_high": value.high,
        **{f"{name}_{part}": _safe(getattr(value, part)) for part in parts},
    }


def _cell(value: Any) -> Any:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return _safe("; ".join(str(_cell(each)) for each in value))
    if isinstance(value, Judgement):
        return f"{value.what}: {value.verdict} ({value.why})"
    if isinstance(value, Statement):
        return f"{value.says} ({value.source} {value.at})"
    if isinstance(value, Cause):
        return f"{value.cause} {value.test} {value.now}"
    if isinstance(value, Origin):
        return _safe(f"{value.source} {value.at}".strip())
    return value if isinstance(value, int) else _safe(value or "")


def _safe(text: str) -> str:
    return f"'{text}" if _FORMULA.match(text) else text


def as_json(table: str, rows: Iterable[Any]) -> str:
    """Return rows of ``table`` as JSON, with what each part means."""
    declared = tables.columns(tables.TABLES[table])
    columns = {
        name: {"label": column.label, "help": column.help, **({"unit": column.unit} if column.unit else {})}
        for name, column in declared.items()
    }
    made = [{name: _plain(getattr(row, name)) for name in declared} for row in rows]
    return (
        json.dumps(
            {"table": table, "licence": "CC BY 4.0", "columns": columns, "rows": made}, ensure_ascii=False, indent=1
        )
        + "\n"
    )


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    if isinstance(value, (Cause, Fact, Judgement, Origin, Statement)):
        return {name: part for name, part in vars(value).items() if part != ""}
    return value

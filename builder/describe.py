"""python -m builder describe TABLE: what each part of a row means and takes, and a
whole row, as the declarations have it.
"""

from __future__ import annotations

import re
from pathlib import Path

from builder.mistakes import Mistakes
from calculators.numbers import plain
from calculators.tables import FOLDERS, MARKS, STATUSES, TABLES, VERDICTS, Column, columns, required
from calculators.tables.rules import file_of, pattern


def described_tables() -> str:
    """Return every table with what one row of it is, a line each."""
    wide = max(len(file_of(table)) for table in TABLES)
    lines = [
        f"{file_of(table):{wide}}  {(declared.__doc__ or '').splitlines()[0]}" for table, declared in TABLES.items()
    ]
    return "\n".join([*lines, "", "python -m builder describe TABLE explains the parts of its rows.", ""])


def described(root: Path, table: str) -> str:
    """Return the parts of a row of ``table`` below ``root``, each with what it
    takes, and the first row as it stands there.

    Raises ``Mistakes`` where there is no such table.
    """
    if table not in TABLES:
        raise Mistakes([f"There is no table '{table}'. The tables are {', '.join(TABLES)}"])
    declared = TABLES[table]
    lines = [f"{file_of(table)}: {declared.__doc__}", "", *_parts(declared, "")]
    marks = "; ".join(f"{mark}: {means}" for mark, means in MARKS.items())
    lines += [
        "",
        f"source: a document of data/sources.yaml, or one of these: {marks}",
        f"status: how a value or the words of a row are known, beside a document; {_statuses()}",
        "",
    ]
    return "\n".join([*lines, "A whole row:", "", first_row(root, table), ""])


def first_row(root: Path, table: str) -> str:
    """Return the text of the first row of ``table``, or of its first file."""
    folder = root / "data" / table
    if folder.is_dir():
        return min(folder.glob("*.yaml")).read_text("utf-8").rstrip()
    text = (root / file_of(table)).read_text("utf-8")
    rows = re.split(r"(?m)^(?=- )", text)[1:]
    row = next(each for each in rows if not re.match(r"- \{id: [^}]*now:", each))
    return re.sub(r"(?m)^#.*\n?", "", row).rstrip()


def _parts(declared: type, indent: str) -> list[str]:
    lines = []
    for name, column in columns(declared).items():
        if name == "id" and indent == "" and declared in [TABLES[each] for each in FOLDERS]:
            continue  # given by the file name
        needed = "" if name in required(declared) else "optional; "
        lines.append(f"{indent}{pattern(name, column)[1:-1]}")
        lines.append(f"{indent}    {needed}{column.help}{_taken(column)}")
        if column.row is not None:
            lines += [f"{indent}    of each:", *_parts(column.row, f"{indent}    ")]
    return lines


def _taken(column: Column) -> str:
    """What a part takes beyond its help: choices, units, bounds and counts."""
    taken = []
    if len(column.one_of) > 1:
        taken.append(f"one of {', '.join(column.one_of)}")
    if column.table:
        taken.append("ids from " + ", ".join(map(file_of, column.table)))
    if column.holds == "judgements":
        taken.append(f"as table/id, with a verdict: {', '.join(VERDICTS)}")
    if column.holds == "fact":
        taken.append(f"in {' or '.join(column.units or (column.unit,))}, value: one number, or low: and high:")
        if not column.units:
            taken.append(f"from {plain(column.low)} to {plain(column.high)}")
    if column.holds == "text" and not column.one_of:
        taken.append(f"at most {column.most} characters")
    if column.fewest or column.at_most:
        taken.append(f"{column.fewest} to {column.at_most} of them" if column.at_most else f"at least {column.fewest}")
    if column.safety:
        taken.append("a safety figure: only from a document that was read")
    return f" ({'; '.join(taken)})" if taken else ""


def _statuses() -> str:
    return ", ".join(f"{name} ({words})" for name, words in STATUSES.items())

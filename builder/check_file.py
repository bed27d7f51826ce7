"""From the bytes of a table file to the YAML nodes of its rows.

An unreadable row is reported and skipped; the others are still read, so that all mistakes are
reported at once. Nodes keep their line and column in the file.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from builder.check_syntax import diagnose
from builder.mistakes import Mistake
from calculators.tables.rules import UNSEEN, unseen

#: A table is a few hundred rows of text; anything larger is not a table.
MOST_BYTES = 2 * 1024 * 1024
#: The deepest nesting of a row: its parts, a list in a part, a source in an entry.
_DEEPEST = 12

LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_SCALARS = yaml.constructor.SafeConstructor()
_STR = "tag:yaml.org,2002:str"

#: Patterns that are refused anywhere. Each is searched only if the plain text before it occurs in the file: a
#: site may have thousands of files. A message points at the last character of the match.
_SUSPECTS = (
    ("\t", re.compile(r"^[ -]*\t", re.MULTILINE)),
    ("\r", re.compile(r"\r(?!\n)")),
    ("- -", re.compile(r"^(?: *- +){4} *-(?= )", re.MULTILINE)),
    (" " * 4 * _DEEPEST, re.compile(f"^{' ' * 4 * _DEEPEST}", re.MULTILINE)),
    ("&", re.compile(r"&(?=[\w<!(+-])")),
    ("*", re.compile(r"\*(?=[\w<!(+-])")),
    ("!", re.compile(r"!(?=[\w<!(+-])")),
    ("", UNSEEN),
)
_BRACKET = re.compile(r"""[\[\]{}]|^\S|"(?:[^"\\\n]|\\.)*\"""", re.MULTILINE)
#: Where a row begins, also one with a slip in its first signs; or a document.
_BEGINS = re.compile(r"-(?![\d.])|id\s*:|%|\.\.\.")
_ROW_ID = re.compile(r"""^-?\s*\{?\s*id\s*:\s*["']?([a-z0-9-]+)""", re.MULTILINE)


@dataclass
class Reading:
    """What was made of one file: the nodes of its rows, the ids of rows that could not be read, the mistakes.

    ``readable`` is false if no row could be read; then references to the table cannot be checked.
    """

    rows: list[yaml.MappingNode] = field(default_factory=list)
    unread_ids: set[str] = field(default_factory=set)
    mistakes: list[Mistake] = field(default_factory=list)
    readable: bool = True


def read_file(path: Path, file: str, keys: Collection[str], *, listed: bool = True) -> Reading:
    """Return the rows of the file at ``path``; ``file`` is its name in messages.

    ``keys`` are the names that parts of its rows may have. A ``listed`` file holds a list of rows, any other file one.
    """
    reading = Reading()
    text = _text(path, file, reading)
    if text is None:
        reading.readable = False
        return reading
    suspects = [*_suspects(text, file)]
    top = None if suspects else _composed(text)
    if isinstance(top, yaml.SequenceNode) and listed:
        _add_rows(top.value, file, reading)
    elif isinstance(top, yaml.MappingNode) and not listed:
        reading.rows.append(top)
    else:
        _read_chunks(text, file, keys, suspects, reading, listed=listed)
    return reading


def plain_value(node: yaml.Node) -> Any:
    """Return what a node of correct YAML holds, as ``yaml.load`` does."""
    if isinstance(node, yaml.ScalarNode):
        return node.value if node.tag == _STR else _SCALARS.construct_object(node)
    if isinstance(node, yaml.SequenceNode):
        return [plain_value(each) for each in node.value]
    return {plain_value(key): plain_value(value) for key, value in node.value}


def _text(path: Path, file: str, reading: Reading) -> str | None:
    def report(line: int, column: int, what: str, fix: str) -> None:
        reading.mistakes.append(Mistake(file, line, column, what, fix))

    try:
        if path.stat().st_size > MOST_BYTES:
            report(1, 1, "the file is larger than 2 MiB", "split it, or take out what is no table")
            return None
        raw = path.read_bytes()
    except OSError:
        report(1, 1, "the file is missing", "put it back, or add it with its first row")
        return None
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        report(1, 1, "the file is UTF-16", "save the file as UTF-8")
        return None
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        before = raw[: error.start]
        column_text = before[before.rfind(b"\n") + 1 :].removeprefix(b"\xef\xbb\xbf").decode("utf-8")
        report(before.count(b"\n") + 1, len(column_text) + 1, "this character is not UTF-8", "save the file as UTF-8")
        return None


def _composed(text: str) -> yaml.Node | None:
    try:
        return yaml.compose(text, Loader=LOADER)
    except (yaml.YAMLError, RecursionError, ValueError):
        return None


def _add_rows(nodes: list[yaml.Node], file: str, reading: Reading) -> None:
    for node in nodes:
        if isinstance(node, yaml.MappingNode):
            reading.rows.append(node)
        else:
            mark = node.start_mark
            reading.mistakes.append(
                Mistake(file, mark.line + 1, mark.column + 1, "this is no row", "begin each row with '- id: …'")
            )


# -- Refused before YAML parses the text


def _suspects(text: str, file: str) -> Iterator[Mistake]:
    """Yield refused patterns in the order of the file, at most one per line."""
    found: dict[int, Mistake] = {}
    matches = (match for sign, pattern in _SUSPECTS if sign in text for match in pattern.finditer(text))
    for match in sorted(matches, key=re.Match.start):
        line, column = _place(text, match.end() - 1)
        what = _refused(text, match)
        if what and line not in found:
            found[line] = Mistake(file, line, column, *what)
    deep = _too_deep(text)
    if deep is not None:
        line, column = _place(text, deep)
        found.setdefault(
            line,
            Mistake(
                file,
                line,
                column,
                "lists stand in lists too deep for a row",
                "compare the row with what `python -m builder describe` shows of its table",
            ),
        )
    yield from (found[line] for line in sorted(found))


def _refused(text: str, match: re.Match[str]) -> tuple[str, str] | None:
    last = match[0][-1]
    if last == "\t":
        return "a tab stands in the indent", "use two spaces for each step"
    if last in "&*!":
        start = text.rfind("\n", 0, match.start()) + 1
        line = text[start : match.end() - 1]
        if line.count('"') % 2 or re.search(r"(?:^|\s)#", line) or not re.search(r"(?:^|[:\[{,]|-) *$", line):
            return None  # within quotes, a comment or a sentence
        return (
            "anchors, aliases and tags are not used here",
            "write the value out, in double quotes if it begins with &, * or !",
        )
    if last == " " or last == "-":
        return (
            "lists stand in lists too deep for a row",
            "compare the row with what `python -m builder describe` shows of its table",
        )
    if last == "\r":
        return (
            "a line ends in a way that YAML reads differently",
            "save the file with the line ends of Windows or of Unix",
        )
    return unseen(last)


def _too_deep(text: str) -> int | None:
    if text.count("[") + text.count("{") <= _DEEPEST:
        return None
    depth = 0
    for match in _BRACKET.finditer(text):
        if match[0] in ("[", "{"):
            depth += 1
            if depth > _DEEPEST:
                return match.start()
        elif match[0] in ("]", "}"):
            depth = max(0, depth - 1)
        elif match[0][0] != '"':
            depth = 0  # a line that is not indented: a new row
    return None


def _place(text: str, position: int) -> tuple[int, int]:
    return text.count("\n", 0, position) + 1, position - text.rfind("\n", 0, position)


# -- Row by row, if the whole file cannot be parsed


def _read_chunks(
    text: str, file: str, keys: Collection[str], suspects: list[Mistake], reading: Reading, *, listed: bool
) -> None:
    lines = text.split("\n")
    starts = [place for place, line in enumerate(lines) if _BEGINS.match(line)] if listed else [0]
    if not any(line.strip() and not line.lstrip().startswith("#") for line in lines):
        what = "the file holds no row"
        reading.mistakes.append(
            Mistake(
                file, 1, 1, what, "add a row, or write [] for none" if listed else "copy a file that stands beside it"
            )
        )
        return
    first = starts[0] if starts else 0
    bounds = [0 if start == first else start for start in (starts or [0])]
    for start, end in zip(bounds, [*bounds[1:], len(lines)], strict=True):
        chunk = lines[start:end]
        held = [each for each in suspects if start < each.line <= end]
        if held:
            reading.mistakes.append(held[0])
        elif not _read_chunk(chunk, start, file, keys, reading, listed=listed):
            pass
        else:
            continue
        reading.unread_ids.update(_ROW_ID.findall("\n".join(chunk)))


def _read_chunk(
    chunk: list[str], start: int, file: str, keys: Collection[str], reading: Reading, *, listed: bool
) -> bool:
    """Add the row of a chunk, or report why it cannot be read and return False."""
    if (
        listed
        and not [line for line in chunk if line.strip("- .") and not line.lstrip().startswith("#")]
        and chunk[0].startswith("---")
    ):
        if start == 0:
            return True  # the mark of a document's begin, before the first row
    error: Exception
    try:
        # Leading blank lines make the line numbers match the file.
        node = yaml.compose("\n" * start + "\n".join(chunk), Loader=LOADER)
        if isinstance(node, yaml.SequenceNode) and listed:
            _add_rows(node.value, file, reading)
            return True
        if isinstance(node, yaml.MappingNode) and not listed:
            reading.rows.append(node)
            return True
        if (
            isinstance(node, yaml.SequenceNode)
            and not listed
            and len(node.value) == 1
            and isinstance(node.value[0], yaml.MappingNode)
        ):
            line = node.start_mark.line + 1
            what, fix = (
                "a dash stands before an entry, as if it were one of a list",
                "take the dash out, and two blanks from the start of each line",
            )
            reading.mistakes.append(Mistake(file, line, node.start_mark.column + 1, what, fix))
            return False
        error = yaml.YAMLError("this is no row")
    except (yaml.YAMLError, RecursionError, ValueError) as raised:
        error = raised
    line, column, what, fix = diagnose(chunk, start, error, keys, listed=listed)
    reading.mistakes.append(Mistake(file, line, column, what, fix))
    return False

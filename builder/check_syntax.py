"""Why YAML cannot read a row, in words that name the character to put right.

The parser reports where it gave up, in terms of its grammar and often lines after the slip. This module
looks for the usual slips, each with the corrected line; the parser's position is the last resort.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Sequence

from builder.check_indents import wrong_indent

Diagnosis = tuple[int, int, str, str]

_COMPARE = "compare the row with what `python -m builder describe` shows of its table"
_QUOTED = re.compile(r'"(?:[^"\\]|\\.)*"|(?<=[\s\[{,])\'(?:[^\']|\'\')*\'')
_COMMENT = re.compile(r"(?:^|\s)#.*$")
_KEY = r"([A-Za-z_][\w-]*)"


def diagnose(chunk: Sequence[str], start: int, error: Exception, keys: Collection[str], *, listed: bool) -> Diagnosis:
    """Return line, column, what is wrong and the corrected text, for lines that begin after line ``start``."""
    for look in (_marks, _dashes, _quotes, _blanks, _brackets, _plain_texts, _colons, _indents):
        for offset, column, what, fix in look(chunk, keys, listed):
            return start + offset + 1, column + 1, what, fix
    mark = getattr(error, "problem_mark", None)
    line, column = (mark.line + 1, mark.column + 1) if mark else (start + 1, 1)
    what = getattr(error, "problem", None) or "this is no row"
    return min(line, start + len(chunk)), column, f"YAML cannot be read here: {what}", _COMPARE


_Look = Callable[[Sequence[str], Collection[str], bool], Iterator[Diagnosis]]


def _bare(line: str) -> str:
    """Return the line with quoted text masked and without its comment; columns stay the same."""
    return _COMMENT.sub("", _QUOTED.sub(lambda found: '"' + "x" * (len(found[0]) - 2) + '"', line))


def _corrected(line: str) -> str:
    return f"write: {line.strip()}"


def _marks(chunk: Sequence[str], keys: Collection[str], listed: bool) -> Iterator[Diagnosis]:
    for place, line in enumerate(chunk):
        if re.match(r"(?:---|\.\.\.|%)", line):
            yield place, 0, "a file is one document", f"take the line '{line.strip()[:20]}' out"


def _dashes(chunk: Sequence[str], keys: Collection[str], listed: bool) -> Iterator[Diagnosis]:
    if not listed:
        return
    for place, line in enumerate(chunk):
        if re.match(r"-[A-Za-z{\"']", line):
            yield place, 0, "a blank is missing after the dash", _corrected(f"- {line[1:]}")
        elif re.match(r"\s+-\s+id\s*:", line):
            yield (
                place,
                line.index("-"),
                "the dash of a row stands at the start of its line",
                "take the blanks before it out",
            )
        elif re.match(r"id\s*:", line):
            yield place, 0, "a row begins here without its dash", _corrected(f"- {line}")
        elif line[:1] not in ("", " ", "#", "-", "\t"):
            found = re.match(rf"{_KEY}\s*:", line)
            if found and found[1] in keys:
                yield (
                    place,
                    0,
                    f"'{found[1]}' stands at the start of its line",
                    "indent it by two blanks, as part of its row",
                )
            else:
                yield place, 0, "this belongs to no row", "begin each row with '- id: …'"


def _quotes(chunk: Sequence[str], keys: Collection[str], listed: bool) -> Iterator[Diagnosis]:
    for place, line in enumerate(chunk):
        bare = _bare(line)
        odd = re.search(r'"(?!x*")[^"]*$', re.sub(r'"x*"', lambda found: "x" * len(found[0]), bare))
        inner = re.search(r'(?<=[:\[{,-])\s+"x*"(?=[^\s,\]}#:])|(?<=[:\[{,-])\s+"x*"\s+(?=[^\s,\]}#])', bare)
        if inner and re.search(r'"x*"[^,\]}]*"', bare[inner.start() :]):
            text = re.match(r'(\s*(?:- )?(?:[\w-]+: )?)"(.*)"(\s*)$', line)
            fix = (
                _corrected(f'{text[1]}"' + re.sub(r'(?<!\\)"', lambda _: '\\"', text[2]) + '"')
                if text
                else 'write it as \\"'
            )
            yield place, inner.end() - 1, "a quotation mark stands inside a quoted text", fix
        elif inner:
            yield place, inner.end(), "something stands after a quoted text", "take it into the quotation marks, or out"
        elif odd:
            rest = line[odd.start() :]
            close = re.search(r"[\]}]|, \w+: ", rest)
            at = odd.start() + close.start() if close else len(line.rstrip())
            yield place, odd.start(), "a quotation mark is not closed", _corrected(line[:at] + '"' + line[at:])
        elif re.search(r":\s+'[^']*$", bare):
            yield (
                place,
                bare.rindex("'"),
                "a quotation mark is not closed",
                _corrected(line.rstrip().replace("'", '"') + '"'),
            )


def _blanks(chunk: Sequence[str], keys: Collection[str], listed: bool) -> Iterator[Diagnosis]:
    for place, line in enumerate(chunk):
        found = re.search(rf"(?:^\s*(?:- )?|[{{,]\s*){_KEY}:(?=[^\s:/])", _bare(line))
        if found and found[1] in keys:
            at = found.end()
            yield place, at - 1, f"a blank is missing after '{found[1]}:'", _corrected(f"{line[:at]} {line[at:]}")
        dash = re.match(r"\s+-(?=[A-Za-z\"'{])", line)
        if dash:
            yield (
                place,
                dash.end() - 1,
                "a blank is missing after the dash",
                _corrected(f"{line[: dash.end()]} {line[dash.end() :]}"),
            )


def _brackets(chunk: Sequence[str], keys: Collection[str], listed: bool) -> Iterator[Diagnosis]:
    pairs = {"[": "]", "{": "}"}
    open_ones: list[tuple[int, int, str]] = []
    for place, line in enumerate(chunk):
        if open_ones and re.match(rf"\s*(?:- )?{_KEY}:(?:\s|$)", line) and place > open_ones[0][0]:
            break  # a new part begins, so the closing bracket is missing
        for column, character in enumerate(_bare(line)):
            if character in pairs:
                open_ones.append((place, column, character))
            elif character in "]}":
                if not open_ones or pairs[open_ones[-1][2]] != character:
                    wanted = f"write {pairs[open_ones[-1][2]]} for it" if open_ones else "take it out"
                    yield place, column, f"the bracket {character} closes none", wanted
                    return
                open_ones.pop()
    if open_ones:
        place, column, character = open_ones[-1]
        yield (
            place,
            column,
            f"the bracket {character} is not closed",
            _corrected(_COMMENT.sub("", chunk[place]).rstrip() + pairs[character]),
        )


def _plain_texts(chunk: Sequence[str], keys: Collection[str], listed: bool) -> Iterator[Diagnosis]:
    for place, line in enumerate(chunk):
        bare = _bare(line)
        found = re.match(rf"(\s*(?:- )?(?:{_KEY}:\s+)?)([^\s\"'\[{{|>#].*?)\s*$", bare)
        if found and re.search(r":(?:\s|$)", found[3]) and (found[2] or not re.match(rf"{_KEY}:", found[3])):
            yield (
                place,
                found.start(3),
                "a colon stands in a text without quotation marks",
                _corrected(f'{found[1]}"{line[found.start(3) : found.end(3)]}"'),
            )
        special = re.search(r"(?:(?<=[:\[{,])|(?<=-)) +([@`%,]|[|>](?![-+\d]*\s*$))", bare)
        if special:
            at = special.start(1)
            text = re.split(r"[,\]}]", line[at + 1 :])[0].rstrip()
            yield (
                place,
                at,
                f"no text may begin with {special[1]} without quotation marks",
                _corrected(f'{line[:at]}"{special[1]}{text}"{line[at + 1 + len(text) :]}'),
            )
        within = re.search(rf"[{{,]\s*{_KEY}:\s+([^\"'\[\]{{}},]*?:\s[^,\]}}]*)", bare)
        if within:
            at, end = within.span(2)
            yield (
                place,
                at,
                "a colon stands in a text without quotation marks",
                _corrected(f'{line[:at]}"{line[at:end].rstrip()}"{line[end:]}'),
            )


def _colons(chunk: Sequence[str], keys: Collection[str], listed: bool) -> Iterator[Diagnosis]:
    for place, line in enumerate(chunk):
        found = re.match(rf"\s*(?:- )?{_KEY}(?=\s+[^:\s]|\s*$|[=\[{{\"])", _bare(line))
        if found and found[1] in keys and not re.match(r"\s*- [^:]*$", line):
            at = found.end()
            rest = re.sub(r"^\s*=?\s*", "", line[at:])
            yield place, at, f"a colon is missing after '{found[1]}'", _corrected(f"{line[:at]}: {rest}")


def _indents(chunk: Sequence[str], keys: Collection[str], listed: bool) -> Iterator[Diagnosis]:
    if found := wrong_indent(chunk, listed=listed):
        place, indent, wanted = found
        yield place, indent, *messages_of_indent(chunk[place], indent, wanted)


def messages_of_indent(line: str, indent: int, wanted: int) -> tuple[str, str]:
    """Return the message for a line with the wrong indent, and its cure."""
    return (
        f"this line is indented by {indent}, not by {wanted}",
        f"write {wanted or 'no'} blanks before '{line.strip()[:40]}'",
    )

"""Which line of a row has the wrong indent, where YAML cannot read the row.

YAML reports where it gave up, which is often a correct line below the slip. So each line is tried at the indents of its
neighbours: the first change that makes the row readable is the cure.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import yaml

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
#: Longer rows are not searched, since each try parses the whole row.
_MOST_LINES = 200


def wrong_indent(lines: Sequence[str], *, listed: bool) -> tuple[int, int, int] | None:
    """Return the place of the line, its indent and the indent that it should have; None if no line stands out."""
    if len(lines) <= _MOST_LINES:
        for place, line in enumerate(lines):
            if _has_part(line):
                for wanted in _candidates(lines, place):
                    if _reads([*lines[:place], " " * wanted + line.lstrip(), *lines[place + 1 :]], listed=listed):
                        return place, _indent(line), wanted
    return _out_of_step(lines, listed=listed)


def _has_part(line: str) -> bool:
    return bool(line.strip()) and not line.lstrip().startswith("#")


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())


def _inner(line: str) -> int:
    """The column of what a line holds, after its dashes."""
    found = re.match(r"\s*(?:- +)*", line)
    return len(found[0]) if found else 0


def _candidates(lines: Sequence[str], place: int) -> Iterator[int]:
    """Yield indents for a line, most likely first: that of its sibling above, then of other lines, nearest first."""
    here = _indent(lines[place])
    above = [line for line in lines[:place] if _has_part(line)]
    if lines[place].lstrip().startswith("- "):
        sibling = next((_indent(line) for line in reversed(above) if line.lstrip().startswith("- ")), None)
    else:
        sibling = _inner(above[-1]) if above else None
    others = {indent for line in lines if _has_part(line) for indent in (_indent(line), _inner(line))}
    opened = [_inner(above[-1]) + 2] if above and re.search(r":\s*(?:#.*)?$", above[-1]) else []
    order = [] if sibling is None else [sibling]
    order += sorted({*others, *opened}, key=lambda each: (abs(each - here), each))
    yield from dict.fromkeys(each for each in order if each != here)


def _reads(lines: Sequence[str], *, listed: bool) -> bool:
    try:
        top = yaml.compose("\n".join(lines), Loader=_LOADER)
    except (yaml.YAMLError, RecursionError, ValueError):
        return False
    if listed:
        return isinstance(top, yaml.SequenceNode) and len(top.value) == 1 and isinstance(top.value[0], yaml.MappingNode)
    return isinstance(top, yaml.MappingNode)


def _out_of_step(lines: Sequence[str], *, listed: bool) -> tuple[int, int, int] | None:
    """Find the first line not indented by a step of two, for rows with several slips that no single change cures."""
    levels = [2 if listed else 0]
    for place, line in enumerate(lines):
        if not _has_part(line) or (listed and place == 0):
            continue
        indent = _indent(line)
        if indent not in levels:
            return place, indent, min(levels, key=lambda each: (abs(each - indent), -each))
        levels = [each for each in levels if each <= indent]
        if line.lstrip().startswith("- "):
            levels.append(indent + 2)
        if re.search(r":\s*(?:#.*)?$", line):
            levels.append(_inner(line) + 2)
    return None

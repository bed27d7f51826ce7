"""Every shipped row with one mistake in each of its parts: exactly one message, at the place, with a cure.

The mistakes are drawn by a seeded generator. In each round every row of every table has one, so a round also
tests that all are reported at once and none hides another.
"""

import gc
import random
import re
from dataclasses import dataclass
from functools import lru_cache
from itertools import zip_longest
from pathlib import Path

import pytest
import yaml

from builder import check_file, check_value
from builder.check import IDS, check
from builder.check_file import LOADER
from calculators.tables import COMMON_PRACTICE, FOLDERS, TABLES, columns, required

ROOT = Path(__file__).resolve().parents[2]
SEED = 4
CHOICES = ("unit", "ref", "verdict", "what", "status")
ID = re.compile(r"^- \{?id: ([\w-]+)", re.MULTILINE)
NUMBERS = ("value", "low", "high")


@dataclass(frozen=True)
class Spoiling:
    """A cut from a file, its replacement, and the lines (from 0) and column where the mistake must be reported."""

    file: str
    row: int
    what: str
    start: int
    end: int
    text: str
    lines: tuple[int, int]
    column: int | None = None
    reported: bool = True


def parts_of(node, path=()):
    """Yield every key and value in a row with the mapping that holds them, however deep."""
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            yield node, key, value, (*path, key.value)
            yield from parts_of(value, (*path, key.value))
    elif isinstance(node, yaml.SequenceNode):
        for each in node.value:
            yield from parts_of(each, path)


def end_of(value, text):
    """The end of a node's text; a block ends only where the next node begins."""
    end = value.end_mark.index
    written = re.sub(r"(?m)(?:^|\s+)#[^\n\"]*$", lambda found: " " * len(found[0]), text[value.start_mark.index : end])
    return value.start_mark.index + len(written.rstrip())


#: Parts of a lettering rule that another part of it needs.
_NEEDED_BY = {
    "height": "height_is",
    "gap": "gap_is",
    "narrow_characters": "narrow",
    "wide": "wide_characters",
    "wide_characters": "wide",
}


def spoilings(file, row, node, text, neighbour):
    """Yield every possible mistake for each part of a row."""
    table = table_of(file)
    declared = columns(TABLES[table])
    for parent, key, value, path in parts_of(node):
        name, start, end = key.value, value.start_mark.index, end_of(value, text)
        inner = len(path) > 1
        lines_within = "\n" * text.count("\n", start, end)

        def spoil(kind, new, node=value, start=start, end=end, path=path):
            mark = node.start_mark
            return Spoiling(
                file, row, f"{'.'.join(path)}: {kind}", start, end, new, (mark.line, mark.line), mark.column
            )

        def deleted(key=key, end=end, parent=parent, name=name, inner=inner, path=path):
            first, last = key.start_mark.index, end
            if parent.flow_style:
                after = re.match(r"\s*,\s*", text[last:])
                before = re.search(r",\s*$", text[:first])
                last = last + after.end() if after else last
                first = before.start() if before and not after else first
            # The waits that a row's texts name have to be listed.
            needed = name != "note" and (inner or name in (*required(TABLES[table]), "status", "waits"))
            needed |= not inner and name in _NEEDED_BY and re.search(f"(?m)^{_NEEDED_BY[name]}:", text) is not None
            place = (parent.start_mark.line, parent.end_mark.line)
            return Spoiling(
                file,
                row,
                f"{'.'.join(path)}: delete",
                first,
                last,
                "\n" * text.count("\n", first, last),
                place,
                reported=needed,
            )

        found = [deleted(), spoil("misspell", f"{name[:-1]}q{name[-1]}", key, key.start_mark.index, key.end_mark.index)]
        found.append(spoil("wrong type", ("{a: 1}" if isinstance(value, yaml.ScalarNode) else "7") + lines_within))
        if isinstance(value, yaml.ScalarNode):
            is_number = inner and name in NUMBERS and declared[path[0]].holds == "fact"
            column = None if inner else declared[name]
            found.append(spoil("empty", '""'))
            found.append(spoil("script", '"<script>alert(1)</script>"'))
            if (inner and name in CHOICES) or (
                column and (column.one_of or column.holds in ("ref", "yes-no", "whole", "url"))
            ):
                found.append(spoil("unknown word", "zz-top"))
            if name == "source" and value.value == COMMON_PRACTICE:
                found.append(spoil("unknown source", "hearsay"))
            if is_number:
                found.append(spoil("absurd", "999999999999"))
                found.append(spoil("unit within", f'"{value.value} parsec"'))
                found.append(spoil("decimal comma", f'"{value.value},5"'))
            if name == "id" and not inner:
                found.append(spoil("another id", f"{value.value}-q"))
                found.append(spoil("id of a neighbour", neighbour))
        yield found


def rounds():
    """Yield rounds: one mistake in one part of every shipped row, until each part had its turn."""
    draw = random.Random(SEED)
    rows = []
    for file, text in shipped().items():
        ids = re.findall(ID, text) or ["", ""]
        for place, node in enumerate(rows_of(file, text)):
            if all(key.value != "now" for key, _ in node.value):
                one_each = [
                    draw.choice(found) for found in spoilings(file, place, node, text, ids[place - 1 if place else 1])
                ]
                of_id = one_each.pop(0)
                draw.shuffle(one_each)
                one_each += [None] * (4 - len(one_each))
                one_each.insert(place % 5, of_id)  # two neighbours with wrong ids in one round would be another mistake
                rows.append(one_each)
    for round_ in zip_longest(*rows):
        yield [each for each in round_ if each]


def shipped():
    """Return the text of every file of the tables, by its path."""
    paths = [
        path
        for table in TABLES
        for path in (sorted((ROOT / "data" / table).glob("*.yaml")) or [ROOT / "data" / f"{table}.yaml"])
    ]
    return {path.relative_to(ROOT).as_posix(): path.read_text("utf-8") for path in paths}


def table_of(file):
    return Path(file).stem if Path(file).stem in TABLES else Path(file).parent.name


def rows_of(file, text):
    """Return the nodes of the rows in a file: those of its list, or its only row."""
    node = yaml.compose(text, Loader=LOADER)
    return [node] if table_of(file) in FOLDERS else node.value


@pytest.fixture(scope="module")
def tree(tmp_path_factory):
    root = tmp_path_factory.mktemp("spoilt")
    published = []
    for file, text in shipped().items():
        (root / file).parent.mkdir(parents=True, exist_ok=True)
        (root / file).write_text(text, "utf-8")
        ids = [Path(file).stem] if table_of(file) in FOLDERS else re.findall(ID, text)
        published += [f"{table_of(file)}/{id}" for id in ids]
    (root / IDS).write_text("\n".join(published), "utf-8")
    return root


@pytest.fixture
def unswept():
    """Turn the garbage collector off, which takes half the time with the many objects of a test run."""
    gc.disable()
    yield
    gc.enable()


@pytest.fixture
def checked_once(monkeypatch):
    """Parse a file and check a text once: after twenty rounds, all but six files of the hundred are as shipped."""
    monkeypatch.setattr(check_file, "_composed", lru_cache(400)(check_file._composed))
    monkeypatch.setattr(check_value, "wrong_text", lru_cache(100_000)(check_value.wrong_text))


def test_spoiling_any_part_of_a_shipped_row_is_reported_once(tree, unswept, checked_once):
    texts = shipped()
    starts = {file: [node.start_mark.line for node in rows_of(file, text)] for file, text in texts.items()}
    assert check(tree) == []
    wrong, written = [], texts
    count = 0
    for round_ in rounds():
        spoilt = dict(texts)
        for each in sorted(round_, key=lambda each: -each.start):
            text = spoilt[each.file]
            spoilt[each.file] = text[: each.start] + each.text + text[each.end :]
        for file, text in spoilt.items():
            if text != written[file]:
                (tree / file).write_text(text, "utf-8")
        written = spoilt
        mistakes = check(tree)
        for each in round_:
            first = starts[each.file][each.row]
            after = starts[each.file][each.row + 1] if each.row + 1 < len(starts[each.file]) else 10**6
            mine = [mistake for mistake in mistakes if mistake.file == each.file and first <= mistake.line - 1 < after]
            fits = [
                mistake
                for mistake in mine
                if each.lines[0] <= mistake.line - 1 <= each.lines[1]
                and each.column in (None, mistake.column - 1)
                and mistake.what
                and mistake.fix
            ]
            if (len(mine), len(fits)) != ((1, 1) if each.reported else (0, 0)):
                wrong.append(
                    f"{each.file} row {each.row}, {each.what}, at {each.lines[0] + 1}:{each.column}: "
                    + ("; ".join(f"{mistake.line}:{mistake.column} {mistake.what}" for mistake in mine) or "nothing")
                )
        count += len(round_)
    for file, text in texts.items():
        (tree / file).write_text(text, "utf-8")
    assert not wrong, f"{len(wrong)} of {count}:\n" + "\n".join(wrong[:40])
    assert count > 1000

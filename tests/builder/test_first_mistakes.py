"""Twenty mistakes of a first contribution: each is told once, at its line, and its cure works when it is followed."""

import re
from pathlib import Path

import pytest

from builder.check import check
from tests.builder.first_mistakes import FIRST_MISTAKES, OTHER_FIRST_MISTAKES
from tests.builder.tables import FILES, FOLDER_FILES, plant

ROOT = Path(__file__).resolve().parents[2]


def spoilt(mistake):
    """The text of the file with the mistake in it."""
    table, _, row = mistake.table.partition("/")
    text = FOLDER_FILES[table][row] if row else FILES.get(table, "")
    assert mistake.old in text
    return text.replace(mistake.old, mistake.new, 1)


def followed(text, told):
    """``text`` after the cure, word by word, as somebody follows it who knows nothing else."""
    lines = text.split("\n")
    line = lines[told.line - 1]
    indent, before, here = line[: len(line) - len(line.lstrip())], line[: told.column - 1], line[told.column - 1 :]
    token = re.match(r'"(?:[^"\\]|\\.)*"|“[^”]*”|[^,\]}]+', here)
    if found := re.fullmatch(r"write: (.*)", told.fix):
        lines[told.line - 1] = indent + found[1]
    elif found := re.match(r"write (\d+|no) blanks before", told.fix):
        lines[told.line - 1] = " " * int(found[1].replace("no", "0")) + line.lstrip()
    elif found := re.fullmatch(r"did you mean '(.*)'\?", told.fix):
        lines[told.line - 1] = before + found[1] + here[token.end() :]
    elif found := re.fullmatch(r'write (".*")', told.fix):
        lines[told.line - 1] = before + found[1] + here[token.end() :]
    elif found := re.match(r"write '(\w+: [^']*)'", told.fix):
        lines[told.line - 1] = indent + found[1]
    elif found := re.fullmatch(r"add '(.*)'", told.fix):
        lines.insert(told.line - 1, " " * (told.column - 1) + found[1])
    else:
        raise AssertionError(f"nobody can follow: {told.fix}")
    return "\n".join(lines)


def test_twenty_mistakes_are_written_down_beside_those_that_are_not_in_a_file():
    assert len(FIRST_MISTAKES) == 20
    for path in OTHER_FIRST_MISTAKES.values():
        assert (ROOT / path).is_file()


@pytest.mark.parametrize("name", FIRST_MISTAKES)
def test_a_first_mistake_is_told_once_at_its_line_and_its_cure_works(tmp_path, name):
    mistake = FIRST_MISTAKES[name]
    root = plant(tmp_path)
    path = root / "data" / f"{mistake.table}.yaml"
    text = spoilt(mistake)
    path.write_text(text, "utf-8")
    (told,) = check(root)
    assert (told.file, told.line) == (f"data/{mistake.table}.yaml", mistake.line)
    for words in mistake.told:
        assert words in f"{told.what}\n{told.fix}"
    if mistake.new and not mistake.old:
        (moved,) = re.findall(r"move it to (\S+)", told.fix)
        path.unlink()
        path = root / moved
        path.write_text(text, "utf-8")
    elif mistake.by_hand:
        assert mistake.by_hand[0] in text
        path.write_text(text.replace(*mistake.by_hand, 1), "utf-8")
    else:
        path.write_text(followed(text, told), "utf-8")
    assert [str(each) for each in check(root)] == []

"""Twenty mistakes of a first contribution: each is reported once, at its line, and following its cure works."""

import re
from pathlib import Path

import pytest

from builder.check import check
from tests.builder.first_mistakes import FIRST_MISTAKES, OTHER_FIRST_MISTAKES
from tests.builder.tables import FILES, FOLDER_FILES, plant

ROOT = Path(__file__).resolve().parents[2]


def spoilt(mistake):
    """Return the text of the file with the mistake in it."""
    table, _, row = mistake.table.partition("/")
    text = FOLDER_FILES[table][row] if row else FILES.get(table, "")
    assert mistake.old in text
    return text.replace(mistake.old, mistake.new, 1)


def followed(text, mistake):
    """Return ``text`` after following the cure literally."""
    lines = text.split("\n")
    line = lines[mistake.line - 1]
    indent, before, here = (
        line[: len(line) - len(line.lstrip())],
        line[: mistake.column - 1],
        line[mistake.column - 1 :],
    )
    token = re.match(r'"(?:[^"\\]|\\.)*"|“[^”]*”|[^,\]}]+', here)
    if found := re.fullmatch(r"write: (.*)", mistake.fix):
        lines[mistake.line - 1] = indent + found[1]
    elif found := re.match(r"write (\d+|no) blanks before", mistake.fix):
        lines[mistake.line - 1] = " " * int(found[1].replace("no", "0")) + line.lstrip()
    elif found := re.fullmatch(r"did you mean '(.*)'\?", mistake.fix):
        lines[mistake.line - 1] = before + found[1] + here[token.end() :]
    elif found := re.fullmatch(r'write (".*")', mistake.fix):
        lines[mistake.line - 1] = before + found[1] + here[token.end() :]
    elif found := re.match(r"write '(\w+: [^']*)'", mistake.fix):
        lines[mistake.line - 1] = indent + found[1]
    elif found := re.fullmatch(r"add '(.*)'", mistake.fix):
        lines.insert(mistake.line - 1, " " * (mistake.column - 1) + found[1])
    else:
        raise AssertionError(f"nobody can follow: {mistake.fix}")
    return "\n".join(lines)


def test_twenty_first_mistakes_are_recorded():
    assert len(FIRST_MISTAKES) == 20
    for path in OTHER_FIRST_MISTAKES.values():
        assert (ROOT / path).is_file()


@pytest.mark.parametrize("name", FIRST_MISTAKES)
def test_a_first_mistake_is_reported_once_with_a_working_cure(tmp_path, name):
    mistake = FIRST_MISTAKES[name]
    root = plant(tmp_path)
    path = root / "data" / f"{mistake.table}.yaml"
    text = spoilt(mistake)
    path.write_text(text, "utf-8")
    (found,) = check(root)
    assert (found.file, found.line) == (f"data/{mistake.table}.yaml", mistake.line)
    for words in mistake.expected:
        assert words in f"{found.what}\n{found.fix}"
    if mistake.new and not mistake.old:
        (moved,) = re.findall(r"move it to (\S+)", found.fix)
        path.unlink()
        path = root / moved
        path.write_text(text, "utf-8")
    elif mistake.by_hand:
        assert mistake.by_hand[0] in text
        path.write_text(text.replace(*mistake.by_hand, 1), "utf-8")
    else:
        path.write_text(followed(text, found), "utf-8")
    assert [str(each) for each in check(root)] == []

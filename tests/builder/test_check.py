"""The checker: the exact words of each rule, at the exact place, one message for one mistake."""

from pathlib import Path

import pytest

from builder.check import Mistake, check

ROOT = Path(__file__).resolve().parents[2]

SOURCES = """\
- id: iso-216
  title: "Trimmed sizes"
  publisher: Standards body
  year: 2007
  read: copy
"""
PAPERS = """\
- id: a4
  label: "A4"
  width: {value: 210, unit: mm, source: {ref: iso-216, at: "A series"}, status: read}
  height:
    value: 297
    unit: mm
    source: {ref: iso-216, at: "A series"}
    status: read
"""


@pytest.fixture
def tree(tmp_path):
    data = tmp_path / "data"
    data.mkdir()
    for name, text in (("sources", SOURCES), ("papers", PAPERS), ("scales", "[]\n"), ("printers", "[]\n")):
        (data / f"{name}.yaml").write_text(text, "utf-8")
    return tmp_path


def test_the_shipped_tables_are_in_order():
    assert check(ROOT) == []


def test_the_example_is_in_order(tree):
    assert check(tree) == []


@pytest.mark.parametrize(
    ("old", "new", "line", "column", "what", "fix"),
    [
        ("ref: iso-216, at", "ref: iso-216b, at", 3, 47, "source 'iso-216b' is not in data/sources.yaml", "did you mean 'iso-216'?"),
        ("  label:", "  lable:", 2, 3, "'lable' is no part of a row here", "did you mean 'label:'?"),
        ('  label: "A4"\n', "", 1, 3, "'label' is missing", "add 'label: …'"),
        ("    unit: mm\n", "    unit: cm\n", 6, 11, "the unit of 'height' is 'mm'", "convert the value and write 'unit: mm'"),
        ("    value: 297", "    value: 297 mm", 5, 12, "'value' must be a number", "digits with a point, and no unit: '0.15'"),
        ("    value: 297", "    value: 29700", 5, 12, "29700 is no likely 'height'", "values from 50 to 2000 mm are taken; look at unit and point"),
        ("    status: read", "    status: red", 8, 13, "'status' cannot be 'red'", "did you mean 'read'?"),
        ("    status: read\n", "", 5, 5, "'status' is missing", "add 'status: …'"),
        ("id: a4", "id: A4 Sheet", 1, 7, "'id' cannot be 'A4 Sheet'", "lower case, digits and hyphens: 'a4-sheet'"),
        ('"A4"', '"<b>A4</b>"', 2, 10, "'label' holds markup", "write plain words; < and & only with blanks around them"),
        ("    unit: mm", "\tunit: mm", 6, 1, "a tab stands in the indent", "use two spaces for each step"),
        ('label: "A4"', "label: &a A4", 2, 10, "anchors, aliases and tags are not used here", "write the value out, in double quotes if it begins with & or *"),
        ("    value: 297", "    low: 300\n    high: 297", 5, 10, "'low' is above 'high'", "write 'low: 297, high: 300'"),
        ('    source: {ref: iso-216, at: "A series"}\n    status: read', "    source: comon-practice\n    status: read", 7, 13, "this is no source", "did you mean 'common-practice'?"),
        ('    source: {ref: iso-216, at: "A series"}', "    source: common-practice", 8, 5, "common practice has no status", "take 'status' out"),
        ('label: "A4"', 'label: "A4', 3, 61, "YAML cannot be read here: did not find expected key", "compare the line with the example in data/README.md"),
    ],
)  # fmt: skip
def test_one_message_at_the_place_with_the_cure(tree, old, new, line, column, what, fix):
    path = tree / "data" / "papers.yaml"
    assert PAPERS.count(old) >= 1
    path.write_text(PAPERS.replace(old, new, 1), "utf-8")
    assert check(tree) == [Mistake("data/papers.yaml", line, column, what, fix)]


def test_two_mistakes_are_told_at_once(tree):
    (tree / "data" / "papers.yaml").write_text(PAPERS.replace("label", "lable").replace("297", "2.97"), "utf-8")
    assert [mistake.line for mistake in check(tree)] == [2, 5]


def test_same_id_twice(tree):
    (tree / "data" / "papers.yaml").write_text(PAPERS + PAPERS, "utf-8")
    assert check(tree) == [
        Mistake("data/papers.yaml", 9, 7, "id 'a4' stands on line 1 already", "give this row an id of its own")
    ]


def test_bytes_that_are_not_utf8(tree):
    (tree / "data" / "papers.yaml").write_bytes(PAPERS.encode().replace(b"A4\"", b"A4\xff\"", 1))
    assert check(tree) == [Mistake("data/papers.yaml", 2, 13, "this character is not UTF-8", "save the file as UTF-8")]


def test_missing_and_stray_files(tree):
    (tree / "data" / "papers.yaml").rename(tree / "data" / "paper.yaml")
    assert [(each.file, each.what) for each in check(tree)] == [
        ("data/paper.yaml", "this file is no table"), ("data/papers.yaml", "the file is missing"),
    ]  # fmt: skip


def test_words_of_a_mistake():
    mistake = Mistake("data/papers.yaml", 3, 19, "what", "how")
    assert str(mistake) == "data/papers.yaml:3:19: what\nFix: how"
    assert mistake.annotation() == "::error file=data/papers.yaml,line=3,col=19::what. Fix: how"

"""The checker: one message for each mistake, with exact wording and position."""

from pathlib import Path

import pytest

from builder.check import Mistake, check
from tests.builder.mistakes_in_entries import IN_ENTRIES
from tests.builder.mistakes_in_parts import IN_PARTS
from tests.builder.mistakes_in_sources import IN_SOURCES
from tests.builder.mistakes_in_words import IN_WORDS
from tests.builder.tables import FILES, OTHER_TROUBLE, PAPERS, SOURCES, TROUBLE, mistakes_after, plant

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def tree(tmp_path):
    return plant(tmp_path)


def test_the_shipped_tables_are_in_order():
    assert [str(each) for each in check(ROOT)] == []


def test_the_example_is_in_order(tree):
    assert check(tree) == []


RULES = IN_PARTS | IN_WORDS | IN_SOURCES | IN_ENTRIES


@pytest.mark.parametrize(("table", "old", "new", "line", "column", "what", "fix"), RULES.values(), ids=RULES)
def test_one_message_at_the_place_with_the_cure(tmp_path, table, old, new, line, column, what, fix):
    assert mistakes_after(tmp_path, table, old, new) == [Mistake(f"data/{table}.yaml", line, column, what, fix)]


def test_two_mistakes_are_reported_at_once(tree):
    (tree / "data" / "papers.yaml").write_text(PAPERS.replace("label", "lable", 1).replace("297", "2.97"), "utf-8")
    assert [mistake.line for mistake in check(tree)] == [2, 5]


def test_mistakes_of_several_files_come_by_file_and_line(tree):
    for table in ("papers", "fluids"):
        (tree / "data" / f"{table}.yaml").write_text(FILES[table].replace("  label:", "  lable:"), "utf-8")
    assert [(each.file, each.line) for each in check(tree)] == [
        ("data/fluids.yaml", 2),
        ("data/papers.yaml", 2),
        ("data/papers.yaml", 10),
    ]


def test_missing_and_stray_files(tree):
    (tree / "data" / "papers.yaml").rename(tree / "data" / "paper.yaml")
    assert check(tree) == [
        Mistake("data/paper.yaml", 1, 1, "this file is no table", "did you mean 'papers.yaml'?"),
        Mistake("data/papers.yaml", 1, 1, "the file is missing", "put it back, or add it with its first row"),
    ]


def test_a_lost_file_of_sources_is_one_mistake(tree):
    (tree / "data" / "sources.yaml").unlink()
    assert [each.what for each in check(tree)] == ["the file is missing"]


# -- Ids are for ever


@pytest.fixture
def published(tree):
    (tree / "data" / "ids.txt").write_text("papers/a4\npapers/a5\nprinters/laser\nsources/iso-216\n", "utf-8")
    return tree


def mistakes_in_papers(root, text):
    (root / "data" / "papers.yaml").write_text(text, "utf-8")
    return check(root)


def test_a_published_id_that_was_changed(published):
    assert mistakes_in_papers(published, PAPERS.replace("id: a5", "id: a5-sheet")) == [
        Mistake(
            "data/papers.yaml",
            9,
            7,
            "the published id 'a5' became 'a5-sheet'",
            "write 'id: a5', or add a row '- {id: a5, now: a5-sheet}'",
        )
    ]


def test_a_missing_published_id_is_reported_once(published):
    text = PAPERS.replace("- id: a4\n  label", "- label")
    assert [(each.line, each.what) for each in mistakes_in_papers(published, text)] == [(1, "'id' is missing")]


def test_a_published_row_that_is_gone(published):
    fix = "put it back, or leave '- {id: %s, now: …}' in its place"
    assert mistakes_in_papers(published, PAPERS[PAPERS.index("- id: a5") :]) == [
        Mistake("data/papers.yaml", 1, 3, "the published row 'a4' is gone from before this one", fix % "a4")
    ]
    assert mistakes_in_papers(published, PAPERS[: PAPERS.index("- id: a5")]) == [
        Mistake("data/papers.yaml", 1, 1, "the published row 'a5' is gone from the end of the file", fix % "a5")
    ]


def test_a_renamed_row_leaves_a_forwarding_row(published):
    assert mistakes_in_papers(published, PAPERS.replace("id: a5", "id: a5-sheet") + "- {id: a5, now: a5-sheet}\n") == []


def test_references_to_a_lost_id_are_not_reported_again(published):
    path = published / "data" / "printers.yaml"
    path.write_text(FILES["printers"].replace("id: laser", "id: lazer"), "utf-8")
    assert [(each.file, each.line) for each in check(published)] == [("data/printers.yaml", 1)]
    sources = published / "data" / "sources.yaml"
    path.write_text(FILES["printers"], "utf-8")
    sources.write_text(SOURCES.replace("id: iso-216", "id: iso-217"), "utf-8")
    assert [(each.file, each.line) for each in check(published)] == [("data/sources.yaml", 1)]


# -- A folder with a file a row


def test_a_table_may_be_a_folder(tree):
    data = tree / "data"
    (data / "printers.yaml").unlink()
    (data / "printers").mkdir()
    row = "\n".join(line[2:] for line in FILES["printers"].splitlines()) + "\n"
    path = data / "printers" / "laser.yaml"
    path.write_text(row, "utf-8")
    assert check(tree) == []
    path.write_text(row.replace("label:", "lable:"), "utf-8")
    assert [str(each).splitlines()[0] for each in check(tree)] == [
        "data/printers/laser.yaml:2:1: 'lable' is no part of a row here"
    ]
    path.write_text(row.replace("id: laser", "id: lazer"), "utf-8")
    assert Mistake(
        "data/printers/laser.yaml",
        1,
        5,
        "id 'lazer' is not the name of its file",
        "write 'id: laser', or rename the file",
    ) in check(tree)


# -- A folder whose files name their rows


def test_a_file_that_is_not_named_by_an_id(tree):
    folder = tree / "data" / "troubleshooting"
    (folder / "milky.yaml").rename(folder / "Milky veil.yml")
    (folder / "ink-runs.yaml").write_text(OTHER_TROUBLE.replace("related: [milky]", "related: [ink-runs]"), "utf-8")
    assert check(tree)[0] == Mistake(
        "data/troubleshooting/Milky veil.yml",
        1,
        1,
        "the name of this file is no id with '.yaml' after it",
        "rename it to 'milky-veil.yaml'",
    )


def test_a_published_entry_that_is_gone(tree):
    folder = tree / "data" / "troubleshooting"
    (tree / "data" / "ids.txt").write_text("troubleshooting/ink-runs\ntroubleshooting/milky\n", "utf-8")
    (folder / "milky.yaml").rename(folder / "milky-veil.yaml")
    assert check(tree) == [
        Mistake(
            "data/troubleshooting/milky.yaml",
            1,
            1,
            "the published row 'milky' is gone: this file is missing",
            "put it back, or leave a file of this name that holds 'now: …'",
        )
    ]
    (folder / "milky.yaml").write_text("now: milky-veil\n", "utf-8")
    assert check(tree) == []
    (folder / "milky.yaml").write_text("now: milky-vale\n", "utf-8")
    assert [str(each) for each in check(tree)] == [
        "data/troubleshooting/milky.yaml:1:6: 'milky-vale' is no row of this table\nFix: did you mean 'milky-veil'?"
    ]


def test_an_unreadable_entry_is_reported_once(tree):
    (tree / "data" / "troubleshooting" / "milky.yaml").write_text(TROUBLE.replace('"Damp air."', '"Damp air.'), "utf-8")
    assert [str(each).splitlines()[0] for each in check(tree)] == [
        "data/troubleshooting/milky.yaml:5:12: a quotation mark is not closed"
    ]

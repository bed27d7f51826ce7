"""Asking for a row: answers are checked and written; wrong ones are explained and asked again; nothing is lost."""

import pytest

from builder.check import check
from builder.mistakes import Mistakes
from builder.new import new_row
from tests.builder.tables import FLUIDS, PAPERS, PRINTERS, SOLVENTS, WAITS, plant


@pytest.fixture
def tree(tmp_path):
    return plant(tmp_path)


def asked(root, table, answers):
    """Give the answers in turn; return the path written and everything printed."""
    waiting = iter(answers.splitlines())
    output = []

    def ask(words):
        output.append(words)
        try:
            return next(waiting)
        except StopIteration:
            raise EOFError from None

    path = new_row(root, table, ask, output.append)
    assert next(waiting, None) is None, "not all was asked for"
    assert check(root) == []
    return path, "\n".join(output)


def test_a_paper(tree):
    path, output = asked(
        tree, "papers", "A6\n105\niso-216\nA series, trimmed size A6\n\n\n148\n\nOr a little less.\n\n\n"
    )
    assert path == tree / "data" / "papers.yaml"
    assert path.read_text("utf-8") == PAPERS + (
        '\n- id: a6\n  label: "A6"\n'
        '  width: {value: 105, unit: mm, source: {ref: iso-216, at: "A series, trimmed size A6"}, status: read}\n'
        '  height: {value: 148, unit: mm, source: common-practice, note: "Or a little less."}\n'
    )
    assert "Documents: iso-216, hearsay" in output


def test_a_wrong_answer_is_explained_and_asked_again(tree):
    path, output = asked(tree, "printers", "LED\nperhaps\nno\n0.1 mm\n\n\n0.1 to 0.12\n\n\n0.2\n\n\nled\n\n")
    assert "'prints_white' cannot be 'perhaps'. write true or false" in output
    assert "'value' must be a number. write 'value: 0.1', and the unit in 'unit'" in output
    assert path.read_text("utf-8").startswith(PRINTERS + '\n- id: led\n  label: "LED"\n  prints_white: false\n')


def test_an_id_that_is_taken(tree):
    _, output = asked(tree, "papers", "A4 of film\n210\n\n\n297\n\n\na4\na4-film\n\n")
    assert "id 'a4' is in the table already. give this row an id of its own" in output


def test_a_conflict_with_another_row_is_asked_again(tree):
    _, output = asked(tree, "papers", "A4\n210\n\n\n297\n\n\na4-film\n\nA4 of film\n")
    assert "the name 'A4' is that of 'a4'. give this row a name of its own" in output


def test_waits_texts_and_the_source_of_the_words(tree):
    answers = (
        "Gloss\nseal\nSpraying.\nThe marking.\n\n\n"  # label, stage, after, before, coats, substrates
        "12\nh\n\n\n1 to 2\nd\n\n\n7\nd\n\n\n"  # shortest, usual, longest
        "It does not smell.\nCold; Damp\nno\niso-216\nclause 2\nread\n\n\n"
    )
    path, _ = asked(tree, "drying-times", answers)
    assert path.read_text("utf-8") == WAITS + (
        '\n- id: gloss\n  label: "Gloss"\n  stage: seal\n'
        '  after: "Spraying."\n  before: "The marking."\n'
        "  shortest: {value: 12, unit: h, source: common-practice}\n"
        "  usual: {low: 1, high: 2, unit: d, source: common-practice}\n"
        "  longest: {value: 7, unit: d, source: common-practice}\n"
        '  ends: "It does not smell."\n  lengthens: ["Cold", "Damp"]\n  attended: false\n'
        '  source: {ref: iso-216, at: "clause 2"}\n  status: read\n'
    )


def test_the_first_row_of_an_empty_table_and_its_verdicts(tree):
    plant(tree, fluids="[]\n")
    answers = (
        "Softener\nsoftening\nAlcohol.\nstrong\nWashes.\nBrush it on.\nink\n"  # weathering stands before how
        "printers/laser\ntest first\nToner may craze.\nprinters/lazer\nsafe\nNo.\n\n"
        "printers/laser\ntest first\nToner may craze.\n\nacetone\nBurns.\n\n\n\n"
    )
    path, output = asked(tree, "fluids", answers)
    assert "'lazer' is not in data/printers.yaml. did you mean 'laser'?" in output
    assert path.read_text("utf-8").startswith('- id: softener\n  label: "Softener"\n')
    assert '  weathering: "Washes."\n  how: "Brush it on."\n' in path.read_text("utf-8")
    assert 'against: [{what: printers/laser, verdict: test first, why: "Toner may craze."}]' in path.read_text("utf-8")


def test_answers_that_end_too_soon_write_nothing_and_are_shown(tree):
    with pytest.raises(Mistakes) as stopped:
        asked(tree, "papers", "A6\n105\n\n\n")
    assert stopped.value.texts == [
        (
            "The answers ended before the row was complete; nothing was written\nThis is as far as it got:\n"
            '- label: "A6"\n  width: {value: 105, unit: mm, source: common-practice}\n'
        )
    ]
    assert (tree / "data" / "papers.yaml").read_text("utf-8") == PAPERS


def test_a_table_that_is_not_there(tree):
    with pytest.raises(Mistakes, match=r"There is no table 'paper'\. The tables are scales, "):
        new_row(tree, "paper")


def test_existing_mistakes_in_the_data_are_reported_first(tree):
    plant(tree, solvents=SOLVENTS.replace("label:", "lable:"), fluids=FLUIDS)
    with pytest.raises(Mistakes) as stopped:
        new_row(tree, "papers")
    assert [text.splitlines()[0] for text in stopped.value.texts] == [
        "data/solvents.yaml:2:3: 'lable' is no part of a row here",
        "Put this right first: a new row is checked together with the others",
    ]


def test_a_folder_gets_a_file(tree):
    (tree / "data" / "printers.yaml").unlink()
    (tree / "data" / "printers").mkdir()
    row = "\n".join(line[2:] for line in PRINTERS.splitlines()) + "\n"
    (tree / "data" / "printers" / "laser.yaml").write_text(row, "utf-8")
    path, _ = asked(tree, "printers", "LED\nno\n0.1\n\n\n0.2\n\n\n\n\n")
    assert path == tree / "data" / "printers" / "led.yaml"
    assert path.read_text("utf-8").startswith("id: led\nlabel:")


def test_an_entry_gets_a_file_named_by_its_title(tree):
    """Mistakes are reported part by part, and conflicts within the whole row are asked again."""
    answers = (
        "The seal stays soft.\nThe seal stays soft\nseal\nIt takes a fingerprint for 3 days.\nIt takes a fingerprint.\n"
        "gummy; like jam\ngummy; like jam; dents\n"
        "It was laid too thick.\nOnly runs are soft.\nLeave it {ink}.\nIt was damp.\nAll of it is soft.\nWarm the "
        "room.\n\n"
        "Spray thin coats.\nDo not bake it.\nmilky; ink-run\nmilky; ink-runs\ninkk\nink\n\n\n"
    )
    path, output = asked(tree, "troubleshooting", answers)
    assert "'title' ends with a full stop. take the full stop out: this is a heading" in output
    assert "'see' names a wait as '3 days'" in output
    assert "'said' holds 2, and at least 3 are needed" in output
    assert "'ink-run' is not in data/troubleshooting/. did you mean 'ink-runs'?" in output
    assert "'inkk' is not in data/drying-times.yaml. did you mean 'ink'?" in output
    assert path == tree / "data" / "troubleshooting" / "the-seal-stays-soft.yaml"
    assert path.read_text("utf-8") == (
        "# yaml-language-server: $schema=../schemas/troubleshooting.json\n"
        'title: "The seal stays soft"\nstage: seal\nsee: "It takes a fingerprint."\nsaid: ["gummy", "like jam", '
        '"dents"]\ncauses:\n'
        '  - cause: "It was laid too thick."\n    test: "Only runs are soft."\n    now: "Leave it {ink}."\n'
        '  - cause: "It was damp."\n    test: "All of it is soft."\n    now: "Warm the room."\n'
        'avoid: ["Spray thin coats."]\nnever: ["Do not bake it."]\nrelated: [milky, ink-runs]\nwaits: [ink]\n'
        "source: common-practice\n"
    )

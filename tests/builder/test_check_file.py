"""Files that YAML rejects or misreads: our message at the slip, and the other rows still checked."""

import random
import string

import pytest

from builder.check import Mistake, check
from tests.builder.mistakes_in_yaml import SLIPS
from tests.builder.tables import FILES, PAPERS, mistakes_after, plant


@pytest.mark.parametrize(("table", "old", "new", "line", "column", "what", "fix"), SLIPS.values(), ids=SLIPS)
def test_one_message_at_the_slip_with_the_corrected_line(tmp_path, table, old, new, line, column, what, fix):
    assert mistakes_after(tmp_path, table, old, new) == [Mistake(f"data/{table}.yaml", line, column, what, fix)]


def test_the_other_rows_are_still_checked(tmp_path):
    plant(tmp_path, papers=PAPERS.replace('label: "A4"', 'label: "A4').replace("value: 148", "value: 14800"))
    assert [(each.line, each.what) for each in check(tmp_path)] == [
        (2, "a quotation mark is not closed"),
        (11, "14800 is no likely 'width'"),
    ]


def test_references_to_an_unreadable_row_are_not_reported(tmp_path):
    plant(tmp_path, printers=FILES["printers"].replace('label: "Laser"', 'label: "Laser'))
    assert [(each.file, each.line) for each in check(tmp_path)] == [("data/printers.yaml", 2)]


def mistakes_in_bytes(root, raw):
    (plant(root) / "data" / "papers.yaml").write_bytes(raw)
    return check(root)


def test_bytes_that_are_not_utf8(tmp_path):
    raw = PAPERS.encode().replace(b'"A4"', b'"\xc3\xa4 A4\xff"', 1)
    assert mistakes_in_bytes(tmp_path, raw) == [
        Mistake("data/papers.yaml", 2, 15, "this character is not UTF-8", "save the file as UTF-8")
    ]


def test_a_file_in_utf16(tmp_path):
    assert mistakes_in_bytes(tmp_path, PAPERS.encode("utf-16")) == [
        Mistake("data/papers.yaml", 1, 1, "the file is UTF-16", "save the file as UTF-8")
    ]


def test_a_byte_order_mark_and_windows_line_ends_are_accepted(tmp_path):
    assert mistakes_in_bytes(tmp_path, b"\xef\xbb\xbf" + PAPERS.replace("\n", "\r\n").encode()) == []
    raw = b"\xef\xbb\xbf" + PAPERS.replace("\n", "\r\n").replace("  label:", "  lable:", 1).encode()
    assert [(each.line, each.column) for each in mistakes_in_bytes(tmp_path, raw)] == [(2, 3)]


def test_bare_carriage_returns_are_reported(tmp_path):
    mistakes = mistakes_in_bytes(tmp_path, PAPERS.replace("\n", "\r").encode())
    assert [each.what for each in mistakes] == ["a line ends in a way that YAML reads differently"]


def test_ten_megabytes(tmp_path):
    assert mistakes_in_bytes(tmp_path, b"- id: x\n" * 1_310_720) == [
        Mistake("data/papers.yaml", 1, 1, "the file is larger than 2 MiB", "split it, or take out what is no table")
    ]


def test_anchors_that_would_explode_are_never_expanded(tmp_path):
    bomb = '- id: x\n  label: &a ["lol"]\n' + "".join(
        f"  k{place}: &{new} [{', '.join([f'*{old}'] * 9)}]\n"
        for place, (old, new) in enumerate(zip("abcdefgh", "bcdefghi", strict=True))
    )
    assert [(each.line, each.what) for each in mistakes_in_bytes(tmp_path, bomb.encode())] == [
        (2, "anchors, aliases and tags are not used here")
    ]


@pytest.mark.parametrize("raw", [b"", b"\n\n", b"# only words\n"], ids=["nothing", "blank lines", "a comment"])
def test_a_file_without_rows(tmp_path, raw):
    assert mistakes_in_bytes(tmp_path, raw) == [
        Mistake("data/papers.yaml", 1, 1, "the file holds no row", "add a row, or write [] for none")
    ]


def test_a_comment_or_a_quoted_text_may_hold_any_sign(tmp_path):
    text = "# * a *note* & more !\n" + PAPERS.replace('"A4"', '"A4 & A5 * 2 !important: {[ \' # -"')
    assert mistakes_in_bytes(tmp_path, text.encode()) == []


def test_a_document_start_mark_is_accepted(tmp_path):
    assert mistakes_in_bytes(tmp_path, b"---\n" + PAPERS.encode()) == []


def test_any_bytes_are_answered(tmp_path):
    """400 seeded corruptions of a file: the checker reports mistakes with their places, and never crashes."""
    random_ = random.Random(4)
    signs = string.printable + "&*!{}[]:\"'-#\x00\x85 \u200bé€" * 3
    root = plant(tmp_path)
    path = root / "data" / "drying-times.yaml"
    for _ in range(400):
        text = list(FILES["drying-times"])
        for _ in range(random_.randrange(1, 6)):
            place = random_.randrange(len(text))
            text[place : place + random_.randrange(4)] = random_.choices(signs, k=random_.randrange(4))
        path.write_text("".join(text), "utf-8")
        lines = len("".join(text).split("\n"))
        for each in check(root):
            assert each.what and each.fix and 1 <= each.line <= max(lines, 20) and each.column >= 1

"""Files that YAML rejects or misreads: our message at the slip, and the other rows still checked."""

import random
import string

import pytest

from builder.check import Mistake, check
from tests.builder.tables import FILES, PAPERS, mistakes_after, plant

SLIPS = {
    "tab": ("papers", "    unit: mm", "\tunit: mm", 6, 1, "a tab stands in the indent", "use two spaces for each step"),
    "tab after blanks": (
        "papers",
        "    unit: mm",
        "  \tunit: mm",
        6,
        3,
        "a tab stands in the indent",
        "use two spaces for each step",
    ),
    "tab after a dash": (
        "papers",
        "- id: a5",
        "-\tid: a5",
        9,
        2,
        "a tab stands in the indent",
        "use two spaces for each step",
    ),
    "indented too deep": (
        "papers",
        '  label: "A4"',
        '   label: "A4"',
        2,
        4,
        "this line is indented by 3, not by 2",
        "write 2 blanks before 'label: \"A4\"'",
    ),
    "indented too little": (
        "papers",
        '  label: "A4"',
        ' label: "A4"',
        2,
        2,
        "this line is indented by 1, not by 2",
        "write 2 blanks before 'label: \"A4\"'",
    ),
    "part of a value indented too little": (
        "papers",
        "    unit: mm",
        "   unit: mm",
        6,
        4,
        "this line is indented by 3, not by 4",
        "write 4 blanks before 'unit: mm'",
    ),
    "not indented": (
        "papers",
        '  label: "A4"',
        'label: "A4"',
        2,
        1,
        "'label' stands at the start of its line",
        "indent it by two blanks, as part of its row",
    ),
    "blank missing after a colon": (
        "papers",
        '  label: "A4"',
        '  label:"A4"',
        2,
        8,
        "a blank is missing after 'label:'",
        'write: label: "A4"',
    ),
    "blank missing after the last colon": (
        "sources",
        "  read: copy",
        "  read:copy",
        5,
        7,
        "a blank is missing after 'read:'",
        "write: read: copy",
    ),
    "blank missing in brackets": (
        "papers",
        "{value: 148, unit: mm",
        "{value:148, unit: mm",
        11,
        11,
        "a blank is missing after 'value:'",
        "write 'value: 148'",
    ),
    "blank missing after a dash": (
        "papers",
        "- id: a5",
        "-id: a5",
        9,
        1,
        "a blank is missing after the dash",
        "write: - id: a5",
    ),
    "blank missing after the dash of an entry": (
        "drying-times",
        '    - "Cold"',
        '    -"Cold"',
        11,
        5,
        "a blank is missing after the dash",
        "write '- …'",
    ),
    "dash missing": ("papers", "- id: a5", "id: a5", 9, 1, "a row begins here without its dash", "write: - id: a5"),
    "blank for a dash": (
        "papers",
        "- id: a5",
        "  id: a5",
        9,
        3,
        "a row begins here without its dash",
        "write '- id: a5' at the start of the line",
    ),
    "dash out of line": (
        "papers",
        "- id: a5",
        "  - id: a5",
        9,
        3,
        "the dash of a row stands at the start of its line",
        "take the blanks before it out",
    ),
    "colon missing": (
        "papers",
        '  label: "A4"',
        '  label "A4"',
        2,
        8,
        "a colon is missing after 'label'",
        'write: label: "A4"',
    ),
    "equals sign for a colon": (
        "papers",
        '  label: "A4"',
        '  label = "A4"',
        2,
        8,
        "a colon is missing after 'label'",
        'write: label: "A4"',
    ),
    "quotation mark not closed": (
        "papers",
        'label: "A4"',
        'label: "A4',
        2,
        10,
        "a quotation mark is not closed",
        'write: label: "A4"',
    ),
    "quotation mark not opened": (
        "papers",
        'label: "A4"',
        'label: A4"',
        2,
        10,
        "'label' ends with a quotation mark that was not opened",
        r'write "A4", or "A4\"" if it belongs to the text',
    ),
    "quotation mark not closed in brackets": (
        "papers",
        'at: "A series"}, status: read}',
        'at: "A series}, status: read}',
        3,
        60,
        "a quotation mark is not closed",
        'write: width: {value: 210, unit: mm, source: {ref: iso-216, at: "A series"}, status: read}',
    ),
    "quotation mark within": (
        "papers",
        'label: "A4"',
        'label: "the "A" four"',
        2,
        15,
        "a quotation mark stands inside a quoted text",
        r'write: label: "the \"A\" four"',
    ),
    "apostrophe as a quotation mark": (
        "papers",
        'label: "A4"',
        "label: 'A4",
        2,
        10,
        "a quotation mark is not closed",
        'write: label: "A4"',
    ),
    "words after a quoted text": (
        "papers",
        'label: "A4"',
        'label: "A4" sheet',
        2,
        15,
        "something stands after a quoted text",
        "take it into the quotation marks, or out",
    ),
    "colon in a text": (
        "papers",
        'label: "A4"',
        "label: A4: upright",
        2,
        10,
        "a colon stands in a text without quotation marks",
        'write: label: "A4: upright"',
    ),
    "colon in a text in brackets": (
        "papers",
        'note: "Trimmed."',
        "note: Trimmed: a little",
        12,
        74,
        "a colon stands in a text without quotation marks",
        'write: height: {low: 209, high: 210, unit: mm, source: common-practice, note: "Trimmed: a little"}',
    ),
    "percent sign": (
        "papers",
        'label: "A4"',
        "label: %",
        2,
        10,
        "no text may begin with % without quotation marks",
        'write: label: "%"',
    ),
    "at sign": (
        "papers",
        'label: "A4"',
        "label: @home",
        2,
        10,
        "no text may begin with @ without quotation marks",
        'write: label: "@home"',
    ),
    "larger-than sign": (
        "papers",
        'label: "A4"',
        "label: > 5 mm",
        2,
        10,
        "no text may begin with > without quotation marks",
        'write: label: "> 5 mm"',
    ),
    "bracket not closed": (
        "papers",
        'at: "A series"}, status: read}',
        'at: "A series"}, status: read',
        3,
        10,
        "the bracket { is not closed",
        'write: width: {value: 210, unit: mm, source: {ref: iso-216, at: "A series"}, status: read}',
    ),
    "list not closed": (
        "scales",
        "[aircraft, ship]",
        "[aircraft, ship",
        3,
        10,
        "the bracket [ is not closed",
        "write: kinds: [aircraft, ship]",
    ),
    "bracket too many": (
        "scales",
        "[aircraft, ship]",
        "[aircraft, ship]]",
        3,
        26,
        "the bracket ] closes none",
        "take it out",
    ),
    "brackets mixed": (
        "scales",
        "[aircraft, ship]",
        "[aircraft, ship}",
        3,
        25,
        "the bracket } closes none",
        "write ] for it",
    ),
    "text over two lines": (
        "papers",
        'label: "A4"',
        "label: A4\n    sheet",
        2,
        10,
        "a text without quotation marks runs on in the next line",
        "put it in double quotes, on one line",
    ),
    "anchor": (
        "papers",
        'label: "A4"',
        "label: &a A4",
        2,
        10,
        "anchors, aliases and tags are not used here",
        "write the value out, in double quotes if it begins with &, * or !",
    ),
    "alias": (
        "scales",
        'aliases: ["seventy-two"]',
        "aliases: *names",
        4,
        12,
        "anchors, aliases and tags are not used here",
        "write the value out, in double quotes if it begins with &, * or !",
    ),
    "tag": (
        "papers",
        'label: "A4"',
        "label: !!python/object/apply:os.system [ls]",
        2,
        10,
        "anchors, aliases and tags are not used here",
        "write the value out, in double quotes if it begins with &, * or !",
    ),
    "second document": (
        "papers",
        "- id: a5",
        "---\n- id: a5",
        9,
        1,
        "a file is one document",
        "take the line '---' out",
    ),
    "words between rows": (
        "papers",
        "- id: a5",
        "Half sheets\n- id: a5",
        9,
        1,
        "this belongs to no row",
        "begin each row with '- id: …'",
    ),
    "control character": (
        "papers",
        '"A4"',
        '"A\x074"',
        2,
        12,
        "the character U+0007 stands here, which nobody sees",
        "take it out",
    ),
    "zero-width space": (
        "papers",
        '"A4"',
        '"A\u200b4"',
        2,
        12,
        "the character U+200B stands here, which nobody sees",
        "take it out",
    ),
    "turned reading order": (
        "papers",
        '"A4"',
        '"A\u202e4"',
        2,
        12,
        "the character U+202E stands here, which nobody sees",
        "take it out",
    ),
    "next-line character": (
        "papers",
        '"A4"',
        '"A\x854"',
        2,
        12,
        "the character U+0085 stands here, which nobody sees",
        "take it out",
    ),
    "lists in lists": (
        "scales",
        "[aircraft, ship]",
        "[" * 2000 + "]" * 2000,
        3,
        22,
        "lists stand in lists too deep for a row",
        "compare the row with what `python -m builder describe` shows of its table",
    ),
    "dashes after dashes": (
        "drying-times",
        '    - "Cold"',
        "    " + "- " * 2000,
        11,
        13,
        "lists stand in lists too deep for a row",
        "compare the row with what `python -m builder describe` shows of its table",
    ),
}


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

"""Mistakes in rules for lettering: each gets one message at its line, with a cure."""

import pytest

from builder.check import check
from builder.describe import described
from builder.new import new_row
from calculators.tables.lettering_rows import characters_of

from .tables import plant

RULE = """\
# yaml-language-server: $schema=../schemas/rules.json
label: "Wagon numbers"
subject: railway
from_year: 1950
to_year: 1960
says: "Figures 200 mm high."
leaves_open: "All else."
height: {value: 200, unit: mm, source: {ref: iso-216, at: "clause 1"}, status: read}
height_is: least
width: {value: 2, unit: thirds of height, source: {ref: iso-216, at: "clause 1"}, status: read}
narrow_characters: "1"
wide: {value: 3, unit: halves of width, source: common-practice}
wide_characters: "M"
stroke: {value: 33, unit: mm, source: common-practice}
gap_is: open
characters: "A-Z0-9"
checks: uic-number
typeface: false
may_shrink: false
source: common-practice
"""


def planted(root, text):
    plant(root)
    (root / "data" / "rules").mkdir(exist_ok=True)
    (root / "data" / "rules" / "wagon-numbers.yaml").write_text(text, "utf-8")
    return root


@pytest.mark.parametrize(
    ("old", "new", "line", "what", "fix"),
    [
        ("halves of width", "widths", 12, "'widths' is no unit of 'wide'", "one of mm, in, halves of height"),
        ("value: 33,", "value: 33000,", 14, "33000 is no likely 'stroke'", "0.254 to 5080 mm"),
        (
            "value: 2, unit: thirds",
            "value: 20, unit: thirds",
            10,
            "20 is no likely 'width'",
            "0.06 to 9 thirds of height",
        ),
        ("to_year: 1960", "to_year: 1940", 5, "'to_year' is before 'from_year'", "exchange the two"),
        ("gap_is: open", "gap_is: exact", 15, "'gap_is' is 'exact', and 'gap' is missing", "gap_is: open"),
        (
            "height_is: least",
            "height_is: open",
            9,
            "'height_is' is open, and 'height' has a value",
            "take the value out",
        ),
        ('wide_characters: "M"\n', "", 12, "'wide' stands without 'wide_characters'", "add 'wide_characters'"),
        ('characters: "A-Z0-9"', 'characters: "a-z"', 16, "'characters' cannot be 'a-z'", "such as A-Z0-9-"),
        (
            'wide_characters: "M"',
            'wide_characters: "&"',
            13,
            "'&' is not among the characters",
            "add it to 'characters'",
        ),
        ("subject: railway", "subject: railways", 3, "'subject' cannot be 'railways'", "did you mean 'railway'?"),
        ("typeface: false", "typeface: no", 18, "'typeface' cannot be 'no'", "write false"),
        ("gap_is: open\n", "", 2, "'gap_is' is missing", "add 'gap_is"),
    ],
)
def test_a_mistake_in_a_rule_gets_one_message_with_its_cure(tmp_path, old, new, line, what, fix):
    assert not check(planted(tmp_path, RULE))
    assert old in RULE
    found = check(planted(tmp_path, RULE.replace(old, new, 1)))
    assert [(each.file, each.line) for each in found] == [("data/rules/wagon-numbers.yaml", line)], found
    assert what in found[0].what and fix in found[0].fix


def test_a_rule_is_described_with_its_units(tmp_path):
    text = described(planted(tmp_path, RULE), "rules")
    assert "in mm or in or halves of height" in text and "Wagon numbers" in text


def test_a_rule_can_be_asked_for(tmp_path):
    root = planted(tmp_path, RULE)
    answers = {
        "Name": "Hull numbers",
        "Subject": "ship",
        "What it fixes": "Figures 300 mm high.",
        "What it leaves open": "All else.",
        "The height is": "open",
        "The gap is": "open",
        "Characters": "0-9",
        "Typeface prescribed": "no",
        "Smaller where it must be": "no",
        "Source of the words": "common-practice",
    }
    heard = []
    latest = []

    def say(line):
        heard.append(line)
        label = line.partition(":")[0].removesuffix(" (optional)")
        if line and not line.startswith(" "):
            latest[:] = [answers.get(label, "")]

    path = new_row(root, "rules", ask=lambda _words: latest.pop() if latest else "", say=say)
    assert path.name == "hull-numbers.yaml", heard
    assert path.read_text("utf-8").splitlines()[:3] == [
        "# yaml-language-server: $schema=../schemas/rules.json",
        'label: "Hull numbers"',
        "subject: ship",
    ]
    assert not check(root)


def test_ranges_of_characters_stand_for_all_between():
    assert characters_of("A-C1-3./&-") == "ABC123./&-"

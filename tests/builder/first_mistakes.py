"""Mistakes of first-time contributors, collected before the checker was changed.

Each is an edit of a correct table of ``tests.builder.tables``, the line where it must be reported, and how the cure is
followed: literally if the cure gives the text, or with the contributor's own words.
"""

from dataclasses import dataclass

from tests.builder.tables import TROUBLE

ENTRY = "troubleshooting/milky"
#: 58 words between two full stops: correct grammar, but unreadable.
WORDS_58 = (
    "The clear film looks frosted in some places and quite clear in others, and it did so only after the last of "
    "four passes, "
    "although the first three had gone on without any trouble at all, from the same can, held at the same "
    "distance, in the same room, with the window shut and the heating turned on."
)


@dataclass(frozen=True)
class FirstMistake:
    """``expected`` are words of the message or of its cure; ``by_hand`` is the edit that follows a cure without a
    finished text.
    """

    table: str
    old: str
    new: str
    line: int
    expected: tuple[str, ...]
    by_hand: tuple[str, str] | None = None


def entry(old: str, new: str, line: int, *expected: str, by_hand: tuple[str, str] | None = None) -> FirstMistake:
    return FirstMistake(ENTRY, old, new, line, expected, by_hand)


FIRST_MISTAKES = {
    # The shape of an entry
    "the test of a cause is a blank short": entry('    test: "It came', '   test: "It came', 6, "4 blanks"),
    "a cause is indented as far as its parts": entry('  - cause: "The pass', '    - cause: "The pass', 8, "2 blanks"),
    "what to do now stands under the dash": entry('    now: "Leave', '  now: "Leave', 7, "4 blanks"),
    "what to do now stands at the start of its line": entry(
        '    now: "Nothing', 'now: "Nothing', 10, "causes", "4 blanks"
    ),
    "the entry is written as a row of a list": entry(
        TROUBLE,
        "- " + TROUBLE.rstrip().replace("\n", "\n  ") + "\n",
        1,
        "dash",
        by_hand=("- " + TROUBLE.rstrip().replace("\n", "\n  ") + "\n", TROUBLE),
    ),
    "a quotation within a text": entry(
        'within a minute of the pass."', 'within a minute of the "first" pass."', 6, r"\"first\""
    ),
    # Words
    "smart quotes in place of plain ones": entry(
        '"Milky veil under the seal"', "“Milky veil under the seal”", 1, '"Milky veil under the seal"'
    ),
    "a smart apostrophe": entry("Do not wipe it", "Don’t wipe it", 14, "Don't wipe it"),
    "a trade mark sign": entry(
        "The clear film", "The Glossene™ film", 3, "kind", by_hand=("The Glossene™ film", "The clear film")
    ),
    "a web address": entry(
        "It was clear before it was sprayed.",
        "It was clear before, see https://example.org/film for a picture.",
        3,
        "address",
        "own words",
        by_hand=("before, see https://example.org/film for a picture.", "before."),
    ),
    "a sentence of 58 words": entry(
        "The clear film looks frosted. It was clear before it was sprayed.",
        WORDS_58,
        3,
        "58 words",
        "two",
        by_hand=(WORDS_58, "The clear film looks frosted in some places. The first three passes went well."),
    ),
    "a wait in hours": entry("Leave it {ink}", "Leave it 12 hours", 7, "braces", by_hand=("12 hours", "{ink}")),
    "the dots of the example": entry('"Damp air."', '"…"', 5, "own words", by_hand=('"…"', '"Damp air."')),
    # What names something else
    "a title under see also": entry("related: [ink-runs]", 'related: ["Ink runs in the water"]', 15, "ink-runs"),
    "a source in words": entry("source: common-practice", "source: my own experience", 17, "common-practice"),
    "the name of a document in place of its id": FirstMistake(
        "papers",
        'ref: iso-216, at: "A series"}, status',
        'ref: "Trimmed sizes", at: "A series"}, status',
        3,
        ("iso-216",),
    ),
    # Values
    "a value without its unit": FirstMistake("papers", "    unit: mm\n", "", 5, ("unit: mm",)),
    "a wait without its unit": FirstMistake(
        "drying-times",
        "value: 20, unit: min,",
        "value: 20,",
        6,
        ("s, min, h, d, months",),
        by_hand=("value: 20,", "value: 20, unit: min,"),
    ),
    "a value without its status": FirstMistake(
        "papers",
        "    status: read\n",
        "",
        5,
        ("read, package, computed, memory",),
        by_hand=('at: "A series"}\n- id: a5', 'at: "A series"}\n    status: read\n- id: a5'),
    ),
    # The file
    "the file lies beside the folder": FirstMistake(
        "cloudy", "", TROUBLE.replace("Milky", "Cloudy"), 1, ("data/troubleshooting/",)
    ),
}

#: Mistakes outside data files. Each has a test beside the code that reports it.
OTHER_FIRST_MISTAKES = {
    "`python -m builder check` with the Python of the system": "tests/builder/test_old_python.py",
    "not knowing where and how to send an entry": "tests/builder/test_guide.py",
    "the form names the parts as the file does": "tests/calculators/rescue/test_contribute.py",
    "blanks before and after what is typed into the form": "tests/calculators/rescue/test_contribute.py",
    "titles under see also in the form": "tests/calculators/rescue/test_contribute.py",
}

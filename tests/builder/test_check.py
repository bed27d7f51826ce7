"""The checker: one message for each mistake, with exact wording and position."""

from pathlib import Path

import pytest

from builder.check import Mistake, check
from tests.builder.tables import FILES, OTHER_TROUBLE, PAPERS, SOURCES, TROUBLE, mistakes_after, plant

ROOT = Path(__file__).resolve().parents[2]

HEIGHT_SOURCE = '    source: {ref: iso-216, at: "A series"}\n'
PARTS = "value, low, high, unit, source, status, note"


@pytest.fixture
def tree(tmp_path):
    return plant(tmp_path)


def test_the_shipped_tables_are_in_order():
    assert [str(each) for each in check(ROOT)] == []


def test_the_example_is_in_order(tree):
    assert check(tree) == []


RULES = {
    # parts of a row
    "misspelt key": (
        "papers",
        "  label:",
        "  lable:",
        2,
        3,
        "'lable' is no part of a row here",
        "did you mean 'label:'?",
    ),
    "missing field": ("papers", '  label: "A4"\n', "", 1, 3, "'label' is missing", "add 'label: \"…\"'"),
    "unknown key": (
        "papers",
        '  label: "A4"\n',
        '  label: "A4"\n  colour: "red"\n',
        3,
        3,
        "'colour' is no part of a row here",
        "take it out; the parts are id, label, width, height, note",
    ),
    "missing fact": (
        "papers",
        "  width: {value: 148, unit: mm, source: common-practice}\n",
        "",
        9,
        3,
        "'width' is missing",
        "add 'width: {value: …, unit: mm, source: common-practice}'",
    ),
    "key twice": (
        "papers",
        '  label: "A4"\n',
        '  label: "A4"\n  label: "A4 sheet"\n',
        3,
        3,
        "'label' stands twice here",
        "keep one of the two",
    ),
    "empty value": (
        "papers",
        'label: "A4"',
        "label:",
        2,
        9,
        "'label' is empty",
        "write 'label: \"…\"', or take the line out",
    ),
    "empty text": (
        "papers",
        'label: "A4"',
        'label: ""',
        2,
        10,
        "'label' is empty",
        "write 'label: \"…\"', or take the line out",
    ),
    "blank text": (
        "papers",
        'label: "A4"',
        'label: "  "',
        2,
        10,
        "'label' is empty",
        "write 'label: \"…\"', or take the line out",
    ),
    "list for a text": (
        "papers",
        'label: "A4"',
        'label: ["A4"]',
        2,
        10,
        "'label' must be one value",
        "write 'label: \"…\"' on one line",
    ),
    "part of a value out of its place": (
        "papers",
        "    status: read",
        "  status: read",
        8,
        3,
        "'status' belongs to 'height'",
        "indent it by two blanks more",
    ),
    "part of the row within a value": (
        "drying-times",
        "  longest: {value: 2, unit: d, source: common-practice}\n",
        "  longest:\n    value: 2\n    unit: d\n    source: common-practice\n    attended: false\n",
        12,
        5,
        "'attended' is a part of the row",
        "indent it as the other parts of the row",
    ),
    "merge key": (
        "papers",
        '  label: "A4"\n',
        '  label: "A4"\n  <<: {note: "x"}\n',
        3,
        3,
        "merge keys are not used here",
        "write the parts out",
    ),
    # words
    "the Norway problem": (
        "papers",
        'label: "A4"',
        "label: no",
        2,
        10,
        "'label' is read as true or false, not as words",
        'put it in double quotes: "no"',
    ),
    "number for a text": (
        "papers",
        'label: "A4"',
        "label: 1938",
        2,
        10,
        "'label' is read as a number, not as words",
        'put it in double quotes: "1938"',
    ),
    "date for a text": (
        "papers",
        'label: "A4"',
        "label: 1938-04-01",
        2,
        10,
        "'label' is read as a date, not as words",
        'put it in double quotes: "1938-04-01"',
    ),
    "nothing for a text": (
        "papers",
        'label: "A4"',
        "label: ~",
        2,
        10,
        "'label' is read as nothing, not as words",
        'put it in double quotes: "~"',
    ),
    "trailing blank": ("papers", '"A4"', '"A4 "', 2, 10, "'label' begins or ends with a blank", 'write "A4"'),
    "leading blank": ("papers", '"A4"', '" A4"', 2, 10, "'label' begins or ends with a blank", 'write "A4"'),
    "over-long text": (
        "papers",
        '"A4"',
        f'"{"A" * 101}"',
        2,
        10,
        "'label' has 101 characters, and at most 100 fit",
        "shorten it, or put the rest into a row of its own",
    ),
    "line's end in a text": (
        "papers",
        '"A4"',
        r'"A\n4"',
        2,
        10,
        "'label' holds a line's end or a tab",
        "write it on one line, with blanks",
    ),
    "markup": (
        "papers",
        '"A4"',
        '"<b>A4</b>"',
        2,
        10,
        "'label' holds markup",
        "write plain words; < and & only with blanks around them",
    ),
    "script": (
        "papers",
        '"A4"',
        '"<script>alert(1)</script>"',
        2,
        10,
        "'label' holds markup",
        "write plain words; < and & only with blanks around them",
    ),
    "character reference": (
        "papers",
        '"A4"',
        '"A4 &lt;"',
        2,
        10,
        "'label' holds markup",
        "write plain words; < and & only with blanks around them",
    ),
    "template expression": (
        "papers",
        '"A4"',
        '"{{ 7 * 7 }}"',
        2,
        10,
        "'label' holds markup",
        "write plain words; < and & only with blanks around them",
    ),
    "word not of the list": (
        "drying-times",
        "stage: seal",
        "stage: sael",
        3,
        10,
        "'stage' cannot be 'sael'",
        "did you mean 'seal'?",
    ),
    "word far from the list": (
        "fluids",
        "use: setting",
        "use: xyz",
        3,
        8,
        "'use' cannot be 'xyz'",
        "one of wetting, setting, softening, removing",
    ),
    "text for a list": (
        "scales",
        "kinds: [aircraft, ship]",
        "kinds: aircraft",
        3,
        10,
        "'kinds' must be a list",
        "write 'kinds: [aircraft]'",
    ),
    "text for a list that may be empty": (
        "scales",
        'aliases: ["seventy-two"]',
        'aliases: "x"',
        4,
        12,
        "'aliases' must be a list",
        'write \'aliases: ["…", "…"]\', or [] for none',
    ),
    "empty list": (
        "scales",
        "kinds: [aircraft, ship]",
        "kinds: []",
        3,
        10,
        "'kinds' holds nothing",
        "write 'kinds: [aircraft]'",
    ),
    "word twice in a list": (
        "scales",
        "kinds: [aircraft, ship]",
        "kinds: [ship, ship]",
        3,
        17,
        "'ship' stands twice in 'kinds'",
        "keep one of the two",
    ),
    "wrong word in a list": (
        "scales",
        "kinds: [aircraft, ship]",
        "kinds: [aircraft, shi]",
        3,
        21,
        "'kinds' cannot be 'shi'",
        "did you mean 'ship'?",
    ),
    "yes for true": (
        "printers",
        "prints_white: false",
        "prints_white: yes",
        3,
        17,
        "'prints_white' cannot be 'yes'",
        "write true",
    ),
    "Off for false": (
        "printers",
        "prints_white: false",
        "prints_white: Off",
        3,
        17,
        "'prints_white' cannot be 'Off'",
        "write false",
    ),
    "word for yes or no": (
        "printers",
        "prints_white: false",
        "prints_white: maybe",
        3,
        17,
        "'prints_white' cannot be 'maybe'",
        "write true or false",
    ),
    "year that is none": (
        "sources",
        "year: 2007",
        "year: 20007",
        4,
        9,
        "'year' cannot be '20007'",
        "a whole number from 1600 to 2100",
    ),
    "year as words": (
        "sources",
        "year: 2007",
        "year: about 2007",
        4,
        9,
        "'year' cannot be 'about 2007'",
        "a whole number from 1600 to 2100",
    ),
    "year in another base": (
        "sources",
        "year: 2007",
        "year: 0o3727",
        4,
        9,
        "'year' cannot be '0o3727'",
        "a whole number from 1600 to 2100",
    ),
    "address without https": (
        "sources",
        "read: copy",
        'read: copy\n  url: "http://example.org/a"',
        6,
        8,
        "'url' cannot be 'http://example.org/a'",
        "an address that begins with https://",
    ),
    "address that runs script": (
        "sources",
        "read: copy",
        'read: copy\n  url: "javascript:alert(1)"',
        6,
        8,
        "'url' cannot be 'javascript:alert(1)'",
        "an address that begins with https://",
    ),
    "address with a name in it": (
        "sources",
        "read: copy",
        'read: copy\n  url: "https://user@example.org/"',
        6,
        8,
        "'url' cannot be 'https://user@example.org/'",
        "an address that begins with https://",
    ),
    "dead address": (
        "sources",
        "read: copy",
        'read: copy\n  url: "https://nowhere/"',
        6,
        8,
        "'url' cannot be 'https://nowhere/'",
        "an address that begins with https://",
    ),
    # values
    "bare number": (
        "papers",
        "  width: {value: 148, unit: mm, source: common-practice}",
        "  width: 148",
        11,
        10,
        "'width' must be a value with its unit and source",
        "write 'width: {value: 148, unit: mm, source: common-practice}'",
    ),
    "missing value": ("papers", "    value: 297\n", "", 5, 5, "'value' is missing", "add 'value: …'"),
    "missing end of a range": (
        "papers",
        "low: 209, high: 210",
        "low: 209",
        12,
        11,
        "'high' is missing",
        "add 'high: …'",
    ),
    "value beside a range": (
        "papers",
        "low: 209, high: 210",
        "value: 210, low: 209, high: 210",
        12,
        12,
        "'value' stands beside a range",
        "keep 'value' alone, or 'low' and 'high'",
    ),
    "missing unit": ("papers", "    unit: mm\n", "", 5, 5, "'unit' is missing", "add 'unit: mm'"),
    "wrong unit": (
        "papers",
        "    unit: mm\n",
        "    unit: cm\n",
        6,
        11,
        "the unit of 'height' is 'mm'",
        "convert the value and write 'unit: mm'",
    ),
    "no unit of waiting": (
        "drying-times",
        "unit: min",
        "unit: minutes",
        6,
        31,
        "'minutes' is no unit of 'shortest'",
        "one of s, min, h, d, months",
    ),
    "unit within the value": (
        "papers",
        "    value: 297",
        "    value: 297 mm",
        5,
        12,
        "'value' must be a number",
        "write 'value: 297', and the unit in 'unit'",
    ),
    "number in quotes": (
        "papers",
        "    value: 297",
        '    value: "297"',
        5,
        12,
        "'value' must be a number",
        "write 'value: 297'",
    ),
    "decimal comma": (
        "papers",
        "    value: 297",
        "    value: 297,5",
        5,
        12,
        "'value' must be a number",
        "write 'value: 297.5'",
    ),
    "decimal comma in brackets": (
        "papers",
        "{value: 148, unit",
        "{value: 148,5, unit",
        11,
        22,
        "a comma stands where the decimal point belongs",
        "write 'value: 148.5'",
    ),
    "number without its nought": (
        "printers",
        "value: 0.1,",
        "value: .1,",
        4,
        26,
        "'value' must be a number",
        "write 'value: 0.1'",
    ),
    "number with an exponent": (
        "papers",
        "    value: 297",
        "    value: 2.97e2",
        5,
        12,
        "'value' must be a number",
        "write 'value: 297'",
    ),
    "infinite number": (
        "papers",
        "    value: 297",
        "    value: .inf",
        5,
        12,
        "'value' must be a number",
        "digits with a point, and no unit: '0.15'",
    ),
    "scale read as minutes": (
        "scales",
        "value: 72,",
        "value: 1:48,",
        5,
        18,
        "'value' must be a number",
        "write 'value: 48', and the unit in 'unit'",
    ),
    "words for a number": (
        "papers",
        "    value: 297",
        "    value: about a foot",
        5,
        12,
        "'value' must be a number",
        "digits with a point, and no unit: '0.15'",
    ),
    "absurd value": (
        "papers",
        "    value: 297",
        "    value: 29700",
        5,
        12,
        "29700 is no likely 'height'",
        "values from 50 to 2000 mm are taken; look at unit and point",
    ),
    "absurd wait": (
        "drying-times",
        "value: 2, unit: d",
        "value: 20000, unit: d",
        8,
        20,
        "20000 is no likely 'longest'",
        "values from 1 s to 10 years are taken; look at unit and point",
    ),
    "range turned round": (
        "papers",
        "low: 209, high: 210",
        "low: 210, high: 209",
        12,
        17,
        "'low' is above 'high'",
        "write 'low: 209, high: 210'",
    ),
    "waits that fall": (
        "drying-times",
        "value: 20, unit: min",
        "value: 20, unit: h",
        7,
        10,
        "'usual' is below 'shortest'",
        "look at values and units of both",
    ),
    # sources
    "unknown source": (
        "papers",
        "ref: iso-216, at",
        "ref: iso-216b, at",
        3,
        47,
        "source 'iso-216b' is not in data/sources.yaml",
        "did you mean 'iso-216'?",
    ),
    "missing source": (
        "papers",
        ", source: common-practice}\n  height",
        "}\n  height",
        11,
        10,
        "'source' is missing",
        "add 'source: common-practice'",
    ),
    "source without its place": (
        "papers",
        HEIGHT_SOURCE,
        "    source: {ref: iso-216}\n",
        7,
        13,
        "'at' is missing",
        "add 'at: \"…\"'",
    ),
    "source with an empty place": (
        "papers",
        HEIGHT_SOURCE,
        '    source: {ref: iso-216, at: ""}\n',
        7,
        32,
        "'at' is empty",
        "write 'at: \"…\"', or take the line out",
    ),
    "misspelt mark": (
        "papers",
        f"{HEIGHT_SOURCE}    status: read",
        "    source: comon-practice",
        7,
        13,
        "this is no source",
        "did you mean 'common-practice'?",
    ),
    "words for a source": (
        "papers",
        f"{HEIGHT_SOURCE}    status: read",
        "    source: a friend",
        7,
        13,
        "this is no source",
        "write 'source: common-practice', or 'estimate', 'drawn-up', or 'source: {ref: …, at: \"…\"}'",
    ),
    "status of common practice": (
        "papers",
        HEIGHT_SOURCE,
        "    source: common-practice\n",
        8,
        5,
        "'common-practice' has no status",
        "take 'status' out",
    ),
    "status of an estimate": (
        "papers",
        HEIGHT_SOURCE,
        "    source: estimate\n",
        8,
        5,
        "'estimate' has no status",
        "take 'status' out",
    ),
    "misspelt estimate": (
        "papers",
        f"{HEIGHT_SOURCE}    status: read",
        "    source: estimated",
        7,
        13,
        "this is no source",
        "did you mean 'estimate'?",
    ),
    "estimate of a safety figure": (
        "solvents",
        'source: {ref: iso-216, at: "REL"}, status: read',
        "source: estimate",
        4,
        46,
        "a safety figure cannot be 'estimate'",
        "name the document that was read, or take the value out",
    ),
    "missing status": (
        "papers",
        "    status: read\n",
        "",
        5,
        5,
        "'status' is missing",
        "add 'status: …', one of read, package, computed, memory",
    ),
    "wrong status": (
        "papers",
        "    status: read",
        "    status: red",
        8,
        13,
        "'status' cannot be 'red'",
        "did you mean 'read'?",
    ),
    "read of what was not read": (
        "papers",
        HEIGHT_SOURCE,
        '    source: {ref: hearsay, at: "p. 1"}\n',
        8,
        13,
        "'hearsay' is known by memory only",
        "one of computed, memory, or correct 'read' in data/sources.yaml",
    ),
    "row without its source": (
        "fluids",
        "  source: common-practice\n",
        "",
        1,
        3,
        "'source' is missing",
        "add 'source: common-practice'",
    ),
    "row without its status": (
        "drying-times",
        "  status: read\n",
        "",
        1,
        3,
        "'status' is missing",
        "add 'status: …', one of read, package, computed, memory",
    ),
    "safety figure from memory": (
        "solvents",
        "status: read}\n  through",
        "status: memory}\n  through",
        4,
        81,
        "a safety figure from memory is not shipped",
        "name the document that was read, or take the value out",
    ),
    "safety figure of common practice": (
        "solvents",
        'source: {ref: iso-216, at: "REL"}, status: read',
        "source: common-practice",
        4,
        46,
        "a safety figure cannot be 'common-practice'",
        "name the document that was read, or take the value out",
    ),
    "hazard from memory": (
        "solvents",
        'at: "card"}, status: read',
        'at: "card"}, status: memory',
        7,
        79,
        "a safety figure from memory is not shipped",
        "name the document that was read, or take the value out",
    ),
    # references and verdicts
    "dangling reference": (
        "fluids",
        "settles: [ink]",
        "settles: [inkk]",
        7,
        13,
        "'inkk' is not in data/drying-times.yaml",
        "did you mean 'ink'?",
    ),
    "reference into no table": (
        "fluids",
        "printers/laser",
        "printer/laser",
        9,
        14,
        "'what' cannot be 'printer/laser'",
        "a table and an id in it: substrates/…, printers/…, coats/…",
    ),
    "dangling verdict": (
        "fluids",
        "printers/laser",
        "printers/lazer",
        9,
        14,
        "'lazer' is not in data/printers.yaml",
        "did you mean 'laser'?",
    ),
    "no verdict": (
        "fluids",
        "verdict: safe",
        "verdict: mostly",
        9,
        39,
        "'verdict' cannot be 'mostly'",
        "one of safe, test first, never",
    ),
    "verdict without its reason": (
        "fluids",
        ', why: "Toner stands water."',
        "",
        9,
        7,
        "'why' is missing",
        "add 'why: \"…\"'",
    ),
    "verdict as words": (
        "fluids",
        '{what: printers/laser, verdict: safe, why: "Toner stands water."}',
        '"safe on toner"',
        9,
        7,
        "an entry of 'against' has 3 parts",
        'write {what: table/id, verdict: safe, why: "…"}',
    ),
    # ids and names
    "wrong id": (
        "papers",
        "id: a4",
        "id: A4 Sheet",
        1,
        7,
        "'id' cannot be 'A4 Sheet'",
        "lower case, digits and hyphens: 'a4-sheet'",
    ),
    "id that is a number": (
        "papers",
        "id: a4",
        "id: 4",
        1,
        7,
        "'id' is read as a number, not as words",
        'put it in double quotes: "4"',
    ),
    "duplicate id": (
        "papers",
        "id: a5",
        "id: a4",
        9,
        7,
        "id 'a4' stands on line 1 already",
        "give this row an id of its own",
    ),
    "duplicate name": (
        "papers",
        '"A5"',
        '"a4"',
        10,
        10,
        "the name 'a4' is that of 'a4'",
        "give this row a name of its own",
    ),
    "alias that is another's id": (
        "scales",
        'aliases: ["seventy-two"]\n  ratio: {value: 72, unit: "1:n", source: common-practice}\n',
        (
            'aliases: ["ratio-76"]\n  ratio: {value: 72, unit: "1:n", source: common-practice}\n- id: ratio-76\n  '
            'label: "1:76"\n  kinds: [ship]\n  aliases: []\n  ratio: {value: 76, unit: "1:n", source: '
            "common-practice}\n"
        ),
        4,
        13,
        "'ratio-76' is the id of another row",
        "take it out; that row is found by its id",
    ),
    "forward to nothing": (
        "papers",
        "- id: a5",
        "- {id: a6, now: a55}\n- id: a5",
        9,
        17,
        "'a55' is no row of this table",
        "did you mean 'a5'?",
    ),
    "forward in a circle": (
        "papers",
        "- id: a5",
        "- {id: a6, now: a6}\n- id: a5",
        9,
        17,
        "'a6' is forwarded in a circle",
        "name the row that there is now",
    ),
    "misspelt forward": (
        "papers",
        "- id: a5",
        "- {id: a6, nwo: a5}\n- id: a5",
        9,
        12,
        "'nwo' is no part of a row here",
        "did you mean 'now:'?",
    ),
    # entries of troubleshooting
    "entry without a part": (
        "troubleshooting/milky",
        "stage: seal\n",
        "",
        1,
        1,
        "'stage' is missing",
        "add 'stage: …', one of size, artwork, underlay, sheet, print, seal, apply, finish, rescue",
    ),
    "entry with an unknown part": (
        "troubleshooting/milky",
        "stage: seal\n",
        'stage: seal\ncolour: "red"\n',
        3,
        1,
        "'colour' is no part of a row here",
        "take it out; the parts are id, title, stage, see, said, causes, avoid, never, related, waits, source, status",
    ),
    "entry at no stage": (
        "troubleshooting/milky",
        "stage: seal",
        "stage: seel",
        2,
        8,
        "'stage' cannot be 'seel'",
        "did you mean 'seal'?",
    ),
    "id written in the file": (
        "troubleshooting/milky",
        "stage: seal\n",
        "id: milky\nstage: seal\n",
        2,
        5,
        "the id is the name of the file",
        "take this line out",
    ),
    "title with a stop": (
        "troubleshooting/milky",
        'veil under the seal"',
        'veil under the seal."',
        1,
        8,
        "'title' ends with a full stop",
        "take the full stop out: this is a heading",
    ),
    "title with a wait": (
        "troubleshooting/milky",
        'veil under the seal"',
        'veil after {ink}"',
        1,
        8,
        "'title' holds a brace",
        "name waits in the other parts",
    ),
    "title too long": (
        "troubleshooting/milky",
        "Milky veil",
        "Milky veil " * 7,
        1,
        8,
        "'title' has 92 characters, and at most 80 fit",
        "shorten it, or put the rest into a row of its own",
    ),
    "title of another": (
        "troubleshooting/milky",
        "Milky veil under the seal",
        "Ink runs in the  Water",
        1,
        8,
        "the name 'Ink runs in the  Water' is that of 'ink-runs'",
        "give this row a name of its own",
    ),
    "sentence without its stop": (
        "troubleshooting/milky",
        "before it was sprayed.",
        "before it was sprayed",
        3,
        6,
        "'see' does not end its sentence",
        "end it with a full stop",
    ),
    "one cause": (
        "troubleshooting/ink-runs",
        '  - {cause: "A cut edge.", test: "Only edges run.", now: "Seal the edges."}\n',
        "",
        5,
        3,
        "'causes' holds 1, and at least 2 are needed",
        "add another",
    ),
    "six causes": (
        "troubleshooting/ink-runs",
        "causes:\n",
        "causes:\n" + "".join(f'  - {{cause: "No {each}.", test: "So.", now: "Thus."}}\n' for each in "abcd"),
        5,
        3,
        "'causes' holds 6, and at most 5 fit",
        "keep those that matter most",
    ),
    "no cause": (
        "troubleshooting/milky",
        TROUBLE[TROUBLE.index("causes:") : TROUBLE.index("avoid:")],
        "causes: []\n",
        4,
        9,
        "'causes' holds nothing",
        'write \'causes: [{cause: "…", test: "…", now: "…"}]\'',
    ),
    "cause without its test": (
        "troubleshooting/milky",
        '    test: "It came within a minute of the pass."\n',
        "",
        5,
        5,
        "'test' is missing",
        "add 'test: \"…\"'",
    ),
    "cause with an unknown part": (
        "troubleshooting/milky",
        '    test: "It came',
        '    tset: "It came',
        6,
        5,
        "'tset' is no part of a row here",
        "did you mean 'test:'?",
    ),
    "part of the entry within a cause": (
        "troubleshooting/milky",
        "avoid:\n",
        '    never: ["x."]\navoid:\n',
        11,
        5,
        "'never' is a part of the row",
        "indent it as the other parts of the row",
    ),
    "cause as words": (
        "troubleshooting/ink-runs",
        '{cause: "A cut edge.", test: "Only edges run.", now: "Seal the edges."}',
        '"A cut edge."',
        6,
        5,
        "an entry of 'causes' has 3 parts",
        'write {cause: "…", test: "…", now: "…"}',
    ),
    "empty part of a cause": (
        "troubleshooting/milky",
        '"Damp air."',
        '""',
        5,
        12,
        "'cause' is empty",
        "write 'cause: \"…\"', or take the line out",
    ),
    "five things never to do": (
        "troubleshooting/milky",
        "never: [",
        'never: ["A.", "B.", "C.", "D.", ',
        14,
        8,
        "'never' holds 5, and at most 4 fit",
        "keep those that matter most",
    ),
    "related to nothing": (
        "troubleshooting/milky",
        "related: [ink-runs]",
        "related: [ink-run]",
        15,
        11,
        "'ink-run' is not in data/troubleshooting/",
        "did you mean 'ink-runs'?",
    ),
    "related to itself": (
        "troubleshooting/milky",
        "related: [ink-runs]",
        "related: [ink-runs, milky]",
        15,
        21,
        "'milky' is this entry itself",
        "name another entry, or take it out",
    ),
    "related twice": (
        "troubleshooting/milky",
        "related: [ink-runs]",
        "related: [ink-runs, ink-runs]",
        15,
        21,
        "'ink-runs' stands twice in 'related'",
        "keep one of the two",
    ),
    "wait that is none": (
        "troubleshooting/milky",
        "waits: [ink]",
        "waits: [inc]",
        16,
        9,
        "'inc' is not in data/drying-times.yaml",
        "did you mean 'ink'?",
    ),
    "wait that is not listed": (
        "troubleshooting/milky",
        "waits: [ink]\n",
        "",
        7,
        10,
        "'{ink}' is named in the text, but 'waits' does not list it",
        "write 'waits: [ink]'",
    ),
    "wait that is not named": (
        "troubleshooting/ink-runs",
        "related: [milky]\n",
        "related: [milky]\nwaits: [ink]\n",
        10,
        9,
        "'waits' lists 'ink', but no text names it",
        "write {ink} where the wait is said, or take it out of 'waits'",
    ),
    "misspelt wait in a text": (
        "troubleshooting/milky",
        "{ink}",
        "{inc}",
        7,
        10,
        "'{inc}' names no wait",
        "did you mean 'ink'?",
    ),
    "brace that was not closed": (
        "troubleshooting/ink-runs",
        "Colour spreads",
        "Colour {spreads",
        3,
        6,
        "'see' holds a brace that names no wait",
        "write the id of a wait between both braces: {soak}",
    ),
    "wait typed in hours": (
        "troubleshooting/milky",
        "within a minute of the pass",
        "within 24 hours of the pass",
        6,
        11,
        "'test' names a wait as '24 hours'",
        "name a wait of data/drying-times.yaml in braces, such as {soak}, or say the test that ends it",
    ),
    "wait typed as a range": (
        "troubleshooting/milky",
        '"Spray on a dry day."',
        '"Wait 2-3 h."',
        12,
        5,
        "'avoid' names a wait as '2-3 h'",
        "name a wait of data/drying-times.yaml in braces, such as {soak}, or say the test that ends it",
    ),
    "wait typed in words": (
        "troubleshooting/milky",
        "Do not wipe it:",
        "Wait two or three days:",
        14,
        9,
        "'never' names a wait as 'two or three days'",
        "name a wait of data/drying-times.yaml in braces, such as {soak}, or say the test that ends it",
    ),
    "words among the rows": (
        "papers",
        "- id: a5",
        "- a6\n- id: a5",
        9,
        3,
        "this is no row",
        "begin each row with '- id: …'",
    ),
}


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

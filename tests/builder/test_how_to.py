"""HowTo data from a page's Markdown: schema.org's terms, the page's own words."""

import json

import yaml

from builder.how_to import how_to, text_of
from tests.builder.test_pages import ROOT, printed, root, write  # noqa: F401 - a fixture

BODY = """\
Words before.

1. Open [the size](scale-size.md), and type `12 in` &amp; the *scale*:
   <span class="dw-wait" data-wait="soak"><a href="x/">10 to 30 s</a></span>.
2. Cut.

    <figure class="dw-figure"><svg><text>a label</text></svg></figure>

    Then wait.

Words after.
"""
META = {"title": "How to cut", "description": "Cut it."}


def test_steps_are_in_page_order_and_plain_text():
    # schema.org/HowTo and /HowToStep: step, position (whole number), text.
    assert how_to(META, BODY) == {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": "How to cut",
        "description": "Cut it.",
        "step": [
            {"@type": "HowToStep", "position": 1, "text": "Open the size, and type 12 in & the scale: 10 to 30 s."},
            {"@type": "HowToStep", "position": 2, "text": "Cut. Then wait."},
        ],
    }


def test_listed_tools_and_supplies_are_included():
    made = how_to({**META, "tools": ["Tweezers"], "supplies": ["Water", "Film"]}, BODY)
    # schema.org/tool and /supply.
    assert made["tool"] == [{"@type": "HowToTool", "name": "Tweezers"}]
    assert made["supply"] == [{"@type": "HowToSupply", "name": "Water"}, {"@type": "HowToSupply", "name": "Film"}]


def test_a_word_between_angle_brackets_that_is_no_tag_stays():
    assert text_of("Take 3 &lt; 4.\n") == "Take 3 < 4."


def test_a_table_within_a_step_is_not_read_out():
    assert (
        text_of("Look it up:\n\n    | Value | Light |\n    |---:|---:|\n    | 80 | 8.0 |\n\n    Then divide.\n")
        == "Look it up: Then divide."
    )


def test_a_list_within_a_step_belongs_to_its_words():
    assert text_of("Ask:\n    - one\n    - two\n") == "Ask: one two"


def test_the_page_carries_it_in_its_front_matter(root):  # noqa: F811 - a fixture
    write(
        root,
        "size/cut.md",
        '---\ntitle: How to cut\ndescription: Cut it.\nkind: how-to\n---\n1. One.\n2. Two: "three".\n',
    )
    meta = yaml.safe_load(printed(root, "size/cut.md").split("---\n")[1])
    assert [step["text"] for step in meta["how_to"]["step"]] == ["One.", 'Two: "three".']
    assert json.loads(json.dumps(meta["how_to"]))["@type"] == "HowTo"

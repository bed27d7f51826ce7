"""Which texts name a hazard, and where the card is placed. The hazards here are made up."""

from pathlib import Path

import jinja2
import pytest

from builder.cautions import cautions_for, with_card
from builder.steps import split_steps
from calculators.tables.coating_rows import Hazard

ROOT = Path(__file__).resolve().parents[2]


def hazard(
    id: str, named: list[str], not_meant: list[str] = (), handled: list[str] = (), deeds: list[str] = ()
) -> Hazard:
    words = {"named": named, "not_meant": not_meant, "handled": handled, "deeds": deeds, "says": ["care"]}
    return Hazard(
        id=id,
        label=id.capitalize(),
        caution="Take care.",
        source=None,
        **{name: tuple(each) for name, each in words.items()},
    )


BLADES = hazard("blades", ["blade", "knife"], ["propeller blade"])
DUST = hazard("dust", ["sand", "sanding"], ["sand-coloured"])
DRYER = hazard("dryer", ["hair dryer"])
LACQUER = hazard("lacquer", [], ["lacquered"], handled=["lacquer"], deeds=["brush", "brushed"])


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("Cut with a knife.", ["blades"]),
        ("Fresh BLADES, two of them.", ["blades"]),
        ("Sand wet, by hand.", ["dust"]),
        ("No wet-sanding today.", ["dust"]),
        ("A thousand sandwiches.", []),
        ("A sand-coloured truck.", []),
        ("A sand-coloured truck, to sand.", ["dust"]),
        ("The propeller blades of the Teasel.", []),
        ("Use no hair\n   dryer with a **blade**.", ["blades", "dryer"]),
        ('<p class="blade">Nothing <img alt="sand"></p>', []),
        ("See [this](../blade/knife.md).", []),
        ("See [the knife](../page.md).", ["blades"]),
        ("", []),
        # Sand is the name of a paint colour as well.
        ('<option value="#c2a878">Sand</option>', []),
        ('<table><tr><th scope="row"><a href="../sand/">Sand</a>\n </th><td>Sand</td></tr></table>', []),
        ('<td><svg class="dw-swatch"></svg> <span class="dw-shown">Sand</span></td>', []),
        ("<td>Sand it wet.</td>", ["dust"]),
        ("<td>Sand</td><td>Sand wet.</td>", ["dust"]),
        ('<option value="a">Sand and prime</option>', ["dust"]),
        ("<li>Sand</li>", ["dust"]),
        ('<a href="x">Sand</a> it down.', ["dust"]),
        ("Sand", ["dust"]),
        ("<td>Knife</td>", ["blades"]),
    ],
)
def test_hazards_are_found_in_text(text, ids):
    assert [each.id for each in cautions_for(text, [BLADES, DUST, DRYER])] == ids


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("Brush lacquer along the edge.", True),
        ("Lacquer is brushed along the edge.", True),
        ("The lacquer has dried.", False),
        ("The lacquer has dried. Brush the dust off.", False),
        ("Is it lacquer? Then brush it.", False),
        ("<td>Lacquer</td><td>Brush</td>", False),
        ("- Lacquer\n- A brush", False),
        ("The lacquer\n\nA brush", False),
        ("Brush on the\nlacquer", True),
        ("Brush the lacquered brass.", False),
    ],
)
def test_a_material_needs_an_action_to_call_for_a_caution(text, named):
    assert cautions_for(text, [LACQUER]) == ([LACQUER] if named else [])


STEPS = """\
Words before.

1. One,
   over two lines.
2. Two.

    <figure>a drawing</figure>

    A second paragraph.

3. Three,
which goes on here.

Words after.
"""


def test_steps_are_numbered_items_with_their_indented_lines():
    before, steps, after = split_steps(STEPS)
    assert before == "Words before.\n\n"
    assert steps == [
        "One,\n   over two lines.\n",
        "Two.\n\n    <figure>a drawing</figure>\n\n    A second paragraph.\n",
        "Three,\nwhich goes on here.\n",
    ]
    assert after == "Words after.\n"


def test_a_page_without_steps_is_all_introduction():
    assert split_steps("Words.\n\n- 1. not a step\n") == ("Words.\n\n- 1. not a step\n", [], "")


# -- The card in its page, from the real table


@pytest.fixture
def templates():
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(ROOT / "builder" / "templates"),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )


HOW_TO = "Words before.\n\n1. Measure it.\n2. Cut it with a knife.\n3. Change the blade.\n"


def test_a_how_to_card_precedes_its_steps_and_lists_them(templates):
    page = with_card(templates, HOW_TO, {"kind": "how-to"}, "../../safety/")
    before, card = page.index("Words before."), page.index('<aside class="dw-caution dw-cautions"')
    assert before < card < page.index("1. Measure it.")
    assert '<li data-hazard="blades" data-steps="2 3">' in page
    assert '<a href="../../safety/">' in page
    assert page.endswith("\n\n" + HOW_TO.split("\n\n")[1])


def test_other_pages_end_with_the_card(templates):
    page = with_card(templates, "Why a knife slips.\n\n## More\n", {"kind": "why"}, "../safety/")
    assert page.startswith("Why a knife slips.\n\n## More\n\n<aside ") and page.endswith("</aside>\n")


@pytest.mark.parametrize(
    ("meta", "body"),
    [
        ({"kind": "how-to"}, "1. Measure it.\n"),
        ({"kind": "reference", "caution": True}, "A knife is sharp.\n"),
        ({"kind": "row"}, "A knife: use a fresh blade, away from the hand.\n"),
        ({"kind": "why"}, '!!! warning "Caution"\n    With a knife use a fresh blade, away from the hand.\n'),
    ],
    ids=["names nothing", "is a caution", "says it in its row", "says it in a card of the writer's"],
)
def test_pages_without_hazard_or_with_own_warning_are_unchanged(templates, meta, body):
    assert with_card(templates, body, meta, "safety/") == body


def test_the_title_of_a_row_counts_for_cautions(templates):
    page = with_card(templates, "For tools only.\n", {"kind": "row", "title": "Lacquer thinner"}, "safety/")
    assert 'data-hazard="solvent-vapour"' in page
    # A paint called "sand" does not ask for sanding.
    assert with_card(templates, "A shade.\n", {"kind": "row", "title": "Sand"}, "safety/") == "A shade.\n"

"""Values of a marking within the text of a page, and messages that hold them."""

import re
from html import unescape

import jinja2
import pytest

from builder.of_job import message, value_of_calculator, value_of_job
from calculators import messages
from tests.conftest import ROOT


def data(html) -> dict[str, str]:
    return {name: unescape(value) for name, value in re.findall(r' data-([a-z]+)="([^"]*)"', html)}


def test_a_value_stands_as_its_other_words_until_it_is_known():
    assert str(value_of_job("name", "your <marking>")).endswith(">your &lt;marking&gt;</span>")


def test_a_count_has_its_default_and_a_choice_its_labels():
    assert data(value_of_job("copies", "…")) == {"of": "copies", "default": "1"}
    assert data(value_of_job("spares", "…"))["default"] == "0"
    way = data(value_of_job("way", "…"))
    assert way["shared"] == "way" and '"backing-piece": "Backing piece' in way["labels"]


def test_a_width_is_looked_for_under_the_names_of_widths():
    assert "width" in data(value_of_job("width", "…")) and "width" not in data(value_of_job("way", "…"))


def test_what_a_partner_has_for_itself_is_marked():
    assert "own" in data(value_of_job("name", "…")) and "own" not in data(value_of_job("copies", "…"))


def test_a_field_of_a_calculator_has_its_labels_its_default_and_the_name_that_it_shares():
    piece = data(value_of_calculator("cut-file", "piece", "…"))
    assert (piece["calculator"], piece["of"], piece["default"]) == ("cut-file", "piece", "white")
    assert piece["shared"] == "cut-piece" and '"white": "Stencil for white beneath"' in piece["labels"]
    assert data(value_of_calculator("cut-file", "copies", "…"))["default"] == "1"
    with pytest.raises(ValueError, match="no such field: no-such of cut-file"):
        value_of_calculator("cut-file", "no-such", "…")


@pytest.mark.parametrize("name", ["rows", "values", "no-such"])
def test_what_cannot_stand_in_a_line_is_refused(name):
    with pytest.raises(ValueError, match=f"no such value: {name}"):
        value_of_job(name, "…")


def test_a_message_has_a_button_that_needs_its_script():
    templates = jinja2.Environment(loader=jinja2.FileSystemLoader(ROOT / "builder" / "templates"), autoescape=True)
    made = message(templates, "  <p>Cut it.</p> ")
    assert made.startswith('<figure class="dw-message">') and "\n  <p>Cut it.</p>\n" in made
    assert f" hidden>{messages.PAGE['message_copy']}</button>" in made

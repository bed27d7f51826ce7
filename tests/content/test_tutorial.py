"""The tutorial: it can be followed from end to end, and its answers are those of the calculators."""

import re

import pytest

from builder.pages import calculators
from calculators.stages import STAGES
from tests.content.test_content import CONTENT, PAGES, body_of, meta_of, name_of

TUTORIALS = [page for page in PAGES if meta_of(page)["kind"] == "tutorial"]
_FILLED = re.compile(r"\{\{.*?\}\}|\{%.*?%\}", re.DOTALL)
_LINK = re.compile(r"\]\(([^)#]+)\)")
_ASKED = re.compile(r"\b(?:shown|worked)\(\"([\w-]+)\"")


def test_there_is_one():
    assert [name_of(page) for page in TUTORIALS] == ["tutorial.md"]


@pytest.mark.parametrize("page", TUTORIALS, ids=name_of)
def test_no_link_is_broken(page):
    made = {f"{each['url'].rstrip('/')}.md" for each in calculators()}
    leads_to = _LINK.findall(body_of(page))
    assert [link for link in leads_to if link not in made and not (CONTENT / link).is_file()] == []


@pytest.mark.parametrize("page", TUTORIALS, ids=name_of)
def test_each_answering_calculator_is_opened_in_the_tutorial(page):
    addresses = {each["id"]: f"{each['url'].rstrip('/')}.md" for each in calculators()}
    asked = set(_ASKED.findall(body_of(page)))
    assert asked
    assert {addresses[id] for id in asked} <= set(_LINK.findall(body_of(page)))


@pytest.mark.parametrize("page", TUTORIALS, ids=name_of)
def test_no_answer_is_typed(page):
    prose = re.sub(
        r"\S+\.png|railcar 12|^\d+\. ", "", _LINK.sub("]", _FILLED.sub("", body_of(page))), flags=re.MULTILINE
    )
    assert re.findall(r".*\d\s*(?:mm|ppi|px|layers of white paint|h|min|days?|%).*|\d+[.,]\d+", prose) == []


@pytest.mark.parametrize("page", TUTORIALS, ids=name_of)
def test_every_stage_is_visited(page):
    folders = {link.split("/")[0] for link in _LINK.findall(body_of(page))}
    assert set(STAGES) <= folders


@pytest.mark.parametrize("page", TUTORIALS, ids=name_of)
def test_each_list_of_steps_counts_from_one(page):
    last = 0
    for number in map(int, re.findall(r"^(\d+)\. ", body_of(page), re.MULTILINE)):
        assert number in (1, last + 1)
        last = number

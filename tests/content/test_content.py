"""The source pages: what each must contain before the builder prints it."""

import re
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml

from builder.pages import calculators
from calculators.stages import STAGES

ROOT = Path(__file__).resolve().parents[2]
CONTENT = ROOT / "content"
PAGES = sorted(CONTENT.rglob("*.md"))
FIGURES = sorted((CONTENT / "figures").glob("*.svg"))

KINDS = {"home", "stage", "how-to", "reference", "why", "tutorial", "job"}
NOT_OF_A_STAGE = "book"
FORBIDDEN = ("please", "simply", "oops", "invalid", "coming soon")
SMALLEST_LABEL_PX = 15
SVG = "{http://www.w3.org/2000/svg}"


def name_of(path: Path) -> str:
    return path.relative_to(CONTENT).as_posix()


@cache
def meta_of(page: Path) -> dict:
    return yaml.safe_load(page.read_text("utf-8").split("---\n")[1])


def body_of(page: Path) -> str:
    return page.read_text("utf-8").split("---\n", 2)[2]


def one_line(text: str) -> str:
    return " ".join(text.lower().split())


def how_tos() -> list[Path]:
    return [page for page in PAGES if meta_of(page)["kind"] == "how-to"]


@pytest.mark.parametrize("page", PAGES, ids=name_of)
def test_front_matter_describes_the_page(page):
    meta = meta_of(page)
    assert meta["title"] and meta["description"]
    assert meta["kind"] in KINDS
    folder = page.relative_to(CONTENT).parts[0]
    if folder in STAGES:
        assert meta["stage"] == folder
    else:
        assert meta["stage"] in {*STAGES, NOT_OF_A_STAGE}
    if "source" in meta:
        assert (ROOT / meta["source"]).is_file()


@pytest.mark.parametrize("stage", STAGES)
def test_each_stage_opens_with_its_decisions(stage):
    page = CONTENT / stage / "index.md"
    assert meta_of(page)["kind"] == "stage"
    assert "## What you decide here" in body_of(page)


@pytest.mark.parametrize("page", how_tos(), ids=name_of)
def test_a_how_to_links_a_calculator_or_a_table(page):
    assert meta_of(page)["title"].startswith("How to ")
    body = body_of(page)
    steps = [int(number) for number in re.findall(r"^(\d+)\. ", body, re.MULTILINE)]
    assert len(steps) >= 3
    assert steps == list(range(1, len(steps) + 1))
    leads_to = {(page.parent / link).resolve() for link in re.findall(r"\]\(([^)#]+\.md)", body)}
    of_calculators = {(CONTENT / each["url"].rstrip("/")).with_suffix(".md").resolve() for each in calculators()}
    of_tables = {each for each in PAGES if "{{ table(" in body_of(each)}
    assert leads_to & (of_calculators | of_tables)


@pytest.mark.parametrize("page", PAGES, ids=name_of)
def test_forbidden_words_do_not_occur(page):
    text = one_line(page.read_text("utf-8"))
    assert [word for word in FORBIDDEN if re.search(rf"\b{word}\b", text)] == []


def test_pages_about_artwork_state_the_rights():
    body = one_line(body_of(CONTENT / "artwork" / "bring-artwork-in.md"))
    assert "belong to somebody" in body and "restricted by law" in body


@pytest.mark.parametrize("figure", FIGURES, ids=name_of)
def test_figures_are_labelled_and_have_no_own_style(figure):
    drawing = ElementTree.parse(figure).getroot()
    assert drawing.tag == f"{SVG}svg" and drawing.get("role") == "img"
    title, description = drawing.find(f"{SVG}title"), drawing.find(f"{SVG}desc")
    assert title.text and description.text
    assert drawing.get("aria-labelledby") == f"{title.get('id')} {description.get('id')}"
    sizes = [float(each.get("font-size")) for each in drawing.iter() if each.get("font-size")]
    assert sizes and min(sizes) >= SMALLEST_LABEL_PX
    for each in drawing.iter():
        assert each.tag not in {f"{SVG}style", f"{SVG}script", f"{SVG}image"}
        assert "style" not in each.attrib and not any(name.startswith("on") for name in each.attrib)


@pytest.mark.parametrize("figure", FIGURES, ids=name_of)
def test_white_hatching_stays_on_white_in_every_palette(figure):
    paths = list(ElementTree.parse(figure).iter(f"{SVG}path"))
    white = {each.get("d") for each in paths if "dw-white" in each.get("class", "").split()}
    hatched = {each.get("d") for each in paths if "-hatch)" in each.get("fill", "")}
    assert hatched - white == set()


@pytest.mark.parametrize("name", ["dw-white", "dw-hatch", "dw-printed"])
def test_no_style_recolours_white_or_printed_parts(name):
    rules = re.sub(r"/\*.*?\*/", "", (ROOT / "theme" / "styles" / "drawings.css").read_text("utf-8"), flags=re.DOTALL)
    assert not re.search(rf"\.{name}\b", rules)


def test_ids_are_unique_across_figures():
    ids = [each.get("id") for figure in FIGURES for each in ElementTree.parse(figure).iter() if each.get("id")]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("figure", FIGURES, ids=name_of)
def test_each_figure_is_used_by_a_page(figure):
    assert any(f'figure("{figure.stem}")' in body_of(page) for page in PAGES)

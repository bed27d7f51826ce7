"""Every page that names a hazard carries its caution.

Which pages those are follows from data/hazards.yaml, not from a list.
"""

import re
from pathlib import Path

import pytest

from builder.cautions import cautions_for, plain_words
from builder.entry_pages import plain_sentences
from builder.pages import front_matter
from calculators import tables

ROOT = Path(__file__).resolve().parents[2]
HAZARDS = tables.load("hazards")
CARD = re.compile(r'<aside class="dw-caution dw-cautions".*?</aside>', re.DOTALL)
#: The names of other entries are not the words of this one.
RELATED = re.compile(r'<ul class="dw-related">.*?</ul>', re.DOTALL)
WRITTEN = re.compile(r"^!!! warning .*\n(?: {4}.*\n|\n(?= {4}))+", re.MULTILINE)


@pytest.fixture(scope="module")
def pages(printed_pages) -> dict[str, tuple[dict, str]]:
    """Every page as the builder prints it, by its path: its front matter and its body."""
    out, all_pages = printed_pages
    printed = {}
    for page in all_pages:
        text = (out / page.path).read_text("utf-8")
        printed[page.path.as_posix()] = (front_matter(text), text[text.index("\n---\n", 4) + 5 :])
    return printed


def own_words(path: str, meta: dict, body: str) -> str:
    """The text of a page without its card; of a row, with its title; of an entry, its instructions."""
    if meta.get("kind") == "entry":
        entry = tables.row("troubleshooting", Path(path).stem)
        return plain_sentences(
            " ".join([*(part for each in entry.causes for part in (each.test, each.now)), *entry.avoid])
        )
    text = RELATED.sub("", CARD.sub("", body))
    return f"<th>{meta['title']}</th>\n\n{text}" if meta.get("kind") == "row" else text


def cautions_of(meta: dict, body: str) -> str:
    """The text of a page's cautions; the whole text of a row, or of a page that is one caution."""
    if meta.get("caution") or meta.get("kind") == "row":
        return plain_words(body)
    return plain_words(" ".join([*CARD.findall(body), *WRITTEN.findall(body)]))


def test_a_page_naming_a_hazard_has_its_caution(pages):
    lacking = {}
    for path, (meta, body) in pages.items():
        named = cautions_for(own_words(path, meta, body))
        caution = cautions_of(meta, body)
        missing = [words for each in named for words in each.says if words not in caution]
        if missing:
            lacking[path] = missing
    assert lacking == {}


def test_hazard_pages_defer_to_data_sheet_and_local_rules(pages):
    for path, (meta, body) in pages.items():
        if meta.get("kind") == "row" and not CARD.search(body):
            continue  # its own parts have the caution; the page of its table defers
        if cautions_for(own_words(path, meta, body)):
            caution = cautions_of(meta, body)
            assert "local rules" in caution, path
            assert "safety data sheet" in caution or "maker's instructions" in caution, path


def test_a_page_without_hazards_has_no_card(pages):
    named_nowhere = [
        path
        for path, (meta, body) in pages.items()
        if CARD.search(body) and not cautions_for(own_words(path, meta, body))
    ]
    assert named_nowhere == []


def test_a_how_to_caution_precedes_the_first_step(pages):
    assert any(meta.get("kind") == "how-to" and CARD.search(body) for meta, body in pages.values())
    for path, (meta, body) in pages.items():
        card = CARD.search(body)
        if meta.get("kind") == "how-to" and card:
            assert card.start() < re.search(r"^1\. ", body, re.MULTILINE).start(), path


@pytest.mark.parametrize("hazard", HAZARDS, ids=lambda hazard: hazard.id)
def test_each_hazard_is_used_and_on_the_safety_page(pages, hazard):
    written = [path for path, (meta, _) in pages.items() if not meta.get("caution") and meta.get("kind") != "row"]
    assert any(hazard in cautions_for(own_words(path, *pages[path])) for path in written)
    assert hazard in cautions_for(pages["safety.md"][1])


@pytest.mark.parametrize("hazard", HAZARDS, ids=lambda hazard: hazard.id)
def test_a_caution_covers_its_hazard(hazard):
    assert [words for words in hazard.says if words not in hazard.caution.lower()] == []
    words = (*hazard.named, *hazard.not_meant, *hazard.handled, *hazard.deeds, *hazard.says)
    assert all(word == word.lower() for word in words)
    assert hazard.named or hazard.handled
    assert bool(hazard.handled) == bool(hazard.deeds), "things without a deed would never count"

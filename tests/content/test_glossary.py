"""The glossary: the words of the trade that the book has agreed on, in order, each with its address."""

import re

from tests.content.test_content import CONTENT, body_of

TERM = re.compile(r"^(\S.*?) \{ #([\w-]+) \}\n: ", re.MULTILINE)
WORDS = (
    "marking, waterslide film, clear film, white film, backing paper, underlay, choke, bleed, stencil, setting fluid, "
    "softening fluid, seal coat, gloss coat, blush, silvering, register, nesting, contrast ratio, hiding power, "
    "dew point, "
    "printed ppi, holding tab, waste frame, waste cuts, blade correction"
)


def terms() -> list[tuple[str, str]]:
    return TERM.findall(body_of(CONTENT / "glossary.md"))


def test_trade_words_are_defined():
    defined = {term.lower() for term, _ in terms()}
    assert [word for word in WORDS.split(", ") if word not in defined] == []


def test_terms_are_sorted_with_addresses_from_their_words():
    assert [term.lower() for term, _ in terms()] == sorted(term.lower() for term, _ in terms())
    assert [id for _, id in terms()] == [re.sub(r"\W+", "-", term.lower()) for term, _ in terms()]
    assert len(terms()) == body_of(CONTENT / "glossary.md").count("\n: ")

"""Texts for readers: the phrases that DEVELOPERS.md forbids do not occur, and sentences are short."""

from __future__ import annotations

import re

import pytest

from builder.reading import reading_of
from tests.content import readers_texts

MOST_WORDS = 30
#: Texts for readers, without whole pages, whose steps test_reading.py measures.
WORDED = (readers_texts.messages, readers_texts.declarations, readers_texts.tables)
EVERYWHERE = (
    readers_texts.pages,
    readers_texts.tables,
    readers_texts.messages,
    readers_texts.declarations,
    readers_texts.templates,
)
_ROW = re.compile(r"^\| (?P<written>[^|]+) \| (?P<not_written>“[^|]+”) \|", re.MULTILINE)


def not_written() -> dict[str, str]:
    """Return the phrases that we do not write, each with what we write: the table in DEVELOPERS.md."""
    section = (
        (readers_texts.ROOT / "DEVELOPERS.md").read_text("utf-8").split("## Words for readers\n")[1].split("\n## ")[0]
    )
    return {
        phrase.lower(): row["written"].strip()
        for row in _ROW.finditer(section)
        for phrase in re.findall(r"“([^”]+)”", row["not_written"])
    }


def found(text: str, phrases: dict[str, str]) -> list[str]:
    """Return the phrases that occur in ``text`` as whole words, also across line ends."""
    joined = re.sub(r"\s+", " ", text.lower())
    return [phrase for phrase in phrases if re.search(rf"(?<![\w-]){re.escape(phrase)}(?![\w-])", joined)]


def test_the_word_list_has_a_replacement_for_each_phrase():
    phrases = not_written()
    assert len(phrases) > 40 and all(phrases.values())
    assert phrases["reckon"] == "use, work out, go by"


@pytest.mark.parametrize("texts", EVERYWHERE, ids=lambda each: each.__name__)
def test_readers_meet_no_forbidden_phrase(texts):
    phrases, wrong, count = not_written(), [], 0
    for place, text in texts():
        count += 1
        wrong += [f"{place}: “{phrase}”, we write: {phrases[phrase]}" for phrase in found(text, phrases)]
    assert count > 10
    assert sorted(set(wrong)) == []


def test_phrases_match_across_lines_but_not_inside_words():
    assert found("It hangs on\n  your white.", {"hangs on your": ""}) == ["hangs on your"]
    assert found("A thumbnail, and a reckoner-like thing", {"nail": "", "reckoner": ""}) == []


@pytest.mark.parametrize("texts", WORDED, ids=lambda each: each.__name__)
def test_no_sentence_is_longer_than_thirty_words(texts):
    long, count = [], 0
    for place, text in texts():
        count += 1
        # A placeholder counts as one word.
        for sentence in re.split(r"(?<=[.!?])[”\"')]*\s+", re.sub(r"\{\w*\}", "X", text)):
            if re.search(r"[A-Za-z]", sentence) and reading_of([sentence]).longest > MOST_WORDS:
                long.append((place, sentence))
    assert count > 10
    assert long == []

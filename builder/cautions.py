"""Cautions: which hazards of ``data/hazards.yaml`` a text names, and the card for its page."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from html import unescape
from typing import Any

import jinja2

from builder.steps import split_steps
from calculators import tables

#: The address of the page that every caution leads to, relative to the site.
SAFETY = "safety/"

_TAG = re.compile(r"<[^>]*>")
_LINK_TARGET = re.compile(r"\]\([^)]*\)")
#: Where a sentence ends without a full stop: at the end of a cell, an entry of a list, a heading or a paragraph.
_BLOCK_ENDS = re.compile(r"</(?:td|th|li|p|dd|dt|h[1-6])>|\n\s*\n|\n\s*(?=(?:[-*]|#+|\d+\.) )")
_SENTENCE_ENDS = re.compile(r"(?<=[.!?])\s")
_WRITTEN_CARD = re.compile(r"^!!! warning .*\n(?: {4}.*\n?|\n(?= {4}))+", re.MULTILINE)


def plain_words(text: str) -> str:
    """Return the visible text of Markdown or HTML on one line, in lower case, without addresses and tags.

    Each block ends with a full stop. The name of a paint colour alone in an option, a cell or a span is left out:
    there, "Sand" is a colour and not an instruction.
    """
    ended = _BLOCK_ENDS.sub(" . ", _colour_alone().sub(" ", text))
    return " ".join(unescape(_TAG.sub(" ", _LINK_TARGET.sub("]", ended))).lower().split())


@cache
def _colour_alone() -> re.Pattern[str]:
    names = {
        name for row in tables.load("paint-colours") for name in (row.label, row.label.partition(",")[0], *row.aliases)
    }
    return re.compile(rf"<(option|td|th|span)\b[^>]*>\s*(?:<a\b[^>]*>)?\s*(?:{_any(names)})\s*(?:</a>)?\s*</\1>")


def cautions_for(text: str, hazards: Sequence[Any] | None = None) -> list[Any]:
    """Return the hazards that a text names, as rows of the table, in its order.

    ``text`` is Markdown or HTML. A word counts if it is whole, or has an s or es added, and is not
    within a phrase in which it means something else; some words count only beside an action. ``hazards`` stands in
    for the table.
    """
    return _named(plain_words(text), tables.load("hazards") if hazards is None else hazards)


def _named(plain: str, hazards: Sequence[Any]) -> list[Any]:
    return [each for each in hazards if names(each, plain)]


def names(hazard: Any, plain: str) -> bool:
    """Whether ``plain``, as ``plain_words`` gives it, names a hazard.

    Some words name it anywhere. Others do so only beside an action: "brush lacquer along it" calls for
    care with lacquer, "the lacquer has dried" does not.
    """
    # Most pages name nothing, and finding a plain word is many times faster than looking for all of them.
    named = [word for word in hazard.named if word in plain]
    handled = [word for word in hazard.handled if word in plain]
    if not named and not handled:
        return False
    meant = plain
    if any(phrase in plain for phrase in hazard.not_meant):
        meant = _elsewhere(hazard.not_meant).sub(" ", plain)
    if _has_any(named, meant):
        return True
    return bool(handled) and any(
        _has_any(handled, sentence) and _has_any(hazard.deeds, sentence) for sentence in _SENTENCE_ENDS.split(meant)
    )


def _has_any(words: Iterable[str], text: str) -> bool:
    """Return whether a text has one of ``words``, whole or with an s or es added."""
    for word in words:
        at = text.find(word)
        while at >= 0:
            if _whole(word).match(text, at):
                return True
            at = text.find(word, at + 1)
    return False


@cache
def _whole(word: str) -> re.Pattern[str]:
    return re.compile(rf"\b{re.escape(word)}(?:e?s)?\b")


@cache
def _elsewhere(phrases: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{_any(phrases)})")


def _any(phrases: Iterable[str]) -> str:
    return "|".join(re.escape(each) for each in sorted(phrases, key=len, reverse=True))


def says(hazard: Any, plain: str) -> bool:
    """Whether the text of a caution, as ``plain_words`` gives it, says all that a hazard needs said."""
    return all(words in plain for words in hazard.says)


def written_cards(markdown: str) -> str:
    """Return the warning cards that the writer of a page put into it."""
    return "\n".join(_WRITTEN_CARD.findall(markdown))


def card(
    templates: jinja2.Environment, hazards: Sequence[Any], safety: str, steps: Mapping[str, Sequence[int]] | None = None
) -> str:
    """Return the caution card of a page as HTML; nothing where there are no hazards.

    ``safety`` is the address of the page on safety, relative to the page. ``steps`` gives for the id of a hazard
    which steps of a how-to name it, counted from 1.
    """
    if not hazards:
        return ""
    macros: Any = templates.get_template("caution.html").module
    return str(macros.card(hazards, safety, steps or {})).strip()


def with_card(templates: jinja2.Environment, body: str, meta: Mapping[str, Any], safety: str) -> str:
    """Return the body of a page with its caution card: before the first step of a how-to, at the end of any other page.

    ``meta`` is the page's front matter. What a warning of the writer's own, or the caution of a row, says already is
    left out, and a page that is ``caution: true`` from end to end gets no card.
    """
    if meta.get("caution") or meta.get("kind") == "entry":  # an entry has its card already, before its first cause
        return body
    if meta.get("kind") == "row":
        own = plain_words(body)
        # Only its title says what a row is: "Lacquer thinner" is not repeated below it.
        title = plain_words(f"<th>{meta.get('title', '')}</th>")
        text = f"{title} {own}"
    else:
        own, text = plain_words(written_cards(body)), plain_words(body)
    named = [each for each in _named(text, tables.load("hazards")) if not says(each, own)]
    if not named:
        return body
    if meta.get("kind") != "how-to":
        return f"{body.rstrip()}\n\n{card(templates, named, safety)}\n"
    before, steps, _ = split_steps(body)
    plain_steps = [plain_words(step) for step in steps]
    places = {each.id: [number for number, words in enumerate(plain_steps, 1) if names(each, words)] for each in named}
    return f"{before.rstrip()}\n\n{card(templates, named, safety, places)}\n\n{body[len(before) :]}"

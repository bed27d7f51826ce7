"""Rules for a row as a whole: how its parts fit together when each is correct by itself."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from typing import Any

from calculators import messages
from calculators.tables.rules import WAIT, Slip, nearest

Ids = Mapping[str, Collection[str]]


def related_are_others(plain: Mapping[str, Any], ids: Ids) -> Iterator[Slip]:
    """Yield mistakes of an entry that is related to itself."""
    for place, each in enumerate(plain.get("related", ())):
        if each == plain.get("id"):
            yield Slip(("related", place), messages.RELATED_TO_ITSELF.format(id=each), messages.NAME_ANOTHER)


def waits_agree(plain: Mapping[str, Any], ids: Ids) -> Iterator[Slip]:
    """Yield waits in texts that ``waits`` lacks, or the reverse; only one mistake for a pair that differs by a slip."""
    listed = list(plain.get("waits", ()))
    named: dict[str, tuple[str | int, ...]] = {}
    for path, text in _texts(plain):
        for found in WAIT.findall(text):
            named.setdefault(found, path)
    strange = [each for each in named if each not in listed]
    unlisted = [each for each in strange if each in ids["drying-times"]]
    if unlisted:
        wanted = ", ".join([*(each for each in listed if each in named), *unlisted])
        yield Slip(
            named[unlisted[0]], messages.WAIT_NOT_LISTED.format(id=unlisted[0]), messages.LIST_WAITS.format(ids=wanted)
        )
    for each in strange:
        if each not in unlisted:
            yield Slip(
                named[each],
                messages.NO_SUCH_WAIT.format(id=each),
                nearest(each, sorted(ids["drying-times"]), messages.TAKE_FROM_WAITS),
            )
    # A wait that is misspelt in one of the two places is reported there.
    unnamed = [each for each in listed if each not in named and each in ids["drying-times"]]
    if not strange or len(unnamed) > len(strange):
        for each in unnamed:
            yield Slip(
                ("waits", listed.index(each)),
                messages.WAIT_NOT_NAMED.format(id=each),
                messages.NAME_WAIT_IN_TEXT.format(id=each),
            )


def _texts(plain: Mapping[str, Any]) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """Yield every text of a row with what leads to it."""
    for name, value in plain.items():
        for place, each in enumerate(value if isinstance(value, (list, tuple)) else [value]):
            path = (name, place) if each is not value else (name,)
            if isinstance(each, str):
                yield path, each
            elif isinstance(each, Mapping):
                yield from (((*path, *inner), text) for inner, text in _texts(each))


#: The rules by table, in the order of their mistakes.
RULES: dict[str, tuple[Callable[[Mapping[str, Any], Ids], Iterator[Slip]], ...]] = {
    "troubleshooting": (related_are_others, waits_agree),
}

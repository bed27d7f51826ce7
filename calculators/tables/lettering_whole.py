"""Rules for a lettering rule as a whole: parts that need each other, years in order, and characters that exist."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from typing import Any

from calculators.tables.lettering_rows import characters_of
from calculators.tables.rules import Slip

#: Sentences for contributors; no page needs them.
_YEARS = "'to_year' is before 'from_year'"
_SWAP = "exchange the two"
_OPEN = "'{name}' is open, and '{fact}' has a value"
_NOT_OPEN = "'{name}' is '{value}', and '{fact}' is missing"
_SAY_WHAT = "say whether it is exact or the least, or take the value out"
_GIVE_OR_OPEN = "add '{fact}', or write '{name}: open'"
_ALONE = "'{one}' stands without '{other}'"
_GIVE_BOTH = "add '{other}', or take '{one}' out"
_NO_CHARACTERS = "'characters' cannot be '{typed}'"
_LIST_THEM = "characters from A to Z, 0 to 9, . / & and -, with ranges such as A-Z0-9-; a hyphen stands last"
_NOT_AMONG = "'{sign}' is not among the characters of this rule"
_AMONG = "take it out, or add it to 'characters'"

_RANGES = re.compile(r"(?:[A-Z]-[A-Z]|[0-9]-[0-9]|[A-Z0-9./&])+-?|-")
#: What the open parts are about.
_OPENS = {"height_is": "height", "gap_is": "gap"}
#: A width without its characters means nothing; narrow characters without a width are as wide as their stroke.
_NEEDS = (("narrow", "narrow_characters"), ("wide", "wide_characters"), ("wide_characters", "wide"))


def lettering_fits(plain: Mapping[str, Any], ids: Mapping[str, Collection[str]]) -> Iterator[Slip]:
    """Yield what does not fit together in a lettering rule."""
    if int(plain.get("to_year", 9999)) < int(plain.get("from_year", 0)):
        yield Slip(("to_year",), _YEARS, _SWAP)
    for name, fact in _OPENS.items():
        if (plain[name] == "open") == (fact in plain):
            what = _OPEN if fact in plain else _NOT_OPEN
            fix = _SAY_WHAT if fact in plain else _GIVE_OR_OPEN
            parts = {"name": name, "fact": fact, "value": plain[name]}
            yield Slip((name,), what.format(**parts), fix.format(**parts))
    for one, other in _NEEDS:
        if one in plain and other not in plain:
            yield Slip((one,), _ALONE.format(one=one, other=other), _GIVE_BOTH.format(one=one, other=other))
    pattern = plain["characters"]
    if not _RANGES.fullmatch(pattern) or not characters_of(pattern):
        yield Slip(("characters",), _NO_CHARACTERS.format(typed=pattern), _LIST_THEM)
        return
    for name in ("narrow_characters", "wide_characters"):
        for sign in plain.get(name, ""):
            if sign not in characters_of(pattern):
                yield Slip((name,), _NOT_AMONG.format(sign=sign), _AMONG)

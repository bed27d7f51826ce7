"""Words of a text for comparison: lower case, without endings, without words that say nothing about a fault."""

from __future__ import annotations

import itertools
import re
from functools import lru_cache

_WORD = re.compile(r"[a-z]+")
_VOWEL = "aeiou"

#: Words that occur in any sentence.
EMPTY = frozenset(
    "a about across after again all along around beneath round under also am an and any are as at be because been "
    "before being between both but by can cannot could did do "
    "does doing done dont doesnt didnt each else even ever every few for from get gets getting go goes going gone "
    "got had has have having he her here "
    "his how i if in into is isnt it its itself just kind like lot lots made make makes me more most my no not now "
    "of ok on once one only or other "
    "our out over quite really seem seems she should since so some something sort still such than that the their "
    "them then there these they thing "
    "things this those though through to too up upon us very use used uses using put puts look looks looked "
    "looking try tried help problem issue want was wasnt we well went were what when where which while who why "
    "will with within "
    "without wont would yet you your".split()
)

#: Irregular forms. "Sticky" is a state of paint and "patchy" of a colour: they are not forms of "stick" and "patch".
_IRREGULAR = {
    form: word
    for word, forms in {
        "sticky": "sticky stickiness stickier",
        "patchy": "patchy patchier patchiness",
        "tear": "tore torn",
        "break": "broke broken",
        "fall": "fell fallen",
        "stick": "stuck",
        "lose": "lost",
        "run": "ran",
        "shrink": "shrunk shrank shrunken",
        "bend": "bent",
        "leave": "left",
        "stand": "stood",
        "slide": "slid",
        "come": "came",
        "creep": "crept",
        "swim": "swam swum",
        "draw": "drew drawn",
        "blow": "blew blown",
        "swell": "swollen",
        "bleed": "bled",
        "spring": "sprang sprung",
        "sink": "sank sunk",
        "hang": "hung",
        "hold": "held",
        "take": "took taken",
        "wear": "wore worn",
        "eat": "ate eaten",
        "bite": "bit bitten",
        "throw": "threw thrown",
        "grow": "grew grown",
        "drink": "drank drunk",
        "freeze": "froze frozen",
        "burn": "burnt",
        "lay": "laid",
        "write": "wrote written",
        "hide": "hid hidden",
        "feel": "felt",
        "fly": "flew flown",
        "catch": "caught",
        "melt": "molten",
        "shake": "shook shaken",
        "choose": "chose chosen",
        "marking": "decal transfer",
        "soften": "softener",
    }.items()
    for form in forms.split()
}
#: Adjectives with comparatives: "brighter" and "brightest" are "bright". Not every "er" is one: see "paper" and
#: "letter".
_COMPARED = frozenset(
    "big bright cheap clean clear close coarse cold cool damp dark deep dim dirty dry dull dusty faint fast fat "
    "fine firm flat fresh full glossy great grey hard heavy high "
    "hot large light long loose low new old pale poor quick red rough sharp shiny short slow small smooth soft "
    "stiff strange strong tall thick thin "
    "tight tiny warm weak wet white wide yellow young".split()
)
#: Letters before the ending of "wrinkly", "bubbly" and "crumbly", which is that
#: of "wrinkle" and not that of "slightly".
_CLUSTERS = ("nk", "rk", "bb", "gg", "dd", "mb", "tt", "zz")
#: Beginnings of words in another spelling, and in ours.
_SPELT = (("color", "colour"), ("gray", "grey"), ("fiber", "fibre"), ("center", "centre"))


def words(text: str) -> list[str]:
    """Return the words of ``text`` in small letters, without those in ``EMPTY``.

    >>> words("It's a frosty, silvery patch under the film!")
    ['frosty', 'silvery', 'patch', 'film']
    """
    # "won't" and "it's" are one word each, without meaning for a fault.
    plain = re.sub(r"['’](?:s\b)?", "", text.lower())
    return [each for each in _WORD.findall(plain) if each not in EMPTY and len(each) > 1]


@lru_cache(maxsize=20_000)
def stem(word: str) -> str:
    """Return a word in small letters without its ending: step 1 of Porter's algorithm, and
    then the endings that colours and faults take.

    Source: M. F. Porter, An algorithm for suffix stripping, Program 14 (1980) 130-137, steps 1a to 1c. What comes after
    them is ours: "silvery", "silver" and "silvering" are one word here.

    >>> [stem(each) for each in ("silvery", "silvering", "patches", "foggy", "slightly")]
    ['silver', 'silver', 'patch', 'fog', 'slight']
    """
    for there, here in _SPELT:
        if word.startswith(there):
            word = here + word[len(there) :]
    plain = word.removesuffix("s") if word.removesuffix("s") in _IRREGULAR else word
    word = _IRREGULAR.get(plain, plain)
    if word == _IRREGULAR.get(word):
        return word
    if word.endswith(("er", "est")) and (compared := _compared(word)):
        return stem(compared)
    if word.endswith("ly") and word[-4:-2] in _CLUSTERS:
        word = f"{word[:-1]}e"
    word = porter_step_1(word)
    for ending in ("ness", "li", "ish"):
        if word.endswith(ending) and len(word) - len(ending) >= 4:
            return stem(word[: -len(ending)])
    if word.endswith("i") and len(word) >= 4:
        return word[:-2] if _doubled(word[:-1]) else word[:-1]
    return word[:-1] if word.endswith("e") and len(word) >= 5 else word


def _compared(word: str) -> str:
    """The adjective of a comparative, as "thin" of "thinner" and "shiny" of "shiniest", or an empty text."""
    rest = word[:-3] if word.endswith("est") else word[:-2]
    forms = (rest, f"{rest}e", f"{rest[:-1]}y" if rest.endswith("i") else "", rest[:-1] if _doubled(rest) else "")
    return next((each for each in forms if each in _COMPARED), "")


def porter_step_1(word: str) -> str:
    """Return a word after steps 1a to 1c of Porter's algorithm."""
    return _step_1c(_step_1b(_step_1a(word)))


def _step_1a(word: str) -> str:
    if word.endswith(("sses", "ies")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word


def _step_1b(word: str) -> str:
    if word.endswith("eed"):
        return word[:-1] if _measure(word[:-3]) else word
    for ending in ("ed", "ing"):
        rest = word.removesuffix(ending)
        if rest != word and _has_vowel(rest):
            if rest.endswith(("at", "bl", "iz")):
                return f"{rest}e"
            if _doubled(rest) and rest[-1] not in "lsz":
                return rest[:-1]
            return f"{rest}e" if _measure(rest) == 1 and _closed(rest) else rest
    return word


def _step_1c(word: str) -> str:
    return f"{word[:-1]}i" if word.endswith("y") and _has_vowel(word[:-1]) else word


def _consonant(word: str, place: int) -> bool:
    letter = word[place]
    if letter == "y":
        return place == 0 or not _consonant(word, place - 1)
    return letter not in _VOWEL


def _has_vowel(word: str) -> bool:
    return any(not _consonant(word, place) for place in range(len(word)))


def _measure(word: str) -> int:
    """How often a vowel is followed by a consonant: Porter's m."""
    kinds = [_consonant(word, place) for place in range(len(word))]
    return sum(after and not before for before, after in itertools.pairwise(kinds))


def _doubled(word: str) -> bool:
    return len(word) > 1 and word[-1] == word[-2] and _consonant(word, len(word) - 1)


def _closed(word: str) -> bool:
    """Whether it ends consonant, vowel, consonant, the last not w, x or y: Porter's *o."""
    if len(word) < 3 or word[-1] in "wxy":
        return False
    return _consonant(word, len(word) - 1) and not _consonant(word, len(word) - 2) and _consonant(word, len(word) - 3)

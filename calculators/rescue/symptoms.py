"""Symptoms in the reader's own words: their possible meanings, and the entries that fit best."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from calculators import tables
from calculators.rescue.stems import stem, words
from calculators.rescue.symptom_index import FULL, Index

#: The weight of a synonym relative to the word itself.
SYNONYM = 0.55
#: Exponent for all matches of one typed word, so that a second synonym adds less than the first.
_FADES = 0.6
#: How much of an entry's score depends on the number of typed words that it has.
_SHARED = 0.6
#: The weight of an entry from another stage than the reader's.
OTHER_STAGE = 0.35
#: Minimum length of a word for one typing error, and for two.
_ONE_SLIP, _TWO_SLIPS = 4, 7


@dataclass(frozen=True)
class Meant:
    """A typed word or phrase, and the words of entries that it may mean, with their weights."""

    typed: str
    taken: Mapping[str, float]
    read_as: str = ""


@dataclass
class Match:
    """An entry by its index: its score, and the typed words that it matches, each with the matching word."""

    place: int
    score: float = 0.0
    by: dict[str, str] = field(default_factory=dict)


def understood(typed: str, index: Index) -> list[Meant]:
    """Return the meanings of each word and known phrase of ``typed``, in order; unknown words have none."""
    typed_words = words(typed)
    stems = [stem(each) for each in typed_words]
    groups = _groups()
    meant: dict[str, Meant] = {}
    for place, (word, form) in enumerate(zip(typed_words, stems, strict=True)):
        read_as = ""
        if form not in groups and not index.term(form):
            read_as = nearest(word, index)
            form = stem(read_as) if read_as else form
        meant.setdefault(form, Meant(word, _taken((form,), index), read_as))
        for length in (2, 3):
            phrase = tuple(stems[place : place + length])
            if len(phrase) == length and phrase in groups:
                meant.setdefault(
                    " ".join(phrase), Meant(" ".join(typed_words[place : place + length]), _taken(phrase, index))
                )
    return list(meant.values())


def ranked(meant: Sequence[Meant], index: Index, stage: str = "", most: int = 8) -> list[Match]:
    """Return the best entries, best first; at equal scores those of ``stage`` come first.

    An entry that describes something in several words is about it, so all synonyms of a typed word add up.
    """
    totals: dict[int, float] = {}
    shares: dict[int, int] = {}
    for each in meant:
        for place, value in _by_place(each, index).items():
            totals[place] = totals.get(place, 0.0) + value**_FADES
            shares[place] = shares.get(place, 0) + 1
    known = sum(1 for each in meant if each.taken)
    found = []
    for place, total in totals.items():
        # Prefer an entry with most of the typed words to one with a single rare word.
        score = total * (1 - _SHARED + _SHARED * shares[place] / known)
        if stage and index.stages[place] != stage:
            score *= OTHER_STAGE
        found.append((score, -place))
    found.sort(reverse=True)
    return [Match(-place, score, _matched(meant, -place, index)) for score, place in found[:most]]


def best_possible(meant: Sequence[Meant], index: Index) -> float:
    """Return the score of an ideal entry with exactly the typed words, for comparison.

    A word in no entry counts as if a single entry had it.
    """
    return sum((max(each.taken.values(), default=index.rarity(1)) ** _FADES for each in meant), 0.0)


def _by_place(meant: Meant, index: Index) -> dict[int, float]:
    values: dict[int, float] = {}
    for form, weight in meant.taken.items():
        term = index.known(form)
        factor = weight / FULL
        end = term.start + term.count
        for place, impact in zip(index.places[term.start : end], index.impacts[term.start : end], strict=True):
            values[place] = values.get(place, 0.0) + factor * impact
    return values


def _matched(meant: Sequence[Meant], place: int, index: Index) -> dict[str, str]:
    """For each typed word that the entry has: the word of the entry that counts most for
    it, as it is written there where it is seen.

    A phrase is listed only if its words are not.
    """
    written = {stem(each): each for each in reversed(words(f"{index.titles[place]} {index.see(place)}"))}
    by: dict[str, str] = {}
    for each in sorted(meant, key=lambda each: " " in each.typed):
        if all(word in by for word in each.typed.split()):
            continue
        values = []
        for form, weight in each.taken.items():
            term = index.known(form)
            at = _find(index.places, term.start, term.start + term.count, place)
            if at >= 0:
                values.append((weight * index.impacts[at], written.get(form, term.written)))
        if values:
            by[each.typed] = max(values)[1]
    return by


def _find(places: memoryview, low: int, high: int, wanted: int) -> int:
    end = high
    while low < high:
        middle = (low + high) // 2
        if places[middle] < wanted:
            low = middle + 1
        else:
            high = middle
    return low if low < end and places[low] == wanted else -1


def _taken(phrase: tuple[str, ...], index: Index) -> dict[str, float]:
    """The words of entries that a word or phrase stands for, with their weights: rarer words weigh more.

    Synonyms count as one symptom, as rare as the entries with any of them.
    """
    itself = phrase[0] if len(phrase) == 1 else ""
    forms = dict.fromkeys([itself, *(each for group in _groups().get(itself or phrase, ()) for each in group)])
    terms = {form: term for form in forms if (term := index.term(form))}
    beside = (SYNONYM if itself in terms else 1.0) * index.rarity_of_any(term.count for term in terms.values())
    return {form: index.rarity(term.count) if form == itself else beside for form, term in terms.items()}


@cache
def _groups() -> dict[str | tuple[str, ...], list[tuple[str, ...]]]:
    """For each stemmed word or phrase, the single words of each row of synonyms that has it."""
    found: dict[str | tuple[str, ...], list[tuple[str, ...]]] = {}
    for row in tables.load("synonyms"):
        phrases = list(dict.fromkeys(tuple(map(stem, words(each))) for each in (row.label, *row.words)))
        single = tuple(each[0] for each in phrases if len(each) == 1)
        for phrase in phrases:
            if phrase:
                found.setdefault(phrase if len(phrase) > 1 else phrase[0], []).append(single)
    return found


# -- Typing errors


def nearest(word: str, index: Index) -> str:
    """Return the most likely known word for a misspelt ``word``, as it is written; empty if none is near."""
    slips = 0 if len(word) < _ONE_SLIP else 1 if len(word) < _TWO_SLIPS else 2
    near = []
    for known in (*(term[0] for term in index.terms.values()), *_spellings()) if slips else ():
        # People rarely mistype the first letter.
        if known[0] == word[0] and abs(len(known) - len(word)) <= slips:
            apart = distance(word, known, slips)
            if apart <= slips:
                term = index.term(stem(known))
                near.append((apart, -(term.count if term else 0), known))
    return min(near)[2] if near else ""


@cache
def _spellings() -> tuple[str, ...]:
    """Every word of the synonyms in its spelling."""
    return tuple(
        dict.fromkeys(
            word for row in tables.load("synonyms") for each in (row.label, *row.words) for word in words(each)
        )
    )


def distance(one: str, other: str, most: int) -> int:
    """Return the number of insertions, deletions, changes and swaps of neighbouring letters; stops above ``most``.

    The restricted Damerau-Levenshtein distance (optimal string alignment).

    >>> distance("silvry", "silvery", 2), distance("wirnkle", "wrinkle", 2), distance("edge", "film", 2)
    (1, 1, 3)
    """
    before: list[int] = []
    last = list(range(len(other) + 1))
    for row, letter in enumerate(one, 1):
        line = [row]
        for column, its in enumerate(other, 1):
            cost = letter != its
            value = min(last[column] + 1, line[column - 1] + 1, last[column - 1] + cost)
            if row > 1 and column > 1 and letter == other[column - 2] and one[row - 2] == its:
                value = min(value, before[column - 2] + 1)
            line.append(value)
        if min(line) > most:
            return most + 1
        before, last = last, line
    return last[-1]


def share_known(meant: Sequence[Meant]) -> float:
    """Return the share of the typed words that entries know; one that is known only as a slip of another counts half.

    Words that are in any English sentence are left out before, so that a sentence in
    another language has many unknown ones.
    """
    single = [each for each in meant if " " not in each.typed]
    known = sum((0.5 if each.read_as else 1.0) for each in single if each.taken)
    return known / len(single) if single else 0.0


def unknown(meant: Sequence[Meant]) -> Iterator[str]:
    """Yield typed words that no entry has, not even as a synonym."""
    for each in meant:
        if not each.taken:
            yield each.typed

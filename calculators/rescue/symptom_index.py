"""The word index of the troubleshooting: built with the site, read at the first question about a symptom.

Ranking is BM25F: the fields of an entry are weighed before a word's frequency saturates. Source: S. Robertson and
H. Zaragoza, The Probabilistic Relevance Framework: BM25 and Beyond, Foundations and Trends in Information Retrieval 3
(2009) 333-389, section 3.6. All that does not depend on the question is worked out here, so that ten thousand
entries are one block of numbers, of which only the words of the question are read.
"""

from __future__ import annotations

import json
import struct
from array import array
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import accumulate, pairwise
from math import log
from typing import Any

from calculators import packaged, tables
from calculators.rescue.stems import stem, words
from calculators.tables.rows import Trouble
from calculators.tables.rules import WAIT

PACKED = f"{tables.PACKED}/symptoms.bin"

#: The weight of a field, and the influence of its length (Robertson and Zaragoza's w and b). Symptoms count most.
#: Remedies are left out, since they name tools and fluids that occur in every entry.
FIELDS = {"title": (3.0, 0.5), "see": (2.5, 0.6), "said": (2.5, 0.6), "cause": (0.9, 0.7), "test": (0.9, 0.7)}
#: Where frequency saturates (their k1).
_K1 = 4.0
#: Impacts between 0 and 1 are stored as whole numbers up to this.
FULL = 65_535
_HEAD = struct.Struct("<II")


@dataclass(frozen=True)
class Term:
    """A word of the entries: its most frequent spelling, and the start and length of its block of numbers."""

    written: str
    start: int
    count: int


@dataclass(frozen=True)
class Index:
    """The entries by word. ``places[start:start + count]`` are entries; ``impacts`` are the word's weights in them."""

    ids: list[str]
    titles: list[str]
    stages: list[str]
    terms: Mapping[str, list[Any]]
    places: memoryview
    impacts: memoryview
    seen: bytes
    seen_at: memoryview

    def term(self, stem: str) -> Term | None:
        """Return the term of a stemmed word, or None."""
        found = self.terms.get(stem)
        return Term(*found) if found else None

    def known(self, stem: str) -> Term:
        """Return what is known of a word that some entry has. Raises KeyError for another."""
        return Term(*self.terms[stem])

    def rarity(self, count: float) -> float:
        """Return the weight of a word in ``count`` entries: rarer words weigh more (their idf)."""
        return log(1 + (len(self.ids) - count + 0.5) / (count + 0.5))

    def rarity_of_any(self, counts: Iterable[int]) -> float:
        """Return the weight of several words as one, by the expected number of entries with any of them."""
        none = 1.0
        for each in counts:
            none *= 1 - each / len(self.ids)
        return self.rarity(len(self.ids) * (1 - none))

    def see(self, place: int) -> str:
        """Return the symptom of the entry at ``place``."""
        return self.seen[self.seen_at[place] : self.seen_at[place + 1]].decode()


@cache
def shipped() -> Index:
    """Return the index of the shipped entries."""
    return opened(packaged.read(PACKED) or compiled())


def compiled() -> bytes:
    """Return the index as the file that the builder packs into the wheel."""
    return built(tables.load("troubleshooting"))


def built(entries: Iterable[Trouble]) -> bytes:
    """Return the index of entries, as rows of the table, as bytes."""
    entries = list(entries)
    written: dict[str, Counter[str]] = {}
    counted = []
    for each in entries:
        words_by_field = {name: words(text) for name, text in _fields(each).items()}
        counted.append({name: Counter(map(stem, held)) for name, held in words_by_field.items()})
        for held in words_by_field.values():
            for word in held:
                written.setdefault(stem(word), Counter())[word] += 1
    lengths = [{name: each[name].total() for name in FIELDS} for each in counted]
    mean = {name: max(1.0, sum(each[name] for each in lengths) / max(1, len(lengths))) for name in FIELDS}
    blocks: dict[str, list[tuple[int, int]]] = {term: [] for term in sorted(written)}
    for place, (fields, length) in enumerate(zip(counted, lengths, strict=True)):
        weighed: dict[str, float] = {}
        for name, (weight, slope) in FIELDS.items():
            share = weight / (1 - slope + slope * length[name] / mean[name])
            for term, times in fields[name].items():
                weighed[term] = weighed.get(term, 0.0) + share * times
        for term, value in weighed.items():
            blocks[term].append((place, round(FULL * value / (_K1 + value))))
    places, impacts = array("I"), array("H")
    terms: dict[str, list[Any]] = {}
    for term, block in blocks.items():
        terms[term] = [written[term].most_common(1)[0][0], len(places), len(block)]
        places.extend(place for place, _ in block)
        impacts.extend(impact for _, impact in block)
    seen = [WAIT.sub("…", each.see).encode() for each in entries]
    seen_at = array("I", [0])
    for text in seen:
        seen_at.append(seen_at[-1] + len(text))
    head = json.dumps(
        {
            "ids": [each.id for each in entries],
            "titles": [each.title for each in entries],
            "stages": [each.stage for each in entries],
            "terms": terms,
        },
        ensure_ascii=False,
    ).encode()
    head += b" " * (-len(head) % 4)
    return b"".join(
        [_HEAD.pack(len(head), len(places)), head, seen_at.tobytes(), places.tobytes(), impacts.tobytes(), *seen]
    )


def opened(packed: bytes) -> Index:
    """Return the index in ``packed``, which stays the memory of its numbers."""
    length, count = _HEAD.unpack_from(packed)
    head = json.loads(packed[_HEAD.size : _HEAD.size + length])
    held = memoryview(packed)
    lengths = 4 * (len(head["ids"]) + 1), 4 * count, 2 * count
    ends = list(accumulate(lengths, initial=_HEAD.size + length))
    seen_at, places = (held[start:end].cast("I") for start, end in pairwise(ends[:3]))
    impacts = held[ends[2] : ends[3]].cast("H")
    return Index(**head, places=places, impacts=impacts, seen=packed[ends[3] :], seen_at=seen_at)


def _fields(entry: Trouble) -> dict[str, str]:
    """The words of an entry by field."""
    # Names of waits are not words of the entry.
    texts_by_name = {
        "title": [entry.title],
        "see": [entry.see],
        "said": entry.said,
        "cause": [each.cause for each in entry.causes],
        "test": [each.test for each in entry.causes],
    }
    return {name: WAIT.sub(" ", " ".join(texts)) for name, texts in texts_by_name.items()}

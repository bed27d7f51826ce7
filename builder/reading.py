"""How easily the steps of the how-tos are read: ``python -m builder.reading`` prints a row for each, the hardest first.

Reading ease as R. Flesch, "A new readability yardstick" (1948); grade as J. P. Kincaid and others, "Derivation of new
readability formulas" (1975). The constants are from memory. Syllables are counted by rule: on the words
of the how-tos that agrees with the CMU Pronouncing Dictionary for all but 4 in 1000.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from builder.pages import front_matter, write_pages

_SENTENCE_END = re.compile(r"(?<=[.!?])[\"')]*\s+")
_WORD = re.compile(r"[A-Za-z0-9#][A-Za-z0-9'’.,/#×%°µ-]*[A-Za-z0-9%]|[A-Za-z0-9]")
_VOWELS = re.compile(r"[aeiouy]+")
#: Endings pronounced differently from their spelling, first match first: silent e, and l that is a syllable.
_ENDINGS = tuple(
    (re.compile(ending), spoken)
    for ending, spoken in (
        (r"(?<=[^aeiouyl])le[sd]?$", "el"),
        (r"que[sd]?$", "k"),
        (r"(?<=[a-z]{2})(?<=[^aeiouy])ely$", "ly"),
        (r"(?<=[^aeiouytd])ed$", "d"),
        (r"(?<=[^aeiouysxzcg])(?<!ch)(?<!sh)es$", "s"),
        (r"(?<=[^aeiouy])e$", ""),
    )
)
#: Vowels side by side that are spoken apart: "area", "idea", "create", "dial", "curious", "fluid".
_APART = re.compile(r"(?<=cr)ea(?=t)|(?<=[rd])ea(?=s?$)|ia|ie(?=r$|st$)|io(?!n)|iu|(?<!q)uid|(?<!q)ua(?!r)|eo(?!p)")


@dataclass(frozen=True)
class Reading:
    """How a text reads: its sentences and words, the words of its longest sentence,
    and the counts that the formulas take.
    """

    sentences: int
    words: int
    syllables: int
    longest: int
    longest_sentence: str

    @property
    def mean(self) -> float:
        """Words in a sentence, on average."""
        return self.words / self.sentences

    @property
    def ease(self) -> float:
        """Flesch's reading ease: 100 is very easy, 60 to 70 plain English, 30 difficult."""
        return 206.835 - 1.015 * self.mean - 84.6 * self.syllables / self.words

    @property
    def grade(self) -> float:
        """Kincaid's grade: the years at school in the United States after which it is understood."""
        return 0.39 * self.mean + 11.8 * self.syllables / self.words - 15.59


def reading_of(texts: Iterable[str]) -> Reading:
    """Return how texts read together. Each ends its last sentence. Raises ``ValueError`` where there is no word."""
    sentences = [words for text in texts for each in _SENTENCE_END.split(text) if (words := _WORD.findall(each))]
    if not sentences:
        raise ValueError("there are no words to read")
    longest = max(sentences, key=len)
    return Reading(
        sentences=len(sentences),
        words=sum(map(len, sentences)),
        syllables=sum(syllables(word) for words in sentences for word in words),
        longest=len(longest),
        longest_sentence=" ".join(longest),
    )


def syllables(word: str) -> int:
    """Return the syllables of an English word, by rule.

    A number counts as one, a compound with a hyphen by its parts.
    """
    total = 0
    for part in re.split(r"[^a-z]+", word.lower().replace("'", "").replace("’", "")):
        if part:
            total += _syllables(part)
    return max(1, total)


def _syllables(word: str) -> int:
    for ending, spoken in _ENDINGS:
        if ending.search(word):
            word = ending.sub(spoken, word)
            break
    # A vowel after a y within a word begins a syllable.
    word = re.sub(r"(?<=[a-z])y(?=[aeiou])(?!es?$)", "y-", word)
    word = re.sub(r"^y(?=[aeiou])", "", word)
    return max(1, len(_VOWELS.findall(word)) + len(_APART.findall(word)))


def how_tos(pages: Path) -> dict[str, Reading]:
    """Return how the steps of each how-to read, by the path of its page below ``pages``, as the builder printed it."""
    found = {}
    for path in sorted(pages.rglob("*.md")):
        meta = front_matter(path.read_text("utf-8"))
        if "how_to" in meta:
            found[path.relative_to(pages).as_posix()] = reading_of(step["text"] for step in meta["how_to"]["step"])
    return found


def report(read: dict[str, Reading]) -> str:
    """Return a table of how pages read, the hardest first."""
    lines = [f"{'ease':>6} {'grade':>6} {'mean':>6} {'longest':>8}  page"]
    for page, each in sorted(read.items(), key=lambda item: item[1].ease):
        lines.append(f"{each.ease:6.1f} {each.grade:6.1f} {each.mean:6.1f} {each.longest:8}  {page}")
    return "\n".join(lines)


if __name__ == "__main__":
    with TemporaryDirectory() as folder:
        write_pages(Path(__file__).resolve().parent.parent, Path(folder) / "pages")
        print(report(how_tos(Path(folder) / "pages")))

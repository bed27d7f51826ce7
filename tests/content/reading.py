"""How hard the how-tos are to read: ``python -m tests.content.reading`` prints a row for each.

Sentences are counted in the pages as they are built, tables and cautions left out. The grade is that of Kincaid,
Fishburne, Rogers and Chissom (1975), from memory: 0.39 words a sentence + 11.8 syllables a word - 15.59. Syllables
are groups of vowels, a silent e at the end not counted: near enough to compare pages, not to quote.
"""

import re
from dataclasses import dataclass

from tests.content.test_content import body_of, how_tos, name_of

_FILLED = re.compile(r"\{\{.*?\}\}", re.DOTALL)
_SET = re.compile(r"\{%.*?%\}", re.DOTALL)
_CARD = re.compile(r"^!!! .*\n(?: {4}.*\n?|\n(?= {4}))+", re.MULTILINE)
_LINK = re.compile(r"\[([^\]]*)\]\([^)]*\)")
#: A sentence ends with its mark, a step, a paragraph or a heading.
_END = re.compile(r"[.!?](?=\s|$)|\n\s*\n|\n(?=\d+\. |[-#])")
_WORD = re.compile(r"[A-Za-z0-9][\w'’-]*")


@dataclass(frozen=True)
class Reading:
    """How one page reads: its sentences and words, the longest sentence, and the grade."""

    sentences: int
    words: int
    longest: str
    grade: float

    @property
    def words_a_sentence(self) -> float:
        return self.words / self.sentences


def read(text: str) -> Reading:
    """Return how Markdown with its jinja still in it reads; what fills it counts as one word."""
    text = _CARD.sub("", _SET.sub("", _FILLED.sub("10", text)))
    text = re.sub(r"^\d+\. ", "\n\n", _LINK.sub(r"\1", text), flags=re.MULTILINE)
    sentences = [words for part in _END.split(text) if len(words := _WORD.findall(part)) > 1]
    words = [word for sentence in sentences for word in sentence]
    syllables = sum(map(syllables_of, words))
    grade = 0.39 * len(words) / len(sentences) + 11.8 * syllables / len(words) - 15.59
    return Reading(len(sentences), len(words), " ".join(max(sentences, key=len)), grade)


def syllables_of(word: str) -> int:
    """Return about how many syllables a word has.

    >>> [syllables_of(word) for word in ("film", "marking", "tape", "table", "slowly")]
    [1, 2, 1, 2, 2]
    """
    word = word.lower()
    groups = len(re.findall(r"[aeiouy]+", word))
    if word.endswith("e") and not word.endswith("le") and groups > 1:
        groups -= 1
    return max(groups, 1)


def report() -> None:
    """Print how each how-to reads, the hardest first."""
    rows = sorted(((read(body_of(page)), name_of(page)) for page in how_tos()), key=lambda row: -row[0].grade)
    print(f"{'grade':>6}{'words/sentence':>16}{'longest':>9}  page")
    for each, name in rows:
        print(f"{each.grade:6.1f}{each.words_a_sentence:16.1f}{len(each.longest.split()):9d}  {name}")


if __name__ == "__main__":
    report()

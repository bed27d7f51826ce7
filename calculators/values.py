"""Values that calculators return: sentences, drawings, files, problems, progress."""

from __future__ import annotations

from collections.abc import Generator, Mapping
from dataclasses import dataclass, field
from typing import Any, Protocol, TypeVar


@dataclass(frozen=True)
class Message:
    """A sentence from ``messages`` with its values; names end in their unit, as everywhere.

    A value may be a sentence itself.
    """

    sentence: str
    values: Mapping[str, Any]
    is_advice: bool = False


def message(sentence: str, **values: Any) -> Message:
    """Return ``sentence`` with its values, to be formatted later in the reader's units."""
    return Message(sentence, values)


def advice(sentence: str, **values: Any) -> Message:
    """Return a sentence that tells the reader what to do about what was said before, with its values."""
    return Message(sentence, values, is_advice=True)


@dataclass(frozen=True)
class Figure:
    """A drawing: SVG text with presentation attributes and classes only, and its text alternative."""

    svg: str
    alt: str


@dataclass(frozen=True)
class Scene:
    """One picture over two paints: RGBA pixels over the first and over the second, and areas marked on it.

    ``marks`` maps the kind of a mark to the data of an SVG path, in thousandths of the picture's width.
    """

    label: str
    over: tuple[bytes, bytes]
    marks: Mapping[str, str]


@dataclass(frozen=True)
class Scenes:
    """Several scenes of one picture, of ``width_px`` x ``height_px``, on ``paints``
    (#rrggbb); ``first`` is shown first.
    """

    width_px: int
    height_px: int
    paints: tuple[str, str]
    scenes: tuple[Scene, ...]
    first: int = 0


@dataclass(frozen=True)
class Prose:
    """A page, or a part of one: pieces of HTML and sentences, which are formatted and escaped later.

    Every text in the HTML is escaped; it has no ids, which could clash with the page's.
    """

    parts: tuple[str | Message, ...]


@dataclass(frozen=True)
class Link:
    """Words that lead to a page, named by its address relative to the site."""

    words: str
    page: str


@dataclass(frozen=True)
class Lead:
    """A next step of the job: words that lead to a page, named by its address relative to the site.

    ``carries`` maps values of the job (what fields share) to the results that give them: the first that has a value.
    ``sets`` maps others to a text, which goes along with those.
    """

    page: str
    words: str
    carries: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    sets: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class NamedFile:
    """A file that came in or goes out."""

    name: str
    media: str
    data: bytes


@dataclass(frozen=True)
class Problem:
    """What a reader can put right: where, what, and a hint that quotes what was typed."""

    field: str
    text: str
    hint: str = ""


class Refused(ValueError):
    """Raised by ``compute`` if valid inputs contradict each other."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__("; ".join(each.text for each in problems))
        self.problems = problems


@dataclass(frozen=True)
class Progress:
    """A step of long work: the share done (0 to 1, or None if unknown) and its description."""

    share: float | None
    words: str


@dataclass(frozen=True)
class Wanted:
    """A step of long work that waits for the pixels of a picture. Send it ``Pixels``, or None if they cannot be made.

    ``orientation`` is EXIF's turn, 1 to 8, and ``profiled`` says whether the file has a colour profile.
    """

    name: str
    media: str
    data: bytes
    orientation: int
    profiled: bool


#: Width, height and RGBA bytes, rows from the top.
Pixels = tuple[int, int, bytes]

#: What work makes in the end.
Made = TypeVar("Made")


def part_of_work(steps: Generator[Progress, None, Made], start: float, stop: float) -> Generator[Progress, None, Made]:
    """Pass on the progress of one part of the work, scaled to ``start`` to ``stop`` of the whole, and return its
    result.
    """
    while True:
        try:
            step = next(steps)
        except StopIteration as end:
            made: Made = end.value
            return made
        yield Progress(start + (step.share or 0.0) * (stop - start), step.words)


def in_one_go(steps: Generator[object, None, Made]) -> Made:
    """Do work to its end and return its result; nobody hears of its progress."""
    while True:
        try:
            next(steps)
        except StopIteration as end:
            made: Made = end.value
            return made


class _Step(Protocol):
    """A step of work without description: the share done, and the kind of work."""

    @property
    def share(self) -> float | None: ...

    @property
    def work(self) -> str: ...


def in_words(steps: Generator[_Step, None, Made], words: Mapping[str, str]) -> Generator[Progress, None, Made]:
    """Pass on steps of work as progress with ``words`` for each kind of work, and return the result."""
    while True:
        try:
            step = next(steps)
        except StopIteration as end:
            made: Made = end.value
            return made
        yield Progress(step.share, words[step.work])

"""Values that calculators hand over: sentences, drawings, files, problems, progress."""

from __future__ import annotations

from collections.abc import Generator, Mapping
from dataclasses import dataclass
from typing import Any, Protocol


@dataclass(frozen=True)
class Said:
    """A sentence from ``messages`` with its values; names end in their unit, as everywhere.

    A value may be a sentence itself.
    """

    sentence: str
    values: Mapping[str, Any]


def said(sentence: str, **values: Any) -> Said:
    """Return ``sentence`` with its values, to be written out in the reader's units later."""
    return Said(sentence, values)


@dataclass(frozen=True)
class Figure:
    """A drawing: SVG text with presentation attributes and classes only, and its text alternative."""

    svg: str
    alt: str


@dataclass(frozen=True)
class Scene:
    """One picture as it is seen over two paints: RGBA pixels over the first and
    over the second, and areas marked on it.

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
    """A page, or a part of one: pieces of HTML, and between them sentences, which are written out and escaped later.

    The HTML was made here, every text in it escaped; it has no ids, since the page has its own.
    """

    parts: tuple[str | Said, ...]


@dataclass(frozen=True)
class Link:
    """Words that lead to a page, named by its address relative to the site."""

    words: str
    page: str


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
    """Raised by ``compute`` where inputs that are right one by one do not fit together."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__("; ".join(each.text for each in problems))
        self.problems = problems


@dataclass(frozen=True)
class Progress:
    """A step of long work: the share that is done (0 to 1, or None if unknown) and what is going on."""

    share: float | None
    words: str


def part_of_work[Made](
    steps: Generator[Progress, None, Made], start: float, stop: float
) -> Generator[Progress, None, Made]:
    """Pass on the progress of a part of the work, which is that from ``start`` to
    ``stop`` of all, and return what it made.
    """
    while True:
        try:
            step = next(steps)
        except StopIteration as end:
            made: Made = end.value
            return made
        yield Progress(start + (step.share or 0.0) * (stop - start), step.words)


class _Step(Protocol):
    """A step of work that has no words: the share that is done, and the kind of work."""

    @property
    def share(self) -> float | None: ...

    @property
    def work(self) -> str: ...


def in_words[Made](steps: Generator[_Step, None, Made], words: Mapping[str, str]) -> Generator[Progress, None, Made]:
    """Pass on steps of work as progress, each kind of work in its ``words``, and return what the work made."""
    while True:
        try:
            step = next(steps)
        except StopIteration as end:
            made: Made = end.value
            return made
        yield Progress(step.share, words[step.work])

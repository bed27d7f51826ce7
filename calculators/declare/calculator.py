"""A calculator: the declarations of one question together."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Generator
from dataclasses import dataclass
from typing import Any

__all__ = ["NEITHER", "Calculator", "PictureStage"]

#: What a calculator is about that is about neither a marking nor the whole job.
NEITHER = "neither"


@dataclass(frozen=True, kw_only=True)
class PictureStage:
    """The picture that a reader works on, which then takes most of the page.

    ``of`` names the field or the result that shows it. ``still`` names the drawing that stands for it where no script
    runs. ``numbers`` name results that are told beside the picture, and not again below it.
    """

    of: str
    still: str = ""
    numbers: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Calculator:
    """One question, its inputs, its results and the pure function between them.

    ``about`` says what it is about: one marking, the whole job, or neither. ``compute`` takes inputs and returns the
    results, or raises ``Refused``; a long one is a generator that yields ``Progress`` and returns them. It may yield
    ``Wanted`` too (``files.picture.decoded_picture``). ``needs`` names
    libraries that are loaded on its page only. ``limit_s`` ends a request in the page. ``also`` are words by which
    modellers look for it and which its page does not have. With a ``picture_stage`` the page is built around a picture;
    without it, it is form and answer.
    """

    id: str
    title: str
    summary: str
    stage: str
    about: str
    inputs: type
    outputs: type
    compute: Callable[[Any], Any]
    sources: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    limit_s: float = 20.0
    order: int = 100
    picture_stage: PictureStage | None = None

    def steps(self, inputs: Any) -> Generator[Any, Any, None]:
        """Yield the ``Progress`` of the work on ``inputs`` and what is ``Wanted`` for it, then the outputs."""
        made = self.compute(inputs)
        yield (yield from made) if inspect.isgenerator(made) else made

    def answer(self, inputs: Any) -> Any:
        """Return the outputs for ``inputs``. Raises ``Refused``."""
        *_, outputs = self.steps(inputs)
        return outputs

"""Measure the detail estimate by method and factor: python -m
tests.corpus.measure_detail [--half test] [FOLDER ...]

Each sample picture is enlarged by every method, factor and resampler and handed to the estimate.
The right answer is the width before enlarging, within 15 %. Prints one table for each half.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import numpy

from calculators.pixels.detail import Detail, true_detail
from tests.corpus.pictures import METHODS, RESAMPLERS, Source, as_jpeg, enlarged, sources

FACTORS, OTHER_FACTORS = (2, 3, 4), (1.5, 2.5, 3.3)
WITHIN = 0.15
#: Sharp sources, which the promise covers; soft originals count separately, pixel art only as an original.
SHARP = ("photograph", "flat")
JPEG_QUALITY = 90


@dataclass
class Figures:
    """Counts by what was done: ``asked`` and ``found``; originals and who was accused."""

    asked: Counter = field(default_factory=Counter)
    found: Counter = field(default_factory=Counter)
    originals: Counter = field(default_factory=Counter)
    accused: dict[str, list[str]] = field(default_factory=dict)
    missed: list[str] = field(default_factory=list)

    def share(self, group: str, methods: Iterable[str] = METHODS, factors: Iterable[float] = FACTORS) -> float:
        keys = [(group, method, factor) for method in methods for factor in factors]
        return sum(self.found[key] for key in keys) / sum(self.asked[key] for key in keys)


def looked_into(pixels: numpy.ndarray, *, exact: bool = True) -> Detail:
    """Return the estimate for height x width x 4 pixels; ``exact``: they never were a JPEG."""
    height, width = pixels.shape[:2]
    return true_detail(pixels.tobytes(), width, height, exact=exact)


def is_right(detail: Detail, original: numpy.ndarray) -> bool:
    """Return whether a picture made from ``original`` was found to be enlarged, from its width within 15 %."""
    return detail.enlarged is not None and abs(detail.width_px / original.shape[1] - 1) <= WITHIN


def measured(pictures: list[Source], *, each_resampler: bool, others: bool) -> Figures:
    """Return the figures for ``pictures``; without ``each_resampler`` one of them in turn for each case.

    With ``others`` the factors that are not whole and JPEG saved after enlarging are measured too.
    """
    figures = Figures()
    for source in pictures:
        _judge_original(figures, source.kind, source.name, source.pixels)
        if source.kind == "pixel-art":
            continue
        group = "sharp" if source.kind in SHARP else "soft"
        for method, factor, resampler in _cases(source, FACTORS + OTHER_FACTORS * others, each_resampler):
            _judge(figures, group, source, method, factor, enlarged(source.pixels, method, factor, resampler))
        if others:
            _judge_original(figures, "jpeg", source.name, as_jpeg(source.pixels, JPEG_QUALITY)[1])
            for method, factor, resampler in _cases(source, FACTORS, False):
                pixels = as_jpeg(enlarged(source.pixels, method, factor, resampler), JPEG_QUALITY)[1]
                _judge(figures, f"{group}, saved as JPEG", source, method, factor, pixels)
    return figures


def _cases(source: Source, factors: tuple, each_resampler: bool) -> Iterator[tuple[str, float, str]]:
    turn = len(source.name)
    for method in METHODS:
        for factor in factors:
            turn += 1
            for resampler in RESAMPLERS if each_resampler else (RESAMPLERS[turn % 3],):
                yield method, factor, resampler


def _judge_original(figures: Figures, kind: str, name: str, pixels: numpy.ndarray) -> None:
    figures.originals[kind] += 1
    if looked_into(pixels, exact=kind != "jpeg").enlarged:
        figures.accused.setdefault(kind, []).append(name)


def _judge(figures: Figures, group: str, source: Source, method: str, factor: float, pixels: numpy.ndarray) -> None:
    figures.asked[group, method, factor] += 1
    detail = looked_into(pixels, exact="JPEG" not in group)
    if is_right(detail, source.pixels):
        figures.found[group, method, factor] += 1
    elif group == "sharp" and factor in FACTORS:
        figures.missed.append(f"{source.name} {method} {factor}: {detail.enlarged} {detail.factor_x:.2f}")


def in_words(figures: Figures) -> str:
    """Return the figures as a table."""
    lines = []
    groups = sorted({group for group, _method, _factor in figures.asked})
    for group in groups:
        for method in METHODS:
            factors = sorted(factor for held, way, factor in figures.asked if (held, way) == (group, method))
            cells = (
                f"{factor:g}x {figures.found[group, method, factor]}/{figures.asked[group, method, factor]}"
                for factor in factors
            )
            lines.append(f"{group:22} {method:9} {'  '.join(cells)}")
        lines.append(f"{group:22} whole factors told: {100 * figures.share(group):.1f} %")
    for kind, count in figures.originals.items():
        names = figures.accused.get(kind, [])
        lines.append(f"originals, {kind}: {len(names)} of {count} accused {' '.join(names)}")
    return "\n".join(lines + [f"missed: {each}" for each in figures.missed])


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("folders", nargs="*", type=Path)
    asked.add_argument("--half", choices=("tuning", "test"))
    asked.add_argument("--most-px", type=int, default=480)
    asked.add_argument("--in-turn", action="store_true", help="one resampler for each case, three times as fast")
    arguments = asked.parse_args()
    pictures = sources(*arguments.folders, most_px=arguments.most_px)
    for half in (arguments.half,) if arguments.half else ("tuning", "test"):
        chosen = [each for each in pictures if each.half == half]
        print(f"-- {half} half: {len(chosen)} pictures at most {arguments.most_px} px")
        print(in_words(measured(chosen, each_resampler=not arguments.in_turn, others=True)), flush=True)


if __name__ == "__main__":
    main()

"""Measure the ways to get white beneath on web pictures: python -m tests.corpus.measure_underlay [--half test]

Each picture is asked about at its usual size, and, where its finest strokes are known, at one where no home printer
holds them. Prints how often a way is left and how often the headline says what it should, and names every miss.
``--limit 200`` takes so many of them, drawn by a hash. Nothing is stored.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Sequence
from typing import Any

import numpy

from calculators import tables
from tests.corpus.judging import FLAT_FROM, WIDTH_MM, NoAnswer, asked, truth_at
from tests.corpus.web_design import Case, sampled
from tests.corpus.web_pictures import WebPicture, drawings, every_case, made

#: The verdicts "nothing is printed" and "too fine to print"; the places of ways that are left.
NOTHING, TOO_FINE = "nothing", "too-fine"
LEFT = ("first", "possible", "hangs", "nearest")
#: Strokes of fewer pixels are blurred away; those of more than so many are no fine ones.
LEAST_PX, MOST_PX = 1.5, 8.0
#: The share of a colour's centre line that has to be fine.
MOSTLY = 0.5

Record = dict[str, Any]


def ways_of(case: Case, picture: WebPicture, width_mm: float = WIDTH_MM) -> Record:
    """Return what is answered about a picture printed ``width_mm`` wide: verdict, title, and the places of its ways."""
    try:
        reply, _buffers = asked("underlay", picture, case, width_mm=width_mm)
    except NoAnswer as none:
        return {"id": case.id, "no_answer": str(none)}
    result = reply["result"]
    places = Counter(each["place"] for each in result["ways"])
    return {
        "id": case.id,
        "verdict": result["verdict"],
        "level": reply["view"]["verdict"]["level"],
        "title": reply["view"]["verdict"]["title"],
        "first": result["ways_verdict"],
        "left": sum(places[each] for each in LEFT),
        "nearest": places["nearest"],
    }


def too_small_mm(case: Case) -> float | None:
    """Return a printed width at which the finest strokes have half of what the best printer at home holds.

    By the drawing's true strokes; None where it has none that the picture shows.
    """
    drawing = drawings().get(case.drawing)
    if not drawing or not drawing.flat or not case.is_plain:
        return None
    truth = truth_at(case.drawing, case.clear)
    if truth.flat_share < FLAT_FROM:
        return None
    finest = min((float(numpy.quantile(each.width, MOSTLY)) for each in truth.colours if len(each.width)), default=0.0)
    if not LEAST_PX <= finest * made(case).pixels.shape[1] <= MOST_PX:
        return None
    held = min(row.thinnest_line.low for row in tables.load("printers"))
    return held / 2 / finest


def is_without_a_way(record: Record) -> bool:
    """Return whether no way is left, or none is named first; a picture in which nothing prints needs none."""
    return "no_answer" in record or (record["verdict"] != NOTHING and not (record["left"] and record["first"]))


def reads_as_if_it_worked(record: Record) -> bool:
    """Return whether the headline about artwork that cannot be printed says anything but that."""
    return "no_answer" in record or record["verdict"] != TOO_FINE or record["level"] != "fail"


def measured(cases: Sequence[Case], *, tiny_too: bool) -> tuple[list[Record], list[Record]]:
    """Return the records at the usual size, and with ``tiny_too`` those where it is too fine; fewer if stopped."""
    usual, tiny = [], []
    try:
        for number, case in enumerate(cases):
            picture = made(case)
            usual.append(ways_of(case, picture))
            width_mm = too_small_mm(case) if tiny_too else None
            if width_mm is not None:
                tiny.append(ways_of(case, picture, width_mm))
            print(f"\r{number + 1} of {len(cases)} pictures", end="", file=sys.stderr, flush=True)
    except KeyboardInterrupt:
        print("\nStopped; the figures are of what was asked so far.", end="", file=sys.stderr)
    print(file=sys.stderr)
    return usual, tiny


def main() -> None:
    parsed = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parsed.add_argument("--half", choices=("tuning", "test"), default="tuning")
    parsed.add_argument("--limit", type=int, default=0, help="so many of the pictures, drawn by a hash")
    parsed.add_argument("--usual-only", action="store_true", help="at the usual size only, which is quicker")
    arguments = parsed.parse_args()
    cases = [case for case in every_case() if case.half == arguments.half]
    cases = sampled(cases, arguments.limit) if arguments.limit else cases
    usual, tiny = measured(cases, tiny_too=not arguments.usual_only)
    for name, records, misses in (
        ("a way is left at the usual size", usual, [*filter(is_without_a_way, usual)]),
        ("a way is left where it is too fine", tiny, [*filter(is_without_a_way, tiny)]),
        ("the headline says that it is too fine", tiny, [*filter(reads_as_if_it_worked, tiny)]),
    ):
        print(f"{name}: {len(records) - len(misses)} of {len(records)}")
        for miss in misses:
            print(f"   {miss}")
    print(f"only a nearest way left: {sum(each.get('nearest', 0) for each in usual)}")
    print(f"verdicts at the usual size: {dict(Counter(each.get('verdict', 'no answer') for each in usual))}")


if __name__ == "__main__":
    main()

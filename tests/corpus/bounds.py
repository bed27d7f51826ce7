"""The bounds for the web pictures, each beside the figure reached."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from tests.corpus.measures import DAMAGE_SHARE, DETAIL_WITHIN, NEAR_DELTA_E

Record = dict[str, Any]
#: How much counts, and how much of it is so; None where the bound says nothing of a picture.
Count = tuple[float, float] | None

AT_LEAST, AT_MOST, REPORTED = "at least", "at most", "reported"
#: The unit of a figure: a share, or a mean in pixels.
SHARE, PIXELS = "%", "px"
#: Lettering survives if at most this share of its length is lost.
LETTERING_LOST = 0.10
#: The least size for judging colours.
COLOURS_FROM_PX = 180
CALCULATORS = ("clean", "trace")
UNANSWERED = "pictures about which a calculator gives no answer"


@dataclass(frozen=True)
class Bound:
    """``count`` of a record gives (so, of how many).

    The sum of the first over that of the second is compared with ``aim``.
    """

    name: str
    kind: str
    aim: float | None
    count: Callable[[Record], Count]
    unit: str = SHARE

    def reached(self, records: Iterable[Record]) -> tuple[float | None, float]:
        """Return the share that is so, None if nothing counts, and the number that counts.

        A picture without an answer counts for that alone.
        """
        answered = (record for record in records if self.name == UNANSWERED or "no_answer" not in record)
        counts = [count for record in answered if (count := self.count(record)) is not None]
        whole = sum(of for _so, of in counts)
        return (sum(so for so, _of in counts) / whole if whole else None), whole

    def holds(self, share: float) -> bool:
        """Return whether a share is within the bound."""
        return {AT_LEAST: lambda: share >= self.aim, AT_MOST: lambda: share <= self.aim, REPORTED: lambda: True}[
            self.kind
        ]()


def _of(chosen: Callable[[Record], bool], so: Callable[[Record], float]) -> Callable[[Record], Count]:
    return lambda record: (float(so(record)), 1.0) if chosen(record) else None


def _saved(record: Record, quality: int) -> bool:
    """Return whether a picture was saved once as JPEG of a ``quality``, or never for 0."""
    return record["quality"] == quality and not record["again"]


def _detail() -> list[Bound]:
    def found(quality: int) -> Callable[[Record], Count]:
        return _of(
            lambda each: "detail_error" in each and _saved(each, quality),
            lambda each: each["detail_error"] <= DETAIL_WITHIN,
        )

    def accused(each: Record) -> bool:
        return each["enlarged"] not in ("no", "unknown")

    def in_doubt(each: Record) -> bool:
        return each["enlarged"] == "unknown"

    return [
        Bound("true detail within 15 %, lossless", AT_LEAST, 0.90, found(0)),
        Bound("true detail within 15 %, JPEG 85", AT_LEAST, 0.75, found(85)),
        Bound("true detail within 15 %, JPEG 70", AT_LEAST, 0.60, found(70)),
        Bound("originals called enlarged", AT_MOST, 0.02, _of(lambda each: each["factor"] <= 1, accused)),
        # Of these the reader learns that they may have been enlarged, with the range.
        Bound("originals of which it cannot be known", REPORTED, None, _of(lambda each: each["factor"] <= 1, in_doubt)),
        Bound(
            "- lossless originals of which it cannot be known",
            REPORTED,
            None,
            _of(lambda each: each["factor"] <= 1 and not each["quality"], in_doubt),
        ),
    ]


def _damage() -> list[Bound]:
    def damaged(each: Record) -> bool:
        return each["damaged_share"] > DAMAGE_SHARE

    def is_reported(each: Record) -> bool:
        return each["damage_told"]

    return [
        Bound("JPEG damage reported where there is some", AT_LEAST, 0.90, _of(damaged, is_reported)),
        Bound(
            "- in what is PNG by now, where there is some",
            AT_LEAST,
            0.90,
            _of(lambda each: damaged(each) and each["file"] == "PNG", is_reported),
        ),
        Bound(
            "JPEG damage reported where there is none", AT_MOST, 0.05, _of(lambda each: not damaged(each), is_reported)
        ),
        Bound(
            "- in what is PNG by now, where there is none",
            AT_MOST,
            0.05,
            _of(lambda each: not damaged(each) and each["file"] == "PNG", is_reported),
        ),
    ]


def _colours() -> list[Bound]:
    def judged(each: Record, quality: int, renderer: str = "") -> bool:
        large = "missing" in each and each["size"] >= COLOURS_FROM_PX
        return large and _saved(each, quality) and renderer in ("", each["renderer"])

    def bound(what: str, aim: float, quality: int, renderer: str = "") -> list[Bound]:
        def chosen(each: Record) -> bool:
            return judged(each, quality, renderer)

        return [
            Bound(
                f"no colour missing or invented, {what}",
                AT_LEAST,
                aim,
                _of(chosen, lambda each: not each["missing"] and not each["invented"]),
            ),
            Bound("- none missing", REPORTED, None, _of(chosen, lambda each: not each["missing"])),
            Bound("- none invented", REPORTED, None, _of(chosen, lambda each: not each["invented"])),
        ]

    def near(key: str, quality: int, chroma: str = "") -> Callable[[Record], Count]:
        def count(each: Record) -> Count:
            if not judged(each, quality) or chroma not in ("", each["chroma"]):
                return None
            return sum(error <= NEAR_DELTA_E for error in each[key]), len(each[key])

        return count

    made = [
        *bound("PNG by cairo", 0.98, 0, "cairo"),
        *bound("PNG by resvg", 0.98, 0, "resvg"),
        *bound("JPEG 85", 0.90, 85),
    ]
    made += bound("JPEG 70", 0.80, 70)
    for what, aim, quality in (("PNG", 0.98, 0), ("JPEG 85", 0.92, 85), ("JPEG 70", 0.85, 70)):
        made.append(Bound(f"colours 4 px wide found within 3, {what}", AT_LEAST, aim, near("colour_errors", quality)))
    for quality in (85, 70):
        made.append(
            Bound(
                f"- thinner ones within 3, JPEG {quality} 4:2:0", REPORTED, None, near("thin_errors", quality, "4:2:0")
            )
        )
    return made


def _lettering_and_white() -> list[Bound]:
    def keeps_length(quality: int) -> Callable[[Record], Count]:
        return _of(
            lambda each: each.get("lettering_lost") is not None and _saved(each, quality),
            lambda each: each["lettering_lost"] <= LETTERING_LOST,
        )

    def white(chosen: Callable[[Record], bool]) -> Callable[[Record], Count]:
        return _of(
            lambda each: each.get("whites_right") is not None and chosen(each), lambda each: each["whites_right"]
        )

    return [
        Bound("thin light lettering keeps 90 %, PNG", AT_LEAST, 0.90, keeps_length(0)),
        Bound("thin light lettering keeps 90 %, JPEG 85", AT_LEAST, 0.80, keeps_length(85)),
        Bound("thin light lettering keeps 90 %, JPEG 70", AT_LEAST, 0.65, keeps_length(70)),
        Bound("white area told right, 300 px", AT_LEAST, 0.95, white(lambda each: each["size"] == 300)),
        Bound("- 300 px, PNG", REPORTED, None, white(lambda each: each["size"] == 300 and not each["quality"])),
        Bound(
            "white area told right, 180 px JPEG 70",
            AT_LEAST,
            0.85,
            white(lambda each: each["size"] == 180 and _saved(each, 70)),
        ),
    ]


def _verdicts() -> list[Bound]:
    def hiding(names: Sequence[str], what: str = "hides") -> Callable[[Record], Count]:
        def count(each: Record) -> Count:
            green = [name for name in names if each.get(f"{name}_level") == "pass"]
            return (sum(each[f"{name}_{what}"] for name in green), len(green)) if green else None

        return count

    def honest(quality: int, names: Sequence[str]) -> Callable[[Record], Count]:
        def count(each: Record) -> Count:
            if "missing" not in each or not _saved(each, quality) or each["missing"]:
                return None
            whole = [name for name in names if not each[f"{name}_hides"]]
            return (sum(each[f"{name}_level"] == "pass" for name in whole), len(whole)) if whole else None

        return count

    made = [Bound("green verdicts that hide a loss", AT_MOST, 0.01, hiding(CALCULATORS))]
    made += [Bound(f"- of {name}", REPORTED, None, hiding([name])) for name in CALCULATORS]
    made.append(Bound("- that hide a colour lost altogether or merged", REPORTED, None, hiding(CALCULATORS, "gone")))
    for what, aim, quality in (("PNG", 0.80, 0), ("JPEG 85", 0.60, 85)):
        made.append(Bound(f"green where nothing was lost, {what}", AT_LEAST, aim, honest(quality, CALCULATORS)))
        made += [Bound(f"- by {name}", REPORTED, None, honest(quality, [name])) for name in CALCULATORS]
    return made


def _outlines() -> list[Bound]:
    def judged(each: Record, quality: int, renderer: str = "") -> bool:
        return "outline_mean" in each and _saved(each, quality) and renderer in ("", each["renderer"])

    def mean(what: str, aim: float, quality: int, renderer: str = "") -> list[Bound]:
        def chosen(each: Record) -> bool:
            return judged(each, quality, renderer)

        return [
            Bound(
                f"outlines off the drawing's edges, {what}",
                AT_MOST,
                aim,
                _of(chosen, lambda each: each["outline_mean"]),
                PIXELS,
            ),
            Bound(
                "- drawings no further off than that",
                REPORTED,
                None,
                _of(chosen, lambda each: each["outline_mean"] <= aim),
            ),
        ]

    def every(each: Record) -> bool:
        return "outline_mean" in each

    made = [
        *mean("PNG by cairo", 0.06, 0, "cairo"),
        *mean("PNG by resvg", 0.10, 0, "resvg"),
        *mean("JPEG 85", 0.30, 85),
    ]
    made.append(
        Bound(
            "stated deviation bounds that of 95 % of the outline",
            AT_LEAST,
            0.95,
            _of(every, lambda each: each["outline_stated"] >= each["outline_95"]),
        )
    )
    made.append(
        Bound(
            "stated deviation at most 3 times that",
            AT_LEAST,
            0.80,
            _of(every, lambda each: each["outline_stated"] <= 3 * each["outline_95"]),
        )
    )
    return made


_ANSWERS = Bound(UNANSWERED, AT_MOST, 0.0, _of(lambda _each: True, lambda each: "no_answer" in each))
#: By the part of the page on what pictures hold that tells them.
GROUPS = {
    "answers": [_ANSWERS],
    "detail": _detail(),
    "damage": _damage(),
    "colours": _colours(),
    "lettering and white": _lettering_and_white(),
    "verdicts": _verdicts(),
    "outlines": _outlines(),
}
BOUNDS = tuple(bound for bounds in GROUPS.values() for bound in bounds)


def figures(records: Sequence[Record]) -> list[Record]:
    """Return every bound beside what was reached, as JSON-able data in the order of the bounds."""
    rows = []
    for group, bounds in GROUPS.items():
        for bound in bounds:
            share, of = bound.reached(records)
            rows.append(
                {
                    "group": group,
                    "name": bound.name,
                    "kind": bound.kind,
                    "aim": bound.aim,
                    "reached": share,
                    "of": of,
                    "unit": bound.unit,
                }
            )
    return rows


def detail_by_way(records: Sequence[Record]) -> list[Record]:
    """Return how often the true detail was found, for each quality, method and factor of enlarging."""
    counts: dict[tuple[int, str, float], list[bool]] = {}
    for each in records:
        if "detail_error" in each and not each["again"]:
            counts.setdefault((each["quality"], each["kernel"], each["factor"]), []).append(
                each["detail_error"] <= DETAIL_WITHIN
            )
    return [
        {"quality": quality, "kernel": kernel, "factor": factor, "told": sum(right), "of": len(right)}
        for (quality, kernel, factor), right in sorted(counts.items())
    ]


def rendered(value: float, unit: str, decimals: int) -> str:
    """Return a figure in words: a share in per cent with that many ``decimals``, or pixels."""
    return f"{100 * value:.{decimals}f} %" if unit == SHARE else f"{value:.2f} px"


def in_words(records: Sequence[Record]) -> str:
    """Return every bound and the figure reached, as a table."""
    lines = [f"{'':50} {'aim':>15} {'reached':>9} {'of':>6}"]
    for bound in BOUNDS:
        share, of = bound.reached(records)
        aim = "" if bound.aim is None else f"{bound.kind} {rendered(bound.aim, bound.unit, 0)}"
        reached = "-" if share is None else rendered(share, bound.unit, 1)
        missed = " short" if share is not None and not bound.holds(share) else ""
        lines.append(f"{bound.name:50} {aim:>15} {reached:>9} {of:>6.0f}{missed}")
    return "\n".join(lines)

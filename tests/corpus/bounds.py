"""What must hold on the web pictures, each bound beside what was reached."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from tests.corpus.measures import DAMAGE_SHARE, DETAIL_WITHIN, NEAR_DELTA_E

Record = dict[str, Any]
#: How much counts, and how much of it is so; None where the bound says nothing of a picture.
Count = tuple[float, float] | None

AT_LEAST, AT_MOST, REPORTED = "at least", "at most", "reported"
#: Lettering is kept with no more than this share of its length lost.
LETTERING_LOST = 0.10
#: From this size on colours are judged.
COLOURS_FROM_PX = 180
#: A deviation is measured in eighths of a pixel, so it is known to half of that: the bound is held to what it is at least.
FINEST_PX = 1 / 16
CALCULATORS = ("clean", "trace")
UNANSWERED = "pictures about which a calculator gives no answer"


@dataclass(frozen=True)
class Bound:
    """``count`` of a record gives (so, of how many); the sum of the first over that of the second is held to ``aim``."""

    name: str
    kind: str
    aim: float | None
    count: Callable[[Record], Count]

    def reached(self, records: Iterable[Record]) -> tuple[float | None, float]:
        """Return the share that is so, None where nothing counts, and how much counts.

        A picture without an answer counts for that alone.
        """
        answered = (record for record in records if self.name == UNANSWERED or "no_answer" not in record)
        counts = [count for record in answered if (count := self.count(record)) is not None]
        whole = sum(of for _so, of in counts)
        return (sum(so for so, _of in counts) / whole if whole else None), whole

    def holds(self, share: float) -> bool:
        """Return whether a share is within the bound."""
        return {AT_LEAST: lambda: share >= self.aim, AT_MOST: lambda: share <= self.aim, REPORTED: lambda: True}[self.kind]()


def _of(chosen: Callable[[Record], bool], so: Callable[[Record], float]) -> Callable[[Record], Count]:
    return lambda record: (float(so(record)), 1.0) if chosen(record) else None


def _saved(record: Record, quality: int) -> bool:
    """Return whether a picture was saved as JPEG of a ``quality`` once, or for 0 never."""
    return record["quality"] == quality and not record["again"]


def _detail() -> list[Bound]:
    def found(quality: int) -> Callable[[Record], Count]:
        return _of(lambda each: "detail_error" in each and _saved(each, quality), lambda each: each["detail_error"] <= DETAIL_WITHIN)

    def accused(each: Record) -> bool:
        return each["enlarged"] != "no"

    return [
        Bound("true detail within 15 %, lossless", AT_LEAST, 0.90, found(0)),
        Bound("true detail within 15 %, JPEG 85", AT_LEAST, 0.75, found(85)),
        Bound("true detail within 15 %, JPEG 70", AT_LEAST, 0.60, found(70)),
        Bound("originals called enlarged", AT_MOST, 0.02, _of(lambda each: each["factor"] <= 1, accused)),
        Bound("- lossless originals called enlarged", REPORTED, None, _of(lambda each: each["factor"] <= 1 and not each["quality"], accused)),
    ]


def _damage() -> list[Bound]:
    def damaged(each: Record) -> bool:
        return each["damaged_share"] > DAMAGE_SHARE

    def told(each: Record) -> bool:
        return each["damage_told"]

    return [
        Bound("JPEG damage reported where there is some", AT_LEAST, 0.90, _of(damaged, told)),
        Bound("- in what is PNG by now, where there is some", AT_LEAST, 0.90, _of(lambda each: damaged(each) and each["file"] == "PNG", told)),
        Bound("JPEG damage reported where there is none", AT_MOST, 0.05, _of(lambda each: not damaged(each), told)),
        Bound("- in what is PNG by now, where there is none", AT_MOST, 0.05, _of(lambda each: not damaged(each) and each["file"] == "PNG", told)),
    ]


def _colours() -> list[Bound]:
    def judged(each: Record, quality: int, renderer: str = "") -> bool:
        large = "missing" in each and each["size"] >= COLOURS_FROM_PX
        return large and _saved(each, quality) and renderer in ("", each["renderer"])

    def bound(what: str, aim: float, quality: int, renderer: str = "") -> list[Bound]:
        chosen = lambda each: judged(each, quality, renderer)  # noqa: E731
        return [
            Bound(f"no colour missing or invented, {what}", AT_LEAST, aim, _of(chosen, lambda each: not each["missing"] and not each["invented"])),
            Bound("- none missing", REPORTED, None, _of(chosen, lambda each: not each["missing"])),
            Bound("- none invented", REPORTED, None, _of(chosen, lambda each: not each["invented"])),
        ]

    def near(key: str, quality: int, chroma: str = "") -> Callable[[Record], Count]:
        def count(each: Record) -> Count:
            if not judged(each, quality) or chroma not in ("", each["chroma"]):
                return None
            return sum(error <= NEAR_DELTA_E for error in each[key]), len(each[key])

        return count

    made = [*bound("PNG by cairo", 0.98, 0, "cairo"), *bound("PNG by resvg", 0.98, 0, "resvg"), *bound("JPEG 85", 0.90, 85)]
    made += bound("JPEG 70", 0.80, 70)
    for what, aim, quality in (("PNG", 0.98, 0), ("JPEG 85", 0.92, 85), ("JPEG 70", 0.85, 70)):
        made.append(Bound(f"colours 4 px wide found within 3, {what}", AT_LEAST, aim, near("colour_errors", quality)))
    for quality in (85, 70):
        made.append(Bound(f"- thinner ones within 3, JPEG {quality} 4:2:0", REPORTED, None, near("thin_errors", quality, "4:2:0")))
    return made


def _lettering_and_white() -> list[Bound]:
    def kept(quality: int) -> Callable[[Record], Count]:
        return _of(
            lambda each: each.get("lettering_lost") is not None and _saved(each, quality),
            lambda each: each["lettering_lost"] <= LETTERING_LOST,
        )

    def white(chosen: Callable[[Record], bool]) -> Callable[[Record], Count]:
        return _of(lambda each: each.get("whites_right") is not None and chosen(each), lambda each: each["whites_right"])

    return [
        Bound("thin light lettering keeps 90 %, PNG", AT_LEAST, 0.90, kept(0)),
        Bound("thin light lettering keeps 90 %, JPEG 85", AT_LEAST, 0.80, kept(85)),
        Bound("thin light lettering keeps 90 %, JPEG 70", AT_LEAST, 0.65, kept(70)),
        Bound("white area told right, 300 px", AT_LEAST, 0.95, white(lambda each: each["size"] == 300)),
        Bound("- 300 px, PNG", REPORTED, None, white(lambda each: each["size"] == 300 and not each["quality"])),
        Bound("white area told right, 180 px JPEG 70", AT_LEAST, 0.85, white(lambda each: each["size"] == 180 and _saved(each, 70))),
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
    def measured(each: Record, quality: int, renderer: str = "") -> bool:
        return "outline_mean" in each and _saved(each, quality) and renderer in ("", each["renderer"])

    def mean(quality: int, renderer: str = "") -> Callable[[Record], Count]:
        return _of(lambda each: measured(each, quality, renderer), lambda each: each["outline_mean"])

    made = [
        Bound("mean deviation of outlines in px, PNG by cairo", AT_MOST, 0.06, mean(0, "cairo")),
        Bound("mean deviation of outlines in px, PNG by resvg", AT_MOST, 0.10, mean(0, "resvg")),
        Bound("mean deviation of outlines in px, JPEG 85", AT_MOST, 0.30, mean(85)),
    ]
    for what, quality in (("PNG", 0), ("JPEG 85", 85)):
        chosen = lambda each, quality=quality: measured(each, quality)  # noqa: E731
        made.append(Bound(f"stated deviation bounds the true one, {what}", AT_LEAST, 0.95, _of(chosen, _bounds_it)))
        made.append(Bound(f"and is at most 3 times it, {what}", AT_LEAST, 0.80, _of(chosen, _is_near_it)))
    return made


def _bounds_it(each: Record) -> bool:
    return each["outline_stated"] >= each["outline_most"] - FINEST_PX


def _is_near_it(each: Record) -> bool:
    return each["outline_stated"] <= 3 * max(each["outline_most"], FINEST_PX)


_ANSWERS = Bound(UNANSWERED, AT_MOST, 0.0, _of(lambda _each: True, lambda each: "no_answer" in each))
BOUNDS = (_ANSWERS, *_detail(), *_damage(), *_colours(), *_lettering_and_white(), *_verdicts(), *_outlines())


def in_words(records: Sequence[Record]) -> str:
    """Return every bound beside what was reached, as a table."""
    lines = [f"{'':50} {'aim':>15} {'reached':>9} {'of':>6}"]
    for bound in BOUNDS:
        share, of = bound.reached(records)
        in_px = " in px" in bound.name
        aim = "" if bound.aim is None else f"{bound.kind} {bound.aim:.2f}" if in_px else f"{bound.kind} {100 * bound.aim:.0f} %"
        reached = "-" if share is None else f"{share:.3f}" if in_px else f"{100 * share:.1f} %"
        missed = " short" if share is not None and not bound.holds(share) else ""
        lines.append(f"{bound.name:50} {aim:>15} {reached:>9} {of:>6.0f}{missed}")
    return "\n".join(lines)

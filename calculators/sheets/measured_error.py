"""The printer's error from a ruler's readings of a printed square, with its uncertainty.

The sides and both diagonals of a square of known length are read on two prints or more. A side over its length gives
a factor; the diagonals give the slant, by the law of cosines. How far each may be off has two causes:

- The ruler. A reading is off by at most a known length either way, and no value in between is likelier than another
  (rectangular distribution; JCGM 100:2008, 4.3.7).
- The scatter between prints. It is judged from how much they differ, pooled over both factors and the slant, which are
  taken to scatter alike (pooled estimate; JCGM 100:2008, 4.2.4 and H.3.6). On a square the ruler weighs alike on all.

Where prints differ by no more than the ruler explains, its known error alone counts. Where they differ by more, what
counts is Student's t of the pooled scatter (JCGM 100:2008, annex G). ``LEAST_FACTOR`` is set so that both together
cover the truth in 94 to 96 of 100 cases, whatever the shares of ruler and scatter: the tests hold that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import asin, degrees, hypot, sqrt

from calculators.sheets.correction import PrinterError

#: Student's t for 95 % by degrees of freedom (JCGM 100:2008, table G.2).
T_95 = (12.71, 4.30, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23, 2.20, 2.18, 2.16, 2.14, 2.13)
#: The most prints that the table is long enough for: each after the first brings three degrees of freedom.
MOST_PRINTS = 1 + len(T_95) // 3
#: Prints that differ by more than this times the ruler's own deviation go by Student's t; the others by so many
#: deviations of the ruler.
EXPLAINED, LEAST_FACTOR = 0.9, 1.8
#: If one direction's variance is so many times that of the others, it goes by its own prints alone.
STANDS_OUT = 10.0
#: The scatter is called seen if chance makes it so large in 5 of 100 cases: squared, over that of the ruler, by degrees
#: of freedom (chi-squared distribution over its degrees, 95 %).
SEEN = {3: 2.605, 6: 2.099, 9: 1.880, 12: 1.752, 15: 1.666}
#: Sides and diagonals fit each other within so many deviations of the ruler, and within so many mm, if no reading
#: is wrong (the second is an estimate).
FITS_DEVIATIONS, FITS_MM = 4.3, 0.3


@dataclass(frozen=True)
class Reading:
    """What the ruler reads on one print, in mm: both sides, the diagonal from top left to bottom right, the other."""

    across: float
    down: float
    falling: float
    rising: float

    @property
    def slant(self) -> float:
        """The sine of the slant; negative if the bottom is left of where it should be."""
        return (self.falling**2 - self.rising**2) / (4 * self.across * self.down)

    @property
    def misfit_mm(self) -> float:
        """How far the mean diagonal is from the one that both sides make, in mm (parallelogram law)."""
        return abs(sqrt((self.falling**2 + self.rising**2) / 2) - hypot(self.across, self.down))


@dataclass(frozen=True)
class MeasuredError:
    """An error with its uncertainty, for 95 % each: ``off`` has that of both factors and of the slant in degrees.

    ``scatters`` says whether prints differ by more than the ruler explains, ``uneven`` what does so by far more than
    the rest, ``misread`` the first print, from 0, whose readings do not fit each other.
    """

    error: PrinterError
    off: PrinterError
    scatters: bool
    uneven: str | None
    misread: int | None

    @property
    def seen(self) -> tuple[bool, bool, bool]:
        """Whether the ruler tells both factors and the slant from no error."""
        return (
            abs(self.error.across - 1) > self.off.across,
            abs(self.error.down - 1) > self.off.down,
            abs(self.error.skew) > self.off.skew,
        )

    @property
    def to_correct(self) -> PrinterError:
        """The part of the error that the ruler can tell from none."""
        across, down, skew = self.seen
        return PrinterError(
            across=self.error.across if across else 1.0,
            down=self.error.down if down else 1.0,
            skew=self.error.skew if skew else 0.0,
        )


#: What can stand out, in the order of the estimates.
ACROSS, DOWN, SLANT = "across", "down", "slant"


def measured_error(length_mm: float, readings: Sequence[Reading], reading_error_mm: float) -> MeasuredError:
    """Return the printer's error from two or more prints of a square with sides of ``length_mm``.

    ``reading_error_mm`` is how far one reading may be off, either way.

    >>> print_ = Reading(across=99.3, down=100.4, falling=141.212, rising=141.212)
    >>> found = measured_error(100, [print_, print_], 0.1)
    >>> round(found.error.across, 4), round(found.error.down, 4), round(found.off.across, 4)
    (0.993, 1.004, 0.0007)
    """
    count = len(readings)
    if not 2 <= count <= MOST_PRINTS:
        raise ValueError(f"2 to {MOST_PRINTS} prints, not {count}")
    estimates = (
        [each.across / length_mm for each in readings],
        [each.down / length_mm for each in readings],
        [each.slant for each in readings],
    )
    across, down, slant = map(_mean, estimates)
    ruler = reading_error_mm / sqrt(3) / length_mm
    scatters = tuple(map(_variance, estimates))
    freedom, pooled = 3 * (count - 1), _mean(scatters)
    wide = LEAST_FACTOR * ruler
    if sqrt(pooled) > EXPLAINED * ruler:
        wide = max(wide, T_95[freedom - 1] * sqrt(pooled))
    uneven, offs = None, []
    for name, own in zip((ACROSS, DOWN, SLANT), scatters, strict=True):
        others = (sum(scatters) - own) / 2
        stands_out = own > STANDS_OUT * max(others, ruler**2)
        uneven = name if stands_out else uneven
        offs.append(max(wide, T_95[count - 2] * sqrt(own) if stands_out else 0.0) / sqrt(count))
    return MeasuredError(
        error=PrinterError(across, down, degrees(asin(max(-1.0, min(1.0, slant))))),
        off=PrinterError(offs[0], offs[1], degrees(offs[2])),
        scatters=pooled > SEEN[freedom] * ruler**2,
        uneven=uneven,
        misread=_misread(readings, reading_error_mm / sqrt(3)),
    )


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)


def _variance(values: Sequence[float]) -> float:
    middle = _mean(values)
    return sum((each - middle) ** 2 for each in values) / (len(values) - 1)


def _misread(readings: Sequence[Reading], deviation_mm: float) -> int | None:
    most = max(FITS_DEVIATIONS * deviation_mm, FITS_MM)
    return next((place for place, each in enumerate(readings) if each.misfit_mm > most), None)

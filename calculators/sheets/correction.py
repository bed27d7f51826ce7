"""The printer's own error as a matrix, and the correction that takes it back.

A printer stretches the page by a factor across and another one down, and the page may go through at a slant. The
error is measured on the film itself. Places are in mm from the sheet's centre, x to the right, y down. Where the whole
page lies and how it is turned cannot be measured with bars and does not matter: bars across stay level.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin
from typing import ClassVar

from calculators.numbers import plain
from calculators.shapes.transforms import Matrix, product, translation
from calculators.values import Message, message

#: The largest error that is taken back, of a factor and in degrees (estimates). More is no error of a printer: the page
#: was fitted to the paper, or a bar was misread.
MOST_STRETCH, MOST_SKEW = 0.03, 2.0
#: What a factor loses in its last digits must not refuse one at the bound.
_ROUNDING = 1e-9

TOO_STRETCHED = (
    "A bar that comes out at {share} % of its length is no error of the printer. Switch off fit to page, scaling and"
    " borderless printing, or read the bar again. At most {most} % is corrected."
)
TOO_SLANTED = (
    "A slant of {skew}° is no error of the printer: the film went in crooked, or a diagonal was misread. At most"
    " {most}° is corrected."
)
NO_ERROR = "No correction for the printer."
TAKEN_OUT = "Printer's error taken out: {across} across, {down} down, slant {skew}°."


class TooLarge(ValueError):
    """An error too large to be the printer's; ``sentence`` says so to the reader."""

    def __init__(self, sentence: Message) -> None:
        super().__init__(sentence.sentence)
        self.sentence = sentence


@dataclass(frozen=True)
class PrinterError:
    """What the printer does to a page.

    A length across comes out ``across`` times as long, and a length down ``down`` times. The page's downward lines
    slant by ``skew`` degrees: the bottom goes to the right of where it should be.

    >>> PrinterError(0.993, 1.004, 0.0).printed(100 + 100j)
    (99.3+100.4j)
    """

    across: float = 1.0
    down: float = 1.0
    skew: float = 0.0

    def printed(self, place: complex) -> complex:
        """Return where the printer puts ``place``, both from the sheet's centre in mm."""
        slant = radians(self.skew)
        return complex(
            self.across * place.real + self.down * sin(slant) * place.imag, self.down * cos(slant) * place.imag
        )

    def refusal(self) -> Message | None:
        """Return why this error is too large to be taken back, or None."""
        for factor in (self.across, self.down):
            if not abs(factor - 1) <= MOST_STRETCH + _ROUNDING:
                return message(TOO_STRETCHED, share=f"{100 * factor:.1f}", most=plain(100 * MOST_STRETCH))
        if not abs(self.skew) <= MOST_SKEW + _ROUNDING:
            return message(TOO_SLANTED, skew=f"{self.skew:.1f}", most=plain(MOST_SKEW))
        return None


@dataclass(frozen=True)
class Correction:
    """The matrix ``((xx, xy), (yx, yy))`` that is applied to every place before it is printed.

    ``Correction()`` and ``Correction.identity`` leave everything where it is.

    >>> Correction.identity.applied(10 + 20j)
    (10+20j)
    """

    xx: float = 1.0
    xy: float = 0.0
    yx: float = 0.0
    yy: float = 1.0
    identity: ClassVar[Correction]

    @classmethod
    def of(cls, error: PrinterError) -> Correction:
        """Return the correction that takes ``error`` back. Raises TooLarge.

        >>> taken_back = Correction.of(PrinterError(0.993, 1.004, 0.2))
        >>> printed = PrinterError(0.993, 1.004, 0.2).printed(taken_back.applied(90 - 140j))
        >>> round(printed.real, 9), round(printed.imag, 9)
        (90.0, -140.0)
        """
        if refusal := error.refusal():
            raise TooLarge(refusal)
        slant = radians(error.skew)
        return cls(
            xx=1 / error.across, xy=-sin(slant) / (error.across * cos(slant)), yx=0.0, yy=1 / (error.down * cos(slant))
        )

    @property
    def is_identity(self) -> bool:
        """Whether nothing is corrected."""
        return self == Correction.identity

    def applied(self, place: complex) -> complex:
        """Return where ``place`` is drawn so that it is printed where it should be, both from the sheet's centre in mm.

        Put through the printer's error, the result is ``place`` again.
        """
        return complex(
            self.xx * place.real + self.xy * place.imag,
            self.yx * place.real + self.yy * place.imag,
        )

    def about(self, centre: complex) -> Matrix:
        """Return the same for places from the sheet's top left corner, whose ``centre`` it leaves where it is."""
        turned: Matrix = ((self.xx, self.xy, 0.0), (self.yx, self.yy, 0.0), (0.0, 0.0, 1.0))
        return product(translation(centre.real, centre.imag), turned, translation(-centre.real, -centre.imag))

    def error(self) -> PrinterError:
        """Return the error that this takes back, up to a turn of the whole page."""
        size = self.xx * self.yy - self.xy * self.yx
        across, down = complex(self.yy, -self.yx) / size, complex(-self.xy, self.xx) / size
        return PrinterError(
            across=hypot(across.real, across.imag),
            down=hypot(down.real, down.imag),
            skew=90 - degrees(_angle(across, down)),
        )

    def words(self) -> str:
        """Return in words what is corrected, to be written on the sheet.

        >>> Correction.of(PrinterError(0.993, 1.004, 0.2)).words()
        "Printer's error taken out: 0.9930 across, 1.0040 down, slant 0.20°."
        >>> Correction.identity.words()
        'No correction for the printer.'
        """
        if self.is_identity:
            return NO_ERROR
        error = self.error()
        return TAKEN_OUT.format(
            across=f"{error.across:.4f}", down=f"{error.down:.4f}", skew=f"{round(error.skew, 2) + 0.0:.2f}"
        )


Correction.identity = Correction()


def _angle(first: complex, second: complex) -> float:
    """Return the angle from ``first`` to ``second``, in radians."""
    between = second * first.conjugate()
    return atan2(between.imag, between.real)

"""The one number formatter: every number that a reader sees is written here."""

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal
from math import floor, log10

#: A number below 1 keeps at least this many significant digits, regardless of the declared decimals.
LEAST_DIGITS = 3
#: The certain digits of a float; later digits come from its binary form and must not decide how a half is rounded.
CERTAIN_DIGITS = 15
#: Enough digits for the largest float, 1.7e308, and enough decimals for the smallest.
_EVERY_FLOAT = Context(prec=1200)


def plain(value: float) -> str:
    """Return ``value`` as the shortest text that reads back as the same number, without exponent.

    >>> plain(25.4), plain(300.0), plain(1e-05), plain(-0.0)
    ('25.4', '300', '0.00001', '0')
    """
    if value == 0:
        return "0"
    return _without_zeros(format(Decimal(repr(value)), "f") if isinstance(value, float) else str(value))


def rounded(value: float, decimals: int) -> str:
    """Return ``value`` with ``decimals`` places, and more where fewer than three digits would matter.

    A half is rounded away from zero.

    >>> rounded(7.0115, 2), rounded(0.003492, 2), rounded(1320.8, 1), rounded(0, 2)
    ('7.01', '0.00349', '1320.8', '0.00')
    >>> rounded(9.525, 2), rounded(0.375 * 25.4, 2), rounded(-9.525, 2)
    ('9.53', '9.53', '-9.53')
    """
    if value:
        decimals = max(decimals, min(LEAST_DIGITS - 1 - floor(log10(abs(value))), 12))
    return _with_places(value, decimals, ROUND_HALF_UP)


def significant(value: float, digits: int = LEAST_DIGITS) -> str:
    """Return ``value`` to ``digits`` significant digits, without trailing zeros or exponent.

    >>> significant(0.12700000), significant(1.4553), significant(17526.0), significant(0)
    ('0.127', '1.46', '17526', '0')
    """
    if value == 0:
        return "0"
    return at_most(value, max(0, digits - 1 - floor(log10(abs(value)))))


def at_most(value: float, decimals: int) -> str:
    """Return ``value`` with at most ``decimals`` places, without trailing zeros. A half is rounded away from zero.

    >>> at_most(76.2, 2), at_most(43.125, 2), at_most(72.0, 2)
    ('76.2', '43.13', '72')
    """
    return _without_zeros(_with_places(value, decimals, ROUND_HALF_UP))


def with_uncertainty(value: float, uncertainty: float, decimals: int) -> tuple[str, str]:
    """Return ``value`` and its ``uncertainty`` to the same places: two digits of the
    uncertainty at most, and ``decimals`` at most.

    One digit of the uncertainty always shows. Source of the two digits: JCGM 100:2008, 7.2.6.

    >>> with_uncertainty(13.793, 0.0809, 2), with_uncertainty(600, 3.516, 1), with_uncertainty(5432.1, 123.4, 1)
    (('13.79', '0.08'), ('600.0', '3.5'), ('5430', '120'))
    >>> with_uncertainty(0.4321, 0.0032, 2), with_uncertainty(7.5, 0, 2)
    (('0.432', '0.003'), ('7.50', ''))
    """
    if not uncertainty:
        return rounded(value, decimals), ""
    first = -floor(log10(uncertainty))
    places = max(first, min(first + 1, decimals))
    return _with_places(value, places, ROUND_HALF_UP), _with_places(uncertainty, places, ROUND_HALF_UP)


def inward(value: float, digits: int, *, up: bool) -> str:
    """Return ``value`` to ``digits`` significant digits, rounded ``up`` or down.

    Limits are printed this way, so that a printed limit is itself accepted.

    >>> inward(0.1 / 25.4, 4, up=True), inward(5000 / 25.4, 4, up=False)
    ('0.003938', '196.8')
    """
    if value == 0:
        return "0"
    places = digits - 1 - floor(log10(abs(value)))
    return _without_zeros(_with_places(value, max(0, places), ROUND_CEILING if up else ROUND_FLOOR))


def two_digits(value: float, *, up: bool = False, most_decimals: int = 12) -> str:
    """Return ``value`` to two significant digits and ``most_decimals`` at most, rounded ``up`` or to the nearest.

    For what is known no better: a width measured in pixels, or a size to reach, which is rounded up.

    >>> two_digits(0.111), two_digits(379.2), two_digits(0.0252, up=True), two_digits(0.2)
    ('0.11', '380', '0.026', '0.2')
    >>> two_digits(0.00042, up=True, most_decimals=3), two_digits(60 * 0.2 / 0.3, up=True), two_digits(0)
    ('0.001', '40', '0')
    """
    if not value:
        return "0"
    certain = float(f"{value:.{CERTAIN_DIGITS}g}")
    places = min(1 - floor(log10(abs(certain))), most_decimals)
    return _without_zeros(_with_places(certain, places, ROUND_CEILING if up else ROUND_HALF_UP))


def _with_places(value: float, places: int, rounding: str) -> str:
    """Return ``value`` with ``places`` decimals by exact decimal arithmetic; a limit is not rounded beforehand."""
    exact = Decimal(repr(value)) if isinstance(value, float) else Decimal(value)
    if rounding == ROUND_HALF_UP and isinstance(value, float):
        exact = Decimal(f"{value:.{CERTAIN_DIGITS}g}")
    text = format(exact.quantize(Decimal(1).scaleb(-places), rounding=rounding, context=_EVERY_FLOAT), "f")
    return text.removeprefix("-") if not text.strip("-0.") else text


def _without_zeros(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text

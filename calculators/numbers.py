"""The one number formatter: every number that a reader sees is written here."""

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from math import floor, log10

#: A number below 1 keeps at least so many digits that matter, whatever decimals were declared.
LEAST_DIGITS = 3


def plain(value: float) -> str:
    """Return ``value`` as the shortest text that reads back as the same number, without exponent.

    >>> plain(25.4), plain(300.0), plain(1e-05), plain(-0.0)
    ('25.4', '300', '0.00001', '0')
    """
    if value == 0:
        return "0"
    text = format(Decimal(repr(value)), "f") if isinstance(value, float) else str(value)
    return text.rstrip("0").rstrip(".") if "." in text else text


def rounded(value: float, decimals: int) -> str:
    """Return ``value`` with ``decimals`` places, and more where fewer than three digits would matter.

    >>> rounded(7.0115, 2), rounded(0.003492, 2), rounded(1320.8, 1), rounded(0, 2)
    ('7.01', '0.00349', '1320.8', '0.00')
    """
    if value:
        decimals = max(decimals, min(LEAST_DIGITS - 1 - floor(log10(abs(value))), 12))
    return _with_places(value, decimals, ROUND_HALF_EVEN)


def significant(value: float, digits: int = LEAST_DIGITS) -> str:
    """Return ``value`` to ``digits`` significant digits, without trailing zeros or exponent.

    >>> significant(0.12700000), significant(1.4553), significant(17526.0), significant(0)
    ('0.127', '1.46', '17526', '0')
    """
    if value == 0:
        return "0"
    text = _with_places(value, max(0, digits - 1 - floor(log10(abs(value)))), ROUND_HALF_EVEN)
    return text.rstrip("0").rstrip(".") if "." in text else text


def inward(value: float, digits: int, *, up: bool) -> str:
    """Return ``value`` to ``digits`` significant digits, rounded up or down as told.

    Limits are shown this way, so that a limit as printed is itself accepted.

    >>> inward(0.1 / 25.4, 4, up=True), inward(5000 / 25.4, 4, up=False)
    ('0.003938', '196.8')
    """
    if value == 0:
        return "0"
    places = digits - 1 - floor(log10(abs(value)))
    text = _with_places(value, max(0, places), ROUND_CEILING if up else ROUND_FLOOR)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _with_places(value: float, places: int, rounding: str) -> str:
    exact = Decimal(repr(value)) if isinstance(value, float) else Decimal(value)
    text = format(exact.quantize(Decimal(1).scaleb(-places), rounding=rounding), "f")
    return text.removeprefix("-") if not text.strip("-0.") else text

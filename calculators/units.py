"""Lengths, ratios and plain numbers as people type them, turned into numbers.

Everything is kept in millimetres inside. One inch is 25.4 mm exactly (ISO 80000-3, annex; the
international yard and pound agreement of 1959).
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from math import inf
from unicodedata import normalize, numeric

from calculators import messages, numbers

MM_PER_INCH = 25.4
#: Nobody types a longer number; what is longer is not read at all.
MOST_CHARACTERS = 100

#: Millimetres in one of each unit of length that can be typed; the first name is the one shown.
LENGTHS: dict[str, Fraction] = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(1)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Fraction(10)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Fraction(1000)),
    **dict.fromkeys(("um", "μm", "micron", "microns"), Fraction(1, 1000)),
    **dict.fromkeys(("in", '"', "inch", "inches"), Fraction("25.4")),
    **dict.fromkeys(("ft", "'", "foot", "feet"), Fraction("304.8")),
    **dict.fromkeys(("yd", "yard", "yards"), Fraction("914.4")),
    "thou": Fraction("0.0254"),
}
FEET = LENGTHS["ft"]

#: Words that may follow a number in a field of that unit, beside the unit's own name.
WORDS: dict[str, tuple[str, ...]] = {
    "px": ("px", "pixel", "pixels"),
    "ppi": ("ppi", "dpi"),
    "percent": ("%", "percent"),
    "degrees": ("°", "deg", "degree", "degrees"),
    "C": ("c", "°c"),
    # The small 2 is folded to a plain one.
    "mm²": ("mm2",),
}

#: How a unit is written in front of a reader, where that differs from its name in the code.
SHOWN = {"percent": "%", "degrees": "°", "C": "°C", "um": "µm", "arcmin": "arcminutes", "delta_e": "ΔE"}


@dataclass(frozen=True)
class Display:
    """One way of showing lengths: its name, its size in mm and the decimals it wants more than mm."""

    unit: str
    mm: float
    more_decimals: int


MM = Display("mm", 1.0, 0)
INCH = Display("in", MM_PER_INCH, 2)
DISPLAYS = {display.unit: display for display in (MM, INCH)}


class Unread(ValueError):
    """A text that is not the number asked for; ``str()`` is the hint for the reader."""


_FRACTIONS = {
    character: f" {Fraction(numeric(character)).limit_denominator(16)}" for character in "½¼¾⅓⅔⅛⅜⅝⅞⅙⅚⅕⅖⅗⅘"
}
_ALIKE = str.maketrans(
    {"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‘": "'", "−": "-", "–": "-"} | _FRACTIONS
)
_DIGITS = r"[+-]?(?:[0-9][0-9.,]*|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_NUMBER = rf"{_DIGITS}(?:\s*/\s*[0-9.,]+|\s+[0-9]+\s*/\s*[0-9]+)?"
_TERM = re.compile(rf"\s*({_NUMBER})\s*(mm2|[^\s0-9.,+/-]*)\s*")
_RATIO = re.compile(r"1\s*[:/]\s*(.+)")


def length_mm(text: str) -> float:
    """Return the length typed as ``text`` in mm; a number without unit is in mm.

    Feet and inches may stand together. Raises Unread with a hint.

    >>> length_mm("12 in"), length_mm('0.5"'), length_mm("3 cm"), length_mm("1'6\\""), length_mm("1,5")
    (304.8, 12.7, 30.0, 457.2, 1.5)
    >>> length_mm("5 1/2 in"), length_mm("3/4\\"")
    (139.7, 19.05)
    """
    total, last = Fraction(), inf
    for place, (value, word) in enumerate(_terms(text)):
        if word and word not in LENGTHS:
            raise Unread(messages.UNKNOWN_LENGTH_UNIT.format(typed=messages.quoted(text)))
        if place and (last != FEET or value < 0):
            raise Unread(messages.NOT_ONE_LENGTH.format(typed=messages.quoted(text)))
        size = LENGTHS[word or ('in' if place else 'mm')]
        if size >= last:
            raise Unread(messages.NOT_ONE_LENGTH.format(typed=messages.quoted(text)))
        total, last = total + value * size, size
    return _as_float(total)


def number(text: str, unit: str = "") -> float:
    """Return the plain number typed as ``text``, which may end in the name of its own ``unit``.

    Raises Unread with a hint.

    >>> number("1,5"), number("0.25"), number("200 px", "px"), number("1/4")
    (1.5, 0.25, 200.0, 0.25)
    """
    terms = _terms(text)
    value, word = terms[0]
    if len(terms) > 1:
        raise Unread(messages.NOT_ONE_NUMBER.format(typed=messages.quoted(text)))
    if word and word not in WORDS.get(unit, (unit.lower(),)):
        wanted = messages.UNIT_OR_NONE.format(unit=shown_unit(unit)) if unit else messages.DIGITS_ONLY
        raise Unread(f"{messages.TYPED.format(typed=messages.quoted(text))} {wanted}")
    return _as_float(value)


def ratio(text: str) -> float:
    """Return n of a scale 1:n typed as "1:n", "1/n" or "n". Raises Unread with a hint.

    >>> ratio("1:43.5"), ratio("1/72"), ratio("76,2")
    (43.5, 72.0, 76.2)
    """
    written = _RATIO.fullmatch(_tidy(text))
    return number(written[1] if written else text)


def point(text: str) -> tuple[float, float]:
    """Return (x, y) of a point typed as "x, y", "x; y" or "x y", in pixels.

    A comma between two whole numbers parts them; decimal commas want a blank or a semicolon between
    the numbers. Raises Unread with a hint.

    >>> point("120, 40"), point("120,40"), point("120.5 40"), point("(1,5; 2,5)"), point("3 px, 4 px")
    ((120.0, 40.0), (120.0, 40.0), (120.5, 40.0), (1.5, 2.5), (3.0, 4.0))
    """
    tidy = re.sub(r"(?<=[0-9])\s*(?:px|pixels?)\b", "", _tidy(text[: MOST_CHARACTERS + 1]).lower())
    tidy = tidy[1:-1].strip() if tidy[:1] == "(" and tidy[-1:] == ")" else tidy
    for between in (r"\s*;\s*", r"\s*,\s+|\s+,\s*|\s+", r","):
        parts = re.split(between, tidy)
        if len(parts) == 2:
            return number(parts[0], "px"), number(parts[1], "px")
    raise Unread(messages.NOT_TWO_NUMBERS.format(typed=messages.quoted(text)))


def shown_unit(unit: str) -> str:
    """Return how ``unit`` is written in front of a reader."""
    return SHOWN.get(unit, unit)


def _tidy(text: str) -> str:
    """Return ``text`` with look-alike characters folded and blanks trimmed."""
    return normalize("NFKC", text.translate(_ALIKE)).replace("''", '"').strip()


def _terms(text: str) -> list[tuple[Fraction, str]]:
    """Return the (number, lower-case word) pairs that make up the whole of ``text``."""
    tidy, at, terms = _tidy(text), 0, []
    if len(tidy) > MOST_CHARACTERS:
        raise Unread(messages.NOT_READ.format(typed=messages.quoted(text)))
    while at < len(tidy):
        term = _TERM.match(tidy, at)
        if not term:
            raise Unread(messages.NOT_READ.format(typed=messages.quoted(text)))
        terms.append((_value(term[1], text), term[2].lower().rstrip(".")))
        at = term.end()
    if not terms:
        raise Unread(messages.NOT_READ.format(typed=messages.quoted(text)))
    return terms


def _value(digits: str, text: str) -> Fraction:
    """Return the value of one number, a fraction ("3/4") or a mixed number ("5 1/2")."""
    whole, _, fraction = digits.rpartition(" ") if re.search(r"[0-9]\s+[0-9]", digits) else ("", "", digits)
    above, slash, below = fraction.replace(" ", "").partition("/")
    value = _decimal(above, text)
    if slash:
        divisor = _decimal(below, text)
        if divisor == 0:
            raise Unread(messages.DIVIDED_BY_ZERO.format(typed=messages.quoted(text)))
        value /= divisor
    if whole:
        before = _decimal(whole.strip(), text)
        value = before - value if whole.lstrip().startswith("-") else before + value
    return value


def _decimal(digits: str, text: str) -> Fraction:
    """Return one decimal number; a comma is a decimal comma unless it could part thousands."""
    if digits.count(",") + digits.count(".") > 1:
        raise Unread(messages.SEPARATORS.format(typed=messages.quoted(text)))
    if re.fullmatch(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}", digits):
        raise Unread(
            messages.COMMA_THOUSANDS.format(
                typed=messages.quoted(text), joined=digits.replace(",", ""), pointed=digits.replace(",", ".")
            )
        )
    try:
        return Fraction(digits.replace(",", "."))
    except ValueError:
        raise Unread(messages.NOT_READ.format(typed=messages.quoted(text))) from None


def _as_float(value: Fraction) -> float:
    """Return ``value`` as a float; one too large for that becomes infinite, which no range holds."""
    try:
        return float(value)
    except OverflowError:
        return inf if value > 0 else -inf


def in_display(value_mm: float, display: Display) -> float:
    """Return a length of ``value_mm`` in the unit of ``display``."""
    return value_mm / display.mm


def restated(value_mm: float, display: Display) -> str:
    """Return a length for a text field, in the unit of ``display``, without suffix.

    Nine significant digits, so that 1 in typed as 25.4 mm reads "1".

    >>> restated(25.4, INCH), restated(300, INCH), restated(25.4, MM)
    ('1', '11.8110236', '25.4')
    """
    return numbers.plain(value_mm) if display is MM else numbers.significant(in_display(value_mm, display), 9)


"""Lengths, ratios and plain numbers as people type them, turned into numbers.

All internal lengths are in millimetres. One inch is 25.4 mm exactly (ISO 80000-3, annex; the
international yard and pound agreement of 1959).
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from math import inf
from unicodedata import normalize, numeric

from calculators import messages, numbers
from calculators.other_units import OTHERS, Other

MM_PER_INCH = 25.4
#: Longer numbers are not parsed.
MOST_CHARACTERS = 100

#: Millimetres in one of each unit of length that can be typed; the first name is the one shown.
LENGTHS: dict[str, Fraction] = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(1)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Fraction(10)),
    **dict.fromkeys(("dm", "decimetre", "decimetres", "decimeter", "decimeters"), Fraction(100)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Fraction(1000)),
    **dict.fromkeys(("um", "μm", "micron", "microns"), Fraction(1, 1000)),
    **dict.fromkeys(("in", "ins", '"', "inch", "inches"), Fraction("25.4")),
    **dict.fromkeys(("ft", "'", "foot", "feet"), Fraction("304.8")),
    **dict.fromkeys(("yd", "yard", "yards"), Fraction("914.4")),
    "thou": Fraction("0.0254"),
}
FEET, METRE = LENGTHS["ft"], LENGTHS["m"]
#: A length may combine units of one row, each smaller than the one before it.
TOGETHER = (
    (LENGTHS["yd"], FEET, LENGTHS["in"]),
    (METRE, LENGTHS["dm"], LENGTHS["cm"], LENGTHS["mm"]),
)
_METRIC = {name for name, size in LENGTHS.items() if size in TOGETHER[1]}

#: Words that may follow a number in a field of that unit, as folded: small letters, a plain 2 for a small one.
WORDS: dict[str, tuple[str, ...]] = {
    "px": ("px", "pixel", "pixels"),
    "ppi": ("ppi", "dpi"),
    "%": ("%", "percent"),
    "°": ("°", "deg", "degree", "degrees"),
    "°C": ("°c", "c", "deg c", "degrees c", "celsius"),
    "mm²": ("mm2",),
    "cm²": ("cm2", "sq cm"),
    "µm": ("μm", "um", "micron", "microns"),
    "mL": ("ml", "cc", "millilitre", "millilitres", "milliliter", "milliliters"),
    "m³": ("m3", "cubic metre", "cubic metres", "cubic meter", "cubic meters"),
    "m³/h": ("m3/h", "m3/hr", "m3 an hour"),
    "m²/L": ("m2/l",),
    "L": ("l", "litre", "litres"),
    "min": ("min", "mins", "minute", "minutes"),
    "s": ("s", "sec", "secs", "second", "seconds"),
    "h": ("h", "hr", "hrs", "hour", "hours"),
}

#: How a unit is printed, if that differs from its name in the code. A difference of temperatures is in °C as well.
SHOWN = {
    "percent": "%",
    "degrees": "°",
    "C": "°C",
    "celsius": "°C",
    "K": "°C",
    "kelvin": "°C",
    "um": "µm",
    "ml": "mL",
    "m3": "m³",
    "m3h": "m³/h",
    "arcmin": "arcminutes",
    "delta_e": "ΔE",
}


@dataclass(frozen=True)
class Display:
    """A display unit of lengths: its name, its size in mm and its extra decimals compared with mm.

    ``others`` are units that the reader typed for others, by the unit that each stands for.
    """

    unit: str
    mm: float
    more_decimals: int
    others: Mapping[str, Other] = field(default_factory=dict)

    def shown(self, value: float, unit: str) -> tuple[float, str]:
        """Return ``value`` in the unit that the reader typed for ``unit``, and how that is printed."""
        other = self.others.get(unit)
        return (value, shown_unit(unit)) if other is None else (other.of(value, unit), other.shown)


MM = Display("mm", 1.0, 0)
INCH = Display("in", MM_PER_INCH, 2)
DISPLAYS = {display.unit: display for display in (MM, INCH)}


class Unread(ValueError):
    """A text that is not the number asked for; ``str()`` is the hint for the reader."""


class NotANumber(Unread):
    """A text in which no number can be read."""

    def __init__(self, text: str) -> None:
        super().__init__(messages.NOT_READ.format(typed=messages.quoted(text)))


_FRACTIONS = {
    character: f" {Fraction(numeric(character)).limit_denominator(16)} " for character in "½¼¾⅓⅔⅛⅜⅝⅞⅙⅚⅕⅖⅗⅘⅐⅑⅒"
}
_ALIKE = str.maketrans(
    dict.fromkeys("″”“ʺ", '"')
    | dict.fromkeys("′’‘´`ʼʹ", "'")
    | dict.fromkeys("−–‐‑", "-")
    | dict.fromkeys("⁄∕", "/")
    | {"∶": ":"}
    | _FRACTIONS
)
_RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹"
_LOWERED = "₀₁₂₃₄₅₆₇₈₉"
_BUILT_FRACTION = re.compile(rf"([{_RAISED}]+)[/⁄∕]([{_LOWERED}]+)")
#: Folding would append a superscript or subscript digit to the number before it; after a letter it is part of a unit.
_POWER = re.compile(rf"(?<![^\W\d_])[{_RAISED}{_LOWERED}]")

#: Thousands separated by blanks, or by apostrophes, which without a unit might mean feet.
_BY_BLANKS = re.compile(r"(?<![0-9.,'/])[1-9][0-9]{0,2}(?: [0-9]{3})+(?![0-9]|\s*/)")
_BY_APOSTROPHES = re.compile(r"(?<![0-9.,'/])[1-9][0-9]{0,2}(?:'[0-9]{3})+(?![0-9])")
#: Thousands separated by commas or points; a second one, or the other mark, distinguishes them from decimals.
_BY_OTHER_MARK = re.compile(r"([+-]?[1-9][0-9]{0,2})(?:((?:,[0-9]{3})+)(\.[0-9]+)|((?:\.[0-9]{3})+)(,[0-9]+))")
_BY_SEVERAL_MARKS = re.compile(r"[+-]?[1-9][0-9]{0,2}(?:(?:,[0-9]{3}){2,}|(?:\.[0-9]{3}){2,})")
#: The hyphen of "1-1/2".
_HYPHEN = re.compile(r"(?<![0-9./,])([0-9]+)-\s?(?=[0-9]+\s*/\s*[0-9])")
#: In "6 ft.3 in" the point may belong to either.
_POINT_OF_EITHER = re.compile(r"[a-z]\.[0-9]", re.IGNORECASE)

_DIGITS = r"[+-]?(?:[0-9][0-9.,]*|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_NUMBER = rf"{_DIGITS}(?:\s*/\s*[0-9.,]+|\s+[0-9]+\s*/\s*[0-9]+)?"
_TERM = re.compile(rf"\s*({_NUMBER})\s*((?:mm2|[^\s0-9.,+/-]+)(?:(?<=[A-Za-z2])\.(?![0-9]))?)?\s*")
#: Separators between two parts of a length; a hyphen only after feet.
_BETWEEN = re.compile(r"(?:,|and\b)?\s*", re.IGNORECASE)
_BETWEEN_AFTER_FEET = re.compile(r"(?:,|and\b|-)?\s*", re.IGNORECASE)

_SCALE = re.compile(r"(?:scale\s+)?(.+?)(?:\s+scale)?", re.IGNORECASE)
_RATIO = re.compile(r"1\s*(?:[:/]|to(?![a-z]))\s*(.+)", re.IGNORECASE)
_ORDINAL = re.compile(r"(?<=[0-9])(?:st|nd|rd|th)$", re.IGNORECASE)
_TO_THE_FOOT = re.compile(
    r"""(.+?)\s*(?:to the|to a|per|=|/)\s*(?:1\s*)?(?:foot|ft\.?|'(?:\s*-?\s*0\s*")?)""", re.IGNORECASE
)
_ONE_AND_DECIMALS = re.compile(r"1[.,]([1-9][0-9]*)")


def length_mm(text: str) -> float:
    r"""Return the length typed as ``text`` in mm; a number without unit is in mm.

    Feet and inches may be combined, and so may metres, centimetres and millimetres. Raises Unread with a hint.

    >>> length_mm("12 in"), length_mm('0.5"'), length_mm("3 cm"), length_mm("1'6\""), length_mm("1,5")
    (304.8, 12.7, 30.0, 457.2, 1.5)
    >>> length_mm("5 1/2 in"), length_mm("3/4\""), length_mm("1’500 mm"), length_mm("2 m 30 cm")
    (139.7, 19.05, 1500.0, 2300.0)
    """
    return _as_float(_length(text))


def _length(text: str) -> Fraction:
    """Return the length typed as ``text`` in mm, exactly. Raises Unread."""
    typed = messages.quoted(text)
    terms, tidy = _terms(text), _tidy(text)
    if _POINT_OF_EITHER.search(tidy):
        raise Unread(messages.NOT_ONE_LENGTH.format(typed=typed))
    total, last = Fraction(), Fraction()
    for place, (value, word, digits) in enumerate(terms):
        if word and word not in LENGTHS:
            raise Unread(messages.UNKNOWN_LENGTH_UNIT.format(typed=typed))
        size = LENGTHS[word] if word else _size_without_unit(digits, last)
        if size is None or (place and (value < 0 or not _goes_on(last, size) or value * size >= last)):
            raise Unread(messages.NOT_ONE_LENGTH.format(typed=typed))
        total, last = total + value * size, size
    if (parted := _BY_APOSTROPHES.search(tidy)) and (not terms[0][1] or terms[0][1] not in _METRIC):
        raise Unread(messages.APOSTROPHE_THOUSANDS.format(typed=typed, joined=parted[0].replace("'", "")))
    return total


def _size_without_unit(digits: str, last: Fraction) -> Fraction | None:
    """Return the unit of a number without unit, after a part in ``last`` (0: it is the first); None if ambiguous."""
    if not last:
        return LENGTHS["mm"]
    if last == FEET:
        return LENGTHS["in"]
    return LENGTHS["cm"] if last == METRE and re.fullmatch("[0-9]{2}", digits) else None


def _goes_on(last: Fraction, size: Fraction) -> bool:
    """Tell whether a part in ``size`` may follow one in ``last``."""
    return any(last in units and size in units[units.index(last) + 1 :] for units in TOGETHER)


def number(text: str, unit: str = "") -> float:
    """Return the plain number typed as ``text``, which may end in the name of its own ``unit``.

    Raises Unread with a hint.

    >>> number("1,5"), number("0.25"), number("200 px", "px"), number("1/4"), number("50 percent", "%")
    (1.5, 0.25, 200.0, 0.25, 50.0)
    >>> number("68 °F", "°C"), number("212F", "°C"), number("60 cfm", "m³/h")
    (20.0, 100.0, 101.9406477312)
    """
    digits, other = _apart(text, unit)
    terms = _terms(digits)
    value, word, _digits = terms[0]
    if len(terms) > 1:
        raise Unread(messages.NOT_ONE_NUMBER.format(typed=messages.quoted(text)))
    if word and word not in WORDS.get(shown_unit(unit), (unit.lower(),)):
        wanted = messages.UNIT_OR_NONE.format(unit=shown_unit(unit)) if unit else messages.DIGITS_ONLY
        raise Unread(f"{messages.TYPED.format(typed=messages.quoted(text))} {wanted}")
    size, zero = other.sizes[unit] if other else (Fraction(1), Fraction())
    return _as_float(value * size + zero)


def _apart(text: str, unit: str) -> tuple[str, Other | None]:
    """Return ``text`` without the name of its unit, and which other unit that is, if it is not the field's own."""
    others = [each for each in OTHERS if unit in each.sizes]
    names: dict[str, Other | None] = {name: each for each in others for name in each.names}
    names |= dict.fromkeys(WORDS.get(shown_unit(unit), ()), None)
    if not names or len(text) > MOST_CHARACTERS:
        return text, None
    tidy = " ".join(_tidy(text).lower().split()).removesuffix(".")
    for name in sorted(names, key=len, reverse=True):
        before = tidy.removesuffix(name)
        if before != tidy and before.strip() and not before[-1].isalpha():
            return before, names[name]
    return text, None


def typed_unit(text: str, unit: str) -> Other | None:
    """Return the unit that ``text`` names in place of ``unit``, if answers are to be in it."""
    try:
        other = _apart(text, unit)[1]
    except Unread:
        return None
    return other if other and other.shown else None


def takes_others(unit: str) -> bool:
    """Whether another unit may be typed for ``unit``."""
    return any(unit in each.sizes for each in OTHERS)


def ratio(text: str) -> float:
    """Return n of a scale 1:n typed as "1:n", "1/n", "1 to n" or "n", or as a length to the foot.

    Raises Unread with a hint.

    >>> ratio("1:43.5"), ratio("1/72"), ratio("76,2"), ratio("1/48th scale"), ratio("4 mm to the foot")
    (43.5, 72.0, 76.2, 48.0, 76.2)
    """
    bare = _SCALE.fullmatch(_tidy(text))
    inner = bare[1] if bare else text
    if to_the_foot := _TO_THE_FOOT.fullmatch(inner):
        length = _length(to_the_foot[1])
        if length > 0 and _terms(to_the_foot[1])[0][1]:
            return _as_float(FEET / length)
    inner = _ORDINAL.sub("", inner)
    if written := _RATIO.fullmatch(inner):
        return number(written[1])
    if decimals := _ONE_AND_DECIMALS.fullmatch(inner):
        raise Unread(
            messages.ONE_AND_DECIMALS.format(
                typed=messages.quoted(text), scale=decimals[1], whole=inner.replace(",", ".")
            )
        )
    return number(inner)


def point(text: str) -> tuple[float, float]:
    """Return (x, y) of a point typed as "x, y", "x; y" or "x y", in pixels.

    A comma between two whole numbers separates them; decimal commas need a blank or a semicolon. Raises Unread.

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
    """Return ``unit`` as it is printed."""
    return SHOWN.get(unit, unit)


def _tidy(text: str) -> str:
    """Return ``text`` with look-alike characters folded and blanks trimmed.

    Raises Unread where that would change a number.
    """
    alike = _BUILT_FRACTION.sub(lambda found: normalize("NFKC", f" {found[1]}/{found[2]} "), text).translate(_ALIKE)
    if _POWER.search(alike):
        raise NotANumber(text)
    return normalize("NFKC", alike).replace("''", '"').strip()


def _joined(tidy: str) -> str:
    """Return a tidy text with thousands, mixed numbers and "per cent" normalised."""
    tidy = _BY_BLANKS.sub(lambda found: found[0].replace(" ", ""), tidy)
    tidy = _BY_APOSTROPHES.sub(lambda found: found[0].replace("'", ""), tidy)
    return _HYPHEN.sub(r"\1 ", re.sub("per cent", "percent", tidy, flags=re.IGNORECASE))


def _terms(text: str) -> list[tuple[Fraction, str, str]]:
    """Return the (number, lower-case word, digits) that make up the whole of ``text``."""
    if len(text) > MOST_CHARACTERS:
        raise NotANumber(text)
    tidy, at = _joined(_tidy(text)), 0
    terms: list[tuple[Fraction, str, str]] = []
    while at < len(tidy):
        if terms:
            between = _BETWEEN_AFTER_FEET if LENGTHS.get(terms[-1][1]) == FEET else _BETWEEN
            passed = between.match(tidy, at)
            at = passed.end() if passed else at
        term = _TERM.match(tidy, at)
        if not term:
            raise NotANumber(text)
        terms.append((_value(term[1], text), (term[2] or "").lower().rstrip("."), term[1]))
        at = term.end()
    if not terms:
        raise NotANumber(text)
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
        if not re.fullmatch("[+-]?[0-9]+", whole.strip()) or abs(value) >= 1:
            raise NotANumber(text)
        before = _decimal(whole.strip(), text)
        value = before - value if whole.lstrip().startswith("-") else before + value
    return value


def _decimal(digits: str, text: str) -> Fraction:
    """Return one decimal number; a comma is a decimal comma unless it could part thousands."""
    if parted := _BY_OTHER_MARK.fullmatch(digits):
        first, commas, point, points, comma = parted.groups(default="")
        digits = f"{first}{commas.replace(',', '')}{points.replace('.', '')}.{(point or comma)[1:]}"
    elif _BY_SEVERAL_MARKS.fullmatch(digits):
        digits = digits.replace(",", "").replace(".", "")
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
        raise NotANumber(text) from None


def _as_float(value: Fraction) -> float:
    """Return ``value`` as a float; a too large one becomes infinite and so out of range."""
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

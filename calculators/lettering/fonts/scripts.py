"""Which scripts need more than one glyph after the other: they are refused by name.

Source: Unicode 16, Blocks.txt and the chapters on each script, from memory; the direction of characters comes from
Python's unicodedata.
"""

from __future__ import annotations

import unicodedata

#: First and last character, the name of the script, and what it needs.
_RANGES = (
    (0x0590, 0x05FF, "Hebrew", "right-to-left"),
    (0x0600, 0x06FF, "Arabic", "joined"),
    (0x0700, 0x074F, "Syriac", "joined"),
    (0x0750, 0x077F, "Arabic", "joined"),
    (0x0780, 0x07BF, "Thaana", "right-to-left"),
    (0x07C0, 0x07FF, "N’Ko", "joined"),
    (0x0800, 0x083F, "Samaritan", "right-to-left"),
    (0x0840, 0x085F, "Mandaic", "joined"),
    (0x0860, 0x086F, "Syriac", "joined"),
    (0x0870, 0x08FF, "Arabic", "joined"),
    (0x0900, 0x097F, "Devanagari", "reordered"),
    (0x0980, 0x09FF, "Bengali", "reordered"),
    (0x0A00, 0x0A7F, "Gurmukhi", "reordered"),
    (0x0A80, 0x0AFF, "Gujarati", "reordered"),
    (0x0B00, 0x0B7F, "Oriya", "reordered"),
    (0x0B80, 0x0BFF, "Tamil", "reordered"),
    (0x0C00, 0x0C7F, "Telugu", "reordered"),
    (0x0C80, 0x0CFF, "Kannada", "reordered"),
    (0x0D00, 0x0D7F, "Malayalam", "reordered"),
    (0x0D80, 0x0DFF, "Sinhala", "reordered"),
    (0x0E00, 0x0E7F, "Thai", "stacked"),
    (0x0E80, 0x0EFF, "Lao", "stacked"),
    (0x0F00, 0x0FFF, "Tibetan", "stacked"),
    (0x1000, 0x109F, "Myanmar", "reordered"),
    (0x1100, 0x11FF, "Hangul in single letters", "joined"),
    (0x1700, 0x177F, "Philippine scripts", "stacked"),
    (0x1780, 0x17FF, "Khmer", "reordered"),
    (0x1800, 0x18AF, "Mongolian", "joined"),
    (0x1900, 0x194F, "Limbu", "stacked"),
    (0x1980, 0x19DF, "New Tai Lue", "reordered"),
    (0x19E0, 0x19FF, "Khmer", "reordered"),
    (0x1A00, 0x1A1F, "Buginese", "reordered"),
    (0x1A20, 0x1AAF, "Tai Tham", "reordered"),
    (0x1B00, 0x1B7F, "Balinese", "reordered"),
    (0x1B80, 0x1BBF, "Sundanese", "reordered"),
    (0x1BC0, 0x1BFF, "Batak", "reordered"),
    (0x1C00, 0x1C4F, "Lepcha", "reordered"),
    (0x1CD0, 0x1CFF, "Vedic signs", "stacked"),
    (0xA800, 0xA82F, "Syloti Nagri", "reordered"),
    (0xA840, 0xA87F, "Phags-pa", "joined"),
    (0xA880, 0xA8DF, "Saurashtra", "reordered"),
    (0xA8E0, 0xA8FF, "Devanagari", "reordered"),
    (0xA900, 0xA95F, "Kayah Li and Rejang", "stacked"),
    (0xA960, 0xA97F, "Hangul in single letters", "joined"),
    (0xA980, 0xA9DF, "Javanese", "reordered"),
    (0xA9E0, 0xA9FF, "Myanmar", "reordered"),
    (0xAA00, 0xAA5F, "Cham", "reordered"),
    (0xAA60, 0xAA7F, "Myanmar", "reordered"),
    (0xAA80, 0xAADF, "Tai Viet", "reordered"),
    (0xAAE0, 0xAAFF, "Meetei Mayek", "reordered"),
    (0xABC0, 0xABFF, "Meetei Mayek", "reordered"),
    (0xD7B0, 0xD7FF, "Hangul in single letters", "joined"),
    (0xFB1D, 0xFB4F, "Hebrew", "right-to-left"),
    (0xFB50, 0xFDFF, "Arabic", "joined"),
    (0xFE70, 0xFEFF, "Arabic", "joined"),
    (0x11000, 0x11FFF, "A script of South or Southeast Asia", "reordered"),
)
#: First and last character of scripts whose kerning fonts keep apart, with the tag of each. Latin is found by itself.
_TAGS = (
    (0x0041, 0x005A, "latn"),
    (0x0061, 0x007A, "latn"),
    (0x00AA, 0x024F, "latn"),
    (0x0370, 0x03FF, "grek"),
    (0x0400, 0x052F, "cyrl"),
    (0x0531, 0x058F, "armn"),
    (0x10A0, 0x10FF, "geor"),
    (0x1E00, 0x1EFF, "latn"),
    (0x1F00, 0x1FFF, "grek"),
)


def refused_scripts(text: str) -> list[tuple[str, str]]:
    """Return the name of each script of a text that is not set, with why, in the order in which they come.

    >>> refused_scripts("Rowan שלום")
    [('Hebrew', 'right-to-left')]
    """
    found = dict.fromkeys(each for sign in text if (each := _refused(sign)))
    return list(found)


def _refused(sign: str) -> tuple[str, str] | None:
    code = ord(sign)
    for first, last, name, why in _RANGES:
        if first <= code <= last and sign != "\ufeff":
            return name, why
    if unicodedata.bidirectional(sign) in ("R", "AL", "RLE", "RLO", "RLI"):
        return "Text from right to left", "right-to-left"
    return None


def script_tag(text: str) -> str:
    """Return the tag of the script by which a font kerns a text: that of its first letter, or "DFLT" without any.

    >>> script_tag("12 Rowan"), script_tag("12")
    ('latn', 'DFLT')
    """
    for sign in text:
        if unicodedata.category(sign)[0] != "L":
            continue
        for first, last, tag in _TAGS:
            if first <= ord(sign) <= last:
                return tag
    return "DFLT"

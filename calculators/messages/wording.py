"""Inserts readers' texts, file names and labels into sentences."""

import re
import unicodedata
from collections.abc import Sequence

#: The longest file name in a message; the page has the same limit (``theme/scripts/frame/words.mjs``).
MOST_OF_NAME = 60
#: White space and line ends of any kind.
_BLANKS = re.compile("[\t-\r\u0085 \u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+")
#: Control characters, direction marks and joiners, surrogates, and private-use characters.
_UNSHOWN = ("Cc", "Cf", "Cs", "Co")


def legible(text: str) -> str:
    """Return ``text`` with line ends, direction marks and invisible characters replaced by a symbol."""
    if text.isprintable():
        return text
    return "".join(character if character.isprintable() else "�" for character in text)


def quoted(text: str, most: int = 40) -> str:
    """Return ``text`` in quotation marks for a hint, shortened in the middle if it is long.

    >>> quoted("12 parsecs"), quoted("x" * 60, 9)
    ('“12 parsecs”', '“xxxx…xxxx”')
    """
    visible = legible(text)
    if len(visible) > most:
        half = (most - 1) // 2
        visible = f"{visible[:half]}…{visible[-half:]}"
    return f"“{visible}”"


def display_name(name: str, most: int = MOST_OF_NAME) -> str:
    r"""Return a file name for a sentence: on one line, without direction marks, no longer than ``most``.

    A long name is shortened in the middle, since its end shows the file type. A name without visible characters is "…".

    >>> display_name("tail\u202egnp.exe"), display_name("a \n b.png"), display_name("x" * 60 + ".png", 10)
    ('tailgnp.exe', 'a b.png', 'xxxxx….png')
    """
    blanks = _BLANKS.sub(" ", name)
    visible = "".join(character for character in blanks if unicodedata.category(character) not in _UNSHOWN)
    tidy = re.sub(" +", " ", visible).strip(" ") or "…"
    half = (most - 1) // 2
    return tidy if len(tidy) <= most else f"{tidy[: most - 1 - half]}…{tidy[-half:]}"


def plural(count: int, one: str, many: str = "") -> str:
    """Return ``count`` with its noun, of which ``many`` is the plural if an s does not make it.

    >>> plural(1, "colour"), plural(3, "colour"), plural(0, "guess", "guesses")
    ('1 colour', '3 colours', '0 guesses')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"


def or_listed(words: Sequence[str]) -> str:
    """Return words as alternatives.

    >>> or_listed(["Red"]), or_listed(["Red", "Blue", "Green"])
    ('Red', 'Red, Blue or Green')
    """
    return " or ".join([*([", ".join(words[:-1])] if words[1:] else []), *words[-1:]])


def as_subject(label: str) -> str:
    """Return ``label`` for the beginning of a sentence."""
    return label[:1].upper() + label[1:]


def in_sentence(label: str) -> str:
    """Return ``label`` for the middle of a sentence: abbreviations keep their capitals.

    >>> in_sentence("Printed width"), in_sentence("SVG file")
    ('printed width', 'SVG file')
    """
    return label if label[1:2].isupper() else label[:1].lower() + label[1:]

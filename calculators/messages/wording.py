"""How texts of the reader, names of files and labels are set into sentences."""

import re
import unicodedata

#: So many characters of a name are shown; the page shows as many (``theme/scripts/frame/words.mjs``).
MOST_OF_NAME = 60
#: Blanks of any kind, and whatever ends a line.
_BLANKS = re.compile("[\t-\r\u0085 \u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+")
#: Controls, marks of direction and joiners, halves of characters, and what only one font knows.
_UNSHOWN = ("Cc", "Cf", "Cs", "Co")


def legible(text: str) -> str:
    """Return ``text`` with a sign for each character that ends a line, turns it round or is not seen."""
    return "".join(character if character.isprintable() else "�" for character in text)


def quoted(text: str, most: int = 40) -> str:
    """Return ``text`` in quotation marks for a hint, shortened in the middle where it is long.

    >>> quoted("12 parsecs"), quoted("x" * 60, 9)
    ('“12 parsecs”', '“xxxx…xxxx”')
    """
    visible = legible(text)
    if len(visible) > most:
        half = (most - 1) // 2
        visible = f"{visible[:half]}…{visible[-half:]}"
    return f"“{visible}”"


def shown_name(name: str, most: int = MOST_OF_NAME) -> str:
    r"""Return the name of a file as it may stand in a sentence: in one line, without what
    turns the line round, no longer than ``most``.

    A long one is shortened in the middle, since its end tells what it is. One of which nothing can be shown is "…".

    >>> shown_name("tail\u202egnp.exe"), shown_name("a \n b.png"), shown_name("x" * 60 + ".png", 10)
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


def as_subject(label: str) -> str:
    """Return ``label`` to begin a sentence with."""
    return label[:1].upper() + label[1:]


def in_sentence(label: str) -> str:
    """Return ``label`` for the middle of a sentence: abbreviations keep their capitals.

    >>> in_sentence("Printed width"), in_sentence("SVG file")
    ('printed width', 'SVG file')
    """
    return label if label[1:2].isupper() else label[:1].lower() + label[1:]

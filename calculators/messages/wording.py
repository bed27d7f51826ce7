"""How texts of the reader and labels are set into sentences."""

def quoted(text: str, most: int = 40) -> str:
    """Return ``text`` in quotation marks for a hint, shortened in the middle where it is long.

    >>> quoted("12 parsecs"), quoted("x" * 60, 9)
    ('“12 parsecs”', '“xxxx…xxxx”')
    """
    shown = "".join(character if character.isprintable() else "�" for character in text)
    if len(shown) > most:
        half = (most - 1) // 2
        shown = f"{shown[:half]}…{shown[-half:]}"
    return f"“{shown}”"


def as_subject(label: str) -> str:
    """Return ``label`` to begin a sentence with."""
    return label[:1].upper() + label[1:]


def in_sentence(label: str) -> str:
    """Return ``label`` for the middle of a sentence: abbreviations keep their capitals.

    >>> in_sentence("Printed width"), in_sentence("SVG file")
    ('printed width', 'SVG file')
    """
    return label if label[1:2].isupper() else label[:1].lower() + label[1:]

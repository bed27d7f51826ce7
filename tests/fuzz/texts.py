"""Grammars of typed text: numbers with units, lists, file names, words and JSON. Each takes a random generator."""

from __future__ import annotations

import json
from random import Random
from typing import Any

UNITS = (
    "",
    "",
    "",
    " mm",
    "mm",
    " cm",
    " m",
    " in",
    '"',
    "'",
    " ft",
    " thou",
    " µm",
    " yd",
    " px",
    " ppi",
    " %",
    "°",
    " parsec",
    " mm²",
    "mm mm",
)
#: Characters that often break programs: line ends, direction marks, joiners, surrogates, digits of other scripts.
ODD = (
    "\0\t\n"
    "\r\x1b\x7f\x85\u00a0\u00ad\u0301\u0338\u061c\u200b\u200d\u200f\u2028\u2029\u202e\u2066"
    "\u3000\ufeff\ufffd\ud800\udfff\U0001f986\U000e0041١２½⅜′″−–’…"
)
PLAIN = "abcdefghijklmnopqrstuvwxyz ABCXYZ 0123456789 .,;:-_/'\"#()<>&{}%"
WORDS = (
    "background",
    "wanted",
    "hole",
    "A",
    "AB",
    "12",
    "white",
    "paper",
    "left",
    "crest",
    "1:72",
    "OO",
    "royal blue",
    "{soak}",
    "<b>",
    "none",
    "auto",
    "yes",
    "no",
)


def digits(chance: Random) -> str:
    """A number as people, spreadsheets and programs write it, or nearly."""
    whole = str(chance.choice((0, 1, 2, 7, 12, 43, 72, 300, 1500, 99999, 10**9, 10 ** chance.randrange(40))))
    match chance.randrange(14):
        case 0 | 1 | 2 | 3:
            made = whole
        case 4 | 5:
            made = f"{whole}{chance.choice('.,')}{chance.randrange(1000)}"
        case 6:
            made = f"{whole}e{chance.choice(('', '-', '+'))}{chance.choice((0, 1, 3, 27, 300, 308, 324, 999, 1000))}"
        case 7:
            made = f"{chance.randrange(20)} {chance.randrange(9)}/{chance.randrange(9)}"
        case 8:
            made = f"{chance.randrange(9)}/{chance.choice((0, 1, 16, 10**30))}"
        case 9:
            made = chance.choice(
                (
                    "1,500",
                    "1.500.000",
                    "1 500",
                    "1'500",
                    "1’500,5",
                    "1,50,0",
                    "..5",
                    "5.",
                    ".",
                    ",5",
                    "+-3",
                    "--1",
                    "0x1F",
                    "1_000",
                )
            )
        case 10:
            made = chance.choice(("NaN", "inf", "-inf", "Infinity", "∞", "½", "1⅜", "٣", "１２", "²", "1²", "1⁄2", "π"))
        case 11:
            made = "0" * chance.randrange(1, 130) + whole
        case 12:
            made = f"1{chance.choice((':', '/', ' to ', ' : '))}{chance.choice((whole, '0', '43.5', '1:2'))}"
        case _:
            made = f"0.{'0' * chance.randrange(40)}{chance.randrange(1, 99)}"
    return chance.choice(("", "", "", "", "-", "+", "−", " ")) + made


def quantity(chance: Random) -> str:
    """One number or several, each with a unit or none."""
    parts = [digits(chance) + chance.choice(UNITS) for _ in range(chance.choice((1, 1, 1, 1, 1, 2, 2, 3)))]
    return chance.choice((" ", "", ", ", " and ", "-", "; ")).join(parts)


def within(chance: Random, low: float, high: float, whole: bool) -> str:
    """A number from ``low`` to ``high``, its ends among them."""
    value = chance.choice((low, high, chance.uniform(low, high), low + (high - low) * chance.random() ** 6))
    return str(round(value)) if whole else f"{value:.{chance.randrange(1, 12)}f}"


def words(chance: Random) -> str:
    """Some words, some of them odd."""
    made = [chance.choice(WORDS) if chance.random() < 0.7 else letters(chance, 12) for _ in range(chance.randrange(12))]
    return chance.choice((" ", " ", "\n", ", ")).join(made)


def letters(chance: Random, most: int) -> str:
    """A text of up to ``most`` characters, plain ones or odd ones."""
    kinds = (PLAIN, PLAIN, PLAIN + ODD, ODD)
    return "".join(chance.choices(chance.choice(kinds), k=chance.randrange(most + 1)))


def listed(chance: Random) -> str:
    """A list with commas, as marks are typed and as tables are copied: rows, quotation marks, empty cells."""
    mark, end = chance.choice((",", ", ", ";", "\t", " ")), chance.choice((", ", "\n", "\r\n", ";", ""))

    def cell() -> str:
        match chance.randrange(8):
            case 0 | 1:
                return str(chance.choice((0, 1, 2, 3, 12, 255, 10**20, -1)))
            case 2 | 3:
                return f"{chance.choice((1, 2, 3, 40, 'A', 'B', 'ZZ', 'ß', ''))} {chance.choice(WORDS)}"
            case 4:
                return digits(chance)
            case 5:
                return chance.choice(("", '"', '""', '"a,b"', "'", "#12", "#aabbcc", "a=b", "1-3", "1:2"))
            case _:
                return letters(chance, 6)

    return end.join(
        mark.join(cell() for _ in range(chance.randrange(1, 5))) for _ in range(chance.choice((0, 1, 1, 2, 3, 200)))
    )


def colour(chance: Random) -> str:
    """A colour in digits or by a name, or nearly."""
    kind = "#%06x" if chance.random() < 0.7 else chance.choice(("%06x", "#%03x", "#%08x", "#%05x", " #%06X ", "0x%06x"))
    return (
        kind % chance.randrange(1 << 24)
        if chance.random() < 0.85
        else chance.choice(("ivory", "royal blue", "rgb(1,2,3)", "", "#", "＃112233"))
    )


def point(chance: Random) -> str:
    """A point of a picture, or nearly."""
    if chance.random() < 0.6:
        return f"{chance.uniform(0, 1000):.1f}{chance.choice((', ', '; ', ' ', ','))}{chance.uniform(0, 700):.1f}"
    return chance.choice((", ", "; ", " ", ",", ",,")).join(
        digits(chance) for _ in range(chance.choice((1, 2, 2, 2, 3)))
    )


def file_name(chance: Random) -> str:
    """The name of a file: odd, long, a path, or with an ending that says something else."""
    ending = chance.choice(
        (".png", ".svg", ".jpg", ".PNG", "", ".", ".tar.gz", ".exe", "\u202egnp", ".png\n", ".png/..", ".p\u0301ng")
    )
    stem = chance.choice(
        (
            letters(chance, 20),
            "a" * 5000,
            "../" * 300,
            "con",
            "",
            " ",
            ".",
            "\n" * 40,
            "\u0301" * 400,
            ODD,
            "x\u2028y",
            "{name} %s",
            "a\\b:c*?|",
        )
    )
    return f"{stem}{ending}"


def json_value(chance: Random, depth: int = 0) -> Any:
    """Any value of JSON, and the numbers beyond it that Python's reader takes too."""
    if depth < 3 and chance.random() < 0.3:
        held = [json_value(chance, depth + 1) for _ in range(chance.randrange(4))]
        return held if chance.random() < 0.5 else {letters(chance, 6): each for each in held}
    return chance.choice(
        (
            None,
            True,
            False,
            0,
            -1,
            1.5,
            10**400,
            1e308,
            float("nan"),
            float("inf"),
            "",
            "3 mm",
            letters(chance, 30),
            json.dumps([letters(chance, 5)]),
        )
    )

"""What a rule forbids in a text, and what its writer may have meant."""

from __future__ import annotations

import re
from collections.abc import Callable
from string import digits

from calculators.lettering import sentences
from calculators.lettering.check_digits import container_check_digit, uic_check_digit
from calculators.lettering.layout import lines_of, named
from calculators.lettering.sizes import characters
from calculators.tables.lettering_rows import LetteringRule
from calculators.values import Message, advice, message

#: Figures and letters that are easily taken for each other.
_FIGURES = {"O": "0", "Q": "0", "I": "1", "Z": "2", "S": "5", "B": "8"}
_US = re.compile(r"N[1-9](?:\d{0,4}|\d{0,3}[A-HJ-NP-Z]|\d{0,2}[A-HJ-NP-Z]{2})")
_CONTAINER = re.compile(r"[A-Z]{3}[UJZ]\d{6}(\d?)")


def forbidden(rule: LetteringRule, text: str) -> list[Message]:
    """Return what ``rule`` forbids in a text, a sentence each; guesses of what was meant are advice.

    Raises Unfit for a text that is not drawn at all.
    """
    bare = "".join(lines_of(text)).replace(" ", "")
    found: list[Message] = []
    strange = sorted(set(bare) - set(characters(rule)))
    if strange:
        found.append(message(sentences.NOT_IN_RULE, characters=named(strange)))
        found += _meant_figures(rule, bare)
    if rule.longest is not None and len(bare) > rule.longest:
        found.append(message(sentences.TOO_LONG, most=str(rule.longest), count=str(len(bare))))
    if rule.checks:
        found += _FORMS[rule.checks](bare)
    return found


def _meant_figures(rule: LetteringRule, bare: str) -> list[Message]:
    """Return a guess where a rule has figures only and the text has letters that look like them."""
    figures = "".join(_FIGURES.get(sign, sign) for sign in bare)
    if figures == bare or set(figures) - set(characters(rule)):
        return []
    return [advice(sentences.MEANT, meant=figures, written=bare)]


def _uic(bare: str) -> list[Message]:
    number = bare.replace("-", "")
    if len(number) not in (11, 12) or not set(number) <= set(digits):
        count = sum(sign in digits for sign in number)
        return [message(sentences.NO_UIC_NUMBER, count=str(count))]
    return _digit(number[11:], uic_check_digit(number[:11]))


def _container(bare: str) -> list[Message]:
    if shape := _CONTAINER.fullmatch(bare):
        return _digit(shape[1], container_check_digit(bare[:10]))
    found = [message(sentences.NO_CONTAINER_CODE)]
    figures = bare[:4] + "".join(_FIGURES.get(sign, sign) for sign in bare[4:])
    if _CONTAINER.fullmatch(figures):
        found.append(advice(sentences.MEANT, meant=figures, written=bare))
    return found


def _digit(written: str, right: str) -> list[Message]:
    if not written:
        return [message(sentences.CHECK_DIGIT_MISSING, right=right)]
    return [] if written == right else [message(sentences.CHECK_DIGIT_WRONG, written=written, right=right)]


def completed(rule: LetteringRule, text: str) -> str:
    """Return a text with the check digit that ``rule`` asks for, if all before it is there and it is missing.

    Raises Unfit for a text that is not drawn at all.
    """
    bare = "".join(lines_of(text)).replace(" ", "").replace("-", "")
    if rule.checks == "uic-number" and len(bare) == 11 and set(bare) <= set(digits):
        return f"{text}-{uic_check_digit(bare)}"
    if rule.checks == "container-code" and (shape := _CONTAINER.fullmatch(bare)) and not shape[1]:
        return f"{text} {container_check_digit(bare)}"
    return text


def _us(bare: str) -> list[Message]:
    if _US.fullmatch(bare):
        return []
    found = [message(sentences.NO_US_REGISTRATION)]
    figures = bare[:1] + "".join({"O": "0", "I": "1"}.get(sign, sign) for sign in bare[1:])
    if figures != bare and _US.fullmatch(figures):
        found.append(advice(sentences.MEANT, meant=figures, written=bare))
    return found


#: The forms that ``checks`` of a rule names.
_FORMS: dict[str, Callable[[str], list[Message]]] = {
    "us-registration": _us,
    "uic-number": _uic,
    "container-code": _container,
}

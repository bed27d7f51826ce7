"""Check digits of railway vehicle numbers and of container codes.

Each vehicle number with one wrong digit is detected. So is each container code, unless its remainder is 10, which
shares the digit 0 with a remainder of 0.
"""

from __future__ import annotations

from string import ascii_uppercase, digits

#: The value of each character of a container code: the letters skip the multiples of 11 (ISO 6346, annex A).
CONTAINER_VALUES = {
    **{digit: value for value, digit in enumerate(digits)},
    **dict(zip(ascii_uppercase, (value for value in range(10, 39) if value % 11), strict=True)),
}


def uic_check_digit(number: str) -> str:
    """Return the check digit of the first eleven digits of a railway vehicle number.

    The digits are taken by 2 and by 1 in turn, from the left, and the digits of the products are added up. The check
    digit makes the sum a multiple of ten (UIC 438, from memory). Raises ValueError for anything but eleven digits.

    >>> uic_check_digit("33844796100")
    '8'
    """
    if len(number) != 11 or not set(number) <= set(digits):
        raise ValueError("a vehicle number has eleven digits before its check digit")
    total = sum(sum(divmod(int(digit) * (1 if place % 2 else 2), 10)) for place, digit in enumerate(number))
    return str(-total % 10)


def container_sum(code: str) -> int:
    """Return the weighted sum of the ten characters before a container's check digit: values times 1, 2, 4 ...

    Raises ValueError for anything but four letters and six digits.

    >>> container_sum("CSQU305438")
    6185
    """
    if len(code) != 10 or not set(code[:4]) <= set(ascii_uppercase) or not set(code[4:]) <= set(digits):
        raise ValueError("a container code has four letters and six digits before its check digit")
    return sum(CONTAINER_VALUES[character] << place for place, character in enumerate(code))


def container_check_digit(code: str) -> str:
    """Return the check digit of the ten characters before it: the remainder by 11, and 0 for a remainder of 10.

    Raises ValueError as ``container_sum`` does.

    >>> container_check_digit("CSQU305438")
    '3'
    """
    return str(container_sum(code) % 11 % 10)

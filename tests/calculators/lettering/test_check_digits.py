"""Check digits against published examples, and by counting all single wrong digits and all swaps of neighbours."""

import pytest

from calculators.lettering.check_digits import container_check_digit, container_sum, uic_check_digit

#: Numbers spread over all that there are, by a multiplier that has no factor in common with their count.
VEHICLES = [f"{(number * 30_103_001_777) % 10**11:011}" for number in range(1, 400)]
CONTAINERS = [
    "".join(chr(65 + (number * step) % 26) for step in (7, 11, 17)) + "U" + f"{(number * 731_531) % 10**6:06}"
    for number in range(1, 400)
]


def swapped(text, place):
    return text[:place] + text[place + 1] + text[place] + text[place + 2 :]


def test_the_published_vehicle_number():
    # UIC 438, from memory: 33 84 4796 100-8.
    assert uic_check_digit("33844796100") == "8"


@pytest.mark.parametrize(("code", "total", "digit"), [("CSQU305438", 6185, "3"), ("MWCU605978", 7858, "4")])
def test_published_container_codes(code, total, digit):
    # ISO 6346, annex A, read in copies: sums and digits.
    assert (container_sum(code), container_check_digit(code)) == (total, digit)


def test_letters_skip_the_multiples_of_eleven():
    # ISO 6346, read in copies: A is 10, 11, 22 and 33 are skipped, Z is 38.
    values = {letter: container_sum(f"{letter}AAA000000") - container_sum("AAAA000000") + 10 for letter in "AKLUVZ"}
    assert values == {"A": 10, "K": 21, "L": 23, "U": 32, "V": 34, "Z": 38}


def test_each_single_wrong_digit_of_a_vehicle_number_is_detected():
    for number in VEHICLES:
        right = uic_check_digit(number)
        for place in range(11):
            for digit in set("0123456789") - {number[place]}:
                assert uic_check_digit(number[:place] + digit + number[place + 1 :]) != right


def test_swapped_neighbours_of_a_vehicle_number_are_detected_but_for_0_and_9():
    for number in VEHICLES:
        for place in range(10):
            one, other = number[place : place + 2]
            found = uic_check_digit(swapped(number, place)) != uic_check_digit(number)
            assert found == (one != other and {one, other} != {"0", "9"})


def test_each_single_wrong_digit_of_a_container_code_is_detected_unless_10_stands_for_0():
    undetected = set()
    for code in CONTAINERS:
        right = container_sum(code) % 11
        for place in range(4, 10):
            for digit in set("0123456789") - {code[place]}:
                other = code[:place] + digit + code[place + 1 :]
                assert container_sum(other) % 11 != right
                if container_check_digit(other) == container_check_digit(code):
                    undetected.add(frozenset((right, container_sum(other) % 11)))
    assert undetected == {frozenset((0, 10))}


def test_swapped_neighbours_of_a_container_code_are_detected_unless_10_stands_for_0():
    for code in CONTAINERS:
        for place in range(4, 9):
            if code[place] == code[place + 1]:
                continue
            one, other = (container_sum(each) % 11 for each in (code, swapped(code, place)))
            assert one != other
            assert (container_check_digit(code) == container_check_digit(swapped(code, place))) == (
                {one, other} == {0, 10}
            )


@pytest.mark.parametrize("wrong", ["", "3384479610", "338447961001", "3384479610X", "٣٣٨٤٤٧٩٦١٠٠"])
def test_what_is_no_vehicle_number_is_refused(wrong):
    with pytest.raises(ValueError, match="eleven digits"):
        uic_check_digit(wrong)


@pytest.mark.parametrize("wrong", ["", "CSQU30543", "CSQ1305438", "csqu305438", "CSQU30543٨"])
def test_what_is_no_container_code_is_refused(wrong):
    with pytest.raises(ValueError, match="four letters and six digits"):
        container_check_digit(wrong)

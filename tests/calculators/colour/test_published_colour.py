"""Colour against what is published: CIEDE2000, sRGB, Kubelka and Munk, Saunderson."""

import csv
from pathlib import Path

import pytest
from coloraide import Color
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.colour import srgb, white_layers
from calculators.colour.difference import delta_e

# G. Sharma, W. Wu and E. N. Dalal (2005), "The CIEDE2000 color-difference formula: implementation notes, supplementary
# test data, and mathematical observations", table 1: 34 pairs, to four decimals.
PAIRS = [
    tuple(map(float, list(row.values())[1:]))
    for row in csv.DictReader(
        (Path(__file__).parents[2] / "published" / "ciede2000_pairs.csv").read_text("utf-8").splitlines()
    )
]
LABS = st.tuples(st.floats(0, 100), st.floats(-110, 110), st.floats(-110, 110))


def test_all_pairs_are_there():
    assert len(PAIRS) == 34


@pytest.mark.parametrize("pair", PAIRS)
def test_ciede2000_of_the_published_pairs(pair):
    first, second, published = pair[:3], pair[3:6], pair[6]
    assert round(delta_e(first, second), 4) == published
    assert round(delta_e(second, first), 4) == published


@settings(max_examples=300, deadline=None)
@given(first=LABS, second=LABS)
def test_ciede2000_is_that_of_a_library(first, second):
    """coloraide, a maintained colour library in pure Python, directly on L*a*b* under D65."""
    ours = delta_e(first, second)
    theirs = Color("lab-d65", first).delta_e(Color("lab-d65", second), method="2000", space="lab-d65")
    assert ours == pytest.approx(theirs, abs=1e-9)
    assert ours == pytest.approx(delta_e(second, first), abs=1e-9)


@settings(max_examples=200, deadline=None)
@given(first=LABS)
def test_ciede2000_of_a_colour_and_itself_is_nothing(first):
    assert delta_e(first, first) == 0


@pytest.mark.parametrize(("level", "light"), [(10, 0.00303527), (50, 0.03189603), (128, 0.21586050), (200, 0.57758044)])
def test_srgb_decoded(level, light):
    """IEC 61966-2-1, as colour-science carries it."""
    assert srgb.decoded(level) == pytest.approx(light, abs=1e-8)


@pytest.mark.parametrize(("light", "value"), [(0.18, 0.46135613), (0.5, 0.73535698)])
def test_srgb_encoded(light, value):
    """IEC 61966-2-1, as colour-science carries it."""
    assert srgb.encoded(light) == pytest.approx(value, abs=1e-8)


def test_lab_of_srgb_red():
    """D65, as colour-science has it; its four-digit matrix leaves white off by up to 0.008, so 0.03 is allowed."""
    assert srgb.lab_of(srgb.light_of("#ff0000")) == pytest.approx((53.2371, 80.0901, 67.2033), abs=0.03)


def test_every_level_comes_back():
    for level in range(256):
        colour = f"#{level:02x}{255 - level:02x}{level:02x}"
        assert srgb.colour_of(srgb.light_of(colour)) == colour


@pytest.mark.parametrize(
    ("absorbs", "scatters", "thick", "over_0", "over_08", "ratio"),
    [
        # Kubelka and Munk (1931), worked out from the hyperbolic form.
        (0, 1, 1, 0.5, 0.83333333, 0.6),
        (0.1, 1, 1, 0.46103362, 0.71234729, 0.64720345),
        (0.1, 1, 5, 0.63786533, 0.64369485, 0.99094365),
        (1, 4, 0.25, 0.41138290, 0.57925288, 0.71019569),
    ],
)
def test_kubelka_munk(absorbs, scatters, thick, over_0, over_08, ratio):
    power, share = scatters * thick, absorbs / scatters
    assert white_layers.over_absorbing(0.0, power, share) == pytest.approx(over_0, abs=1e-8)
    assert white_layers.over_absorbing(0.8, power, share) == pytest.approx(over_08, abs=1e-8)
    assert white_layers.contrast_ratio(power, share) == pytest.approx(ratio, abs=1e-8)


@pytest.mark.parametrize(("share", "reflectance"), [(0.1, 0.64174243), (0.25, 0.5), (4, 0.10102051)])
def test_kubelka_munk_without_end(share, reflectance):
    """Kubelka and Munk (1931), R infinite; a layer of power 100 is as good as one without end."""
    assert white_layers.endless(share) == pytest.approx(reflectance, abs=1e-8)
    assert white_layers.over_absorbing(0.3, 100.0, share) == pytest.approx(reflectance, abs=1e-8)


@pytest.mark.parametrize(("ratio", "power"), [(0.95, 6.569179), (0.98, 11.721463), (0.99, 17.556171)])
def test_scattering_power_of_a_contrast_ratio(ratio, power):
    """Worked out from Kubelka and Munk with K = 0 over 0 and 0.80, to the six decimals that are given."""
    assert white_layers.scattering_power(ratio) == pytest.approx(power, abs=6e-7)


def test_saunderson():
    """k1 0.04, k2 0.6 (from memory): 0.5 gives 0.31428571."""
    assert white_layers.with_surface(0.5, 0.04, 0.6) == pytest.approx(0.31428571, abs=1e-8)


@given(ratio=st.floats(0, 0.999))
def test_a_ratio_comes_back_from_its_power(ratio):
    assert white_layers.contrast_ratio(white_layers.scattering_power(ratio)) == pytest.approx(ratio, abs=1e-12)


@given(inner=st.floats(0, 1), outside=st.floats(0, 0.2), inside=st.floats(0, 0.7))
def test_a_surface_is_taken_off_again(inner, outside, inside):
    measured = white_layers.with_surface(inner, outside, inside)
    assert white_layers.without_surface(measured, outside, inside) == pytest.approx(inner, abs=1e-12)


@pytest.mark.parametrize("ratio", [-0.01, 1.0, 1.5])
def test_an_invalid_contrast_ratio_is_refused(ratio):
    with pytest.raises(ValueError, match="between 0 and 1"):
        white_layers.scattering_power(ratio)


@given(backing=st.floats(0, 1), power=st.floats(0.001, 50), absorbs=st.floats(1e-9, 1e-7))
def test_barely_absorbing_equals_not_absorbing(backing, power, absorbs):
    assert white_layers.over_absorbing(backing, power, absorbs) == pytest.approx(
        white_layers.over(backing, power), abs=2e-5
    )

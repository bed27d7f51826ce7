"""Spectra from colours, against measured ones, and the properties of layers over them."""

import statistics
import warnings

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from builder import derive_colour
from calculators.colour import beyond, spectra, srgb
from calculators.colour.difference import delta_e
from calculators.colour.stack import PAPER, Ink, Scattering, ink_of, reflectance_over

COLOURS = st.from_regex(r"#[0-9a-f]{6}", fullmatch=True)
POWERS = st.floats(0, 30)
PER_EXAMPLE = settings(max_examples=80, deadline=None)


def spectrum_of(colour):
    return spectra.reflectance(srgb.light_of(colour))


def test_the_table_is_what_its_script_makes():
    assert derive_colour.OBSERVER.read_text("utf-8") == derive_colour.derived()


# -- Measured spectra -------------------------------------------------------------------------------


def quantile(values, share):
    return statistics.quantiles(values, n=100, method="inclusive")[round(share * 100) - 1]


@pytest.fixture(scope="module")
def checker():
    """The 24 reflectances "BabelColor Average" of colour-science 0.4.7, and how it
    sees a reflectance as linear sRGB.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour

        shape = colour.SpectralShape(380, 730, 10)
        patches = [each.copy().align(shape).values for each in colour.SDS_COLOURCHECKERS["BabelColor Average"].values()]
        observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape).values
        daylight = colour.SDS_ILLUMINANTS["D65"].copy().align(shape).values
        matrix = colour.RGB_COLOURSPACES["sRGB"].matrix_XYZ_to_RGB

    def seen(reflectance):
        xyz = (reflectance * daylight) @ observer / (daylight @ observer[:, 1])
        return tuple(map(float, matrix @ xyz))

    return patches, seen


@pytest.mark.parametrize(
    ("rounded", "median", "ninetieth", "worst", "share"),
    [(False, 0.34, 2.1, 7.0, 0.38), (True, 0.43, 2.1, 7.3, 0.45)],
    ids=["linear floats", "8 bits"],
)
def test_a_filter_over_a_colour(checker, rounded, median, ninetieth, worst, share):
    """All 24 x 24 pairs multiplied in their measured spectra are the truth; ours starts from their colours alone."""
    patches, seen = checker
    lights = [seen(each) for each in patches]
    if rounded:
        lights = [srgb.light_of(srgb.colour_of(each)) for each in lights]
    made = [spectra.reflectance(each) for each in lights]
    by_spectrum, by_light = [], []
    for first in range(24):
        for second in range(24):
            truth = srgb.lab_of(seen(patches[first] * patches[second]))
            over = reflectance_over(made[second], [Ink(made[first])])
            by_spectrum.append(delta_e(truth, srgb.lab_of(spectra.seen(over))))
            multiplied = tuple(map(float.__mul__, lights[first], lights[second]))
            by_light.append(delta_e(truth, srgb.lab_of(multiplied)))
    assert statistics.median(by_spectrum) <= median
    assert quantile(by_spectrum, 0.9) <= ninetieth
    assert max(by_spectrum) <= worst
    assert statistics.median(by_spectrum) <= share * statistics.median(by_light)


# -- From a colour and back -------------------------------------------------------------------------


@pytest.mark.parametrize("colour", ["#ffffff", "#000000"])
def test_white_and_black_are_exact(colour):
    assert srgb.colour_of(spectra.seen(spectrum_of(colour))) == colour
    assert len(set(spectrum_of(colour))) == 1


def test_white_is_one_in_every_channel():
    assert spectra.seen((1.0,) * spectra.COUNT) == pytest.approx((1, 1, 1), abs=1e-15)


@pytest.mark.parametrize("levels", [(0, 1, 254, 255), (0, 3, 17, 130), (255, 250, 200, 90)], ids=str)
def test_every_corner_of_srgb_has_its_spectrum(levels):
    for red in levels:
        for green in levels:
            for blue in levels:
                colour = f"#{red:02x}{green:02x}{blue:02x}"
                spectrum = spectrum_of(colour)
                assert min(spectrum) >= 1e-4 and max(spectrum) <= 1 - 1e-4
                assert srgb.colour_of(spectra.seen(spectrum)) == colour


@PER_EXAMPLE
@given(colour=COLOURS)
def test_a_colour_comes_back_from_its_spectrum(colour):
    spectrum = spectrum_of(colour)
    assert len(spectrum) == 36
    assert all(0 < each < 1 for each in spectrum)
    assert srgb.colour_of(spectra.seen(spectrum)) == colour


def test_impossible_light_is_refused():
    with pytest.raises(ValueError, match="no surface"):
        spectra.reflectance((3.0, -1.0, 0.2))


# -- Layers -----------------------------------------------------------------------------------------


@PER_EXAMPLE
@given(art=COLOURS, base=COLOURS, powers=st.lists(POWERS, max_size=5), absorbs=st.floats(0, 3))
def test_reflectance_stays_within_0_and_1(art, base, powers, absorbs):
    layers = [*(Scattering(each, absorbs) for each in powers), ink_of(art)]
    assert all(0 <= each <= 1 for each in reflectance_over(spectrum_of(base), layers))


@PER_EXAMPLE
@given(first=COLOURS, second=COLOURS, power=POWERS, more=POWERS)
def test_added_white_never_widens_the_difference_of_bases(first, second, power, more):
    bases = [spectrum_of(first), spectrum_of(second)]
    thin, thick = (
        [
            abs(one - other)
            for one, other in zip(*(reflectance_over(base, [Scattering(each)]) for base in bases), strict=True)
        ]
        for each in (power, power + more)
    )
    assert all(after <= before + 1e-15 for before, after in zip(thin, thick, strict=True))


@PER_EXAMPLE
@given(base=COLOURS, power=st.floats(0, 5), count=st.integers(1, 8), absorbs=st.sampled_from([0.0, 0.02, 0.5]))
def test_equal_layers_equal_one_of_multiplied_power(base, power, count, absorbs):
    one_by_one = reflectance_over(spectrum_of(base), [Scattering(power, absorbs)] * count)
    at_once = reflectance_over(spectrum_of(base), [Scattering(power * count, absorbs)])
    assert one_by_one == pytest.approx(at_once, abs=1e-12)


@PER_EXAMPLE
@given(base=COLOURS, art=COLOURS, powers=st.lists(POWERS, min_size=2, max_size=6), data=st.data())
def test_grouping_of_layers_does_not_matter(base, art, powers, data):
    cut = data.draw(st.integers(0, len(powers)))
    layers = [*map(Scattering, powers), ink_of(art)]
    beneath = reflectance_over(spectrum_of(base), layers[:cut])
    assert reflectance_over(beneath, layers[cut:]) == reflectance_over(spectrum_of(base), layers)
    grouped = [Scattering(sum(powers[:cut])), Scattering(sum(powers[cut:])), layers[-1]]
    assert reflectance_over(spectrum_of(base), grouped) == pytest.approx(
        reflectance_over(spectrum_of(base), layers), abs=1e-12
    )


@PER_EXAMPLE
@given(art=COLOURS)
def test_artwork_on_its_own_paper_is_unchanged(art):
    """Colours near the limit of red are tested together with those beyond it."""
    assume(int(art[1:3], 16) in {0, *range(beyond.NEAR_0, 256 - beyond.NEAR_255), 255})
    seen = spectra.seen(reflectance_over(PAPER, [ink_of(art)]))
    assert srgb.colour_of(seen) == art


@given(base=COLOURS)
def test_no_power_is_no_layer(base):
    assert reflectance_over(spectrum_of(base), [Scattering(0.0)]) == spectrum_of(base)

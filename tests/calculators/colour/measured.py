"""Reflectances that were measured, and dyes by Beer and Lambert, as colour-science 0.4.7 sees them in daylight."""

from __future__ import annotations

import warnings

import numpy

from calculators.colour import srgb

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it warns about plotting libraries, which are not needed
    import colour
    from colour.quality.cfi2017 import load_TCS_CIE2017
    from colour.quality.datasets import SDS_TCS

SHAPE = colour.SpectralShape(380, 730, 10)
NM = numpy.arange(380, 731, 10.0)
_OBSERVER = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(SHAPE).values
_DAYLIGHT = colour.SDS_ILLUMINANTS["D65"].copy().align(SHAPE).values
_SPACE = colour.RGB_COLOURSPACES["sRGB"]


def reflectances(name: str) -> numpy.ndarray:
    """Return a row of 36 bands for each sample of a set, by its name in colour-science."""
    if name == "CIE 2017":
        return load_TCS_CIE2017(colour.SpectralShape(380, 780, 5)).copy().align(SHAPE).values.T
    samples = SDS_TCS[name] if name in SDS_TCS else colour.SDS_COLOURCHECKERS[name]
    return numpy.array([each.copy().align(SHAPE).values for each in samples.values()])


def light(spectra: numpy.ndarray) -> numpy.ndarray:
    """Return the linear sRGB light of reflectances, which may lie beyond what a screen shows."""
    return (spectra * _DAYLIGHT) @ _OBSERVER / (_DAYLIGHT @ _OBSERVER[:, 1]) @ _SPACE.matrix_XYZ_to_RGB.T


def differences(first: numpy.ndarray, second: numpy.ndarray) -> numpy.ndarray:
    """Return CIEDE2000 between linear lights, by colour-science."""
    labs = (colour.XYZ_to_Lab(each @ numpy.array(srgb.TO_XYZ).T, _SPACE.whitepoint) for each in (first, second))
    return colour.difference.delta_E_CIE2000(*labs)


def colours(lights: numpy.ndarray) -> list[str]:
    """Return each light as a screen shows it: clipped to 0 to 1, in 8 bits."""
    return [srgb.colour_of(tuple(map(float, each))) for each in lights]


# -- Inks ---------------------------------------------------------------------------------------------


def band(middle: float, width: float) -> numpy.ndarray:
    """Return a bell of height 1 over wavelengths, ``width`` nm across at half its height."""
    return numpy.exp2(-4 * ((NM - middle) / width) ** 2)


def energy_band(middle: float, width: float) -> numpy.ndarray:
    """Return the same over wave numbers, with the same width about its middle."""
    return numpy.exp2(-4 * ((1e7 / NM - 1e7 / middle) * middle**2 / width / 1e7) ** 2)


#: Absorption of cyan, magenta and yellow dyes at a density of 1. These are plausible shapes, not real dyes.
DYES = {
    "plain": (band(645, 150), band(545, 100), band(440, 100)),
    "by energy": (energy_band(640, 130), energy_band(545, 100), energy_band(435, 95)),
    "with side bands": (
        band(635, 130) + 0.25 * band(585, 60) + 0.12 * band(430, 90) + 0.06,
        band(550, 80) + 0.35 * band(515, 50) + 0.25 * band(430, 90) + 0.02,
        band(435, 110) + 0.04 * band(550, 90) + 0.01,
    ),
    # The two below were held out while the constants of ``beyond`` were tuned.
    "wide": (energy_band(655, 170), energy_band(548, 115), energy_band(445, 100)),
    "of two bands": (
        0.8 * band(640, 120) + 0.35 * band(600, 160) + 0.05 * band(420, 100),
        0.8 * band(555, 70) + 0.4 * band(520, 90) + 0.1 * band(430, 80),
        0.95 * band(430, 90) + 0.15 * band(480, 60),
    ),
}
#: Cyan, magenta and yellow alone, in pairs, and in pairs with half of one.
MIXES = (
    (1, 0, 0),
    (0, 1, 0),
    (0, 0, 1),
    (1, 1, 0),
    (1, 0, 1),
    (0, 1, 1),
    (1, 0.5, 0),
    (1, 0, 0.5),
    (0, 1, 0.5),
    (0.5, 1, 0),
    (0.5, 0, 1),
    (0, 0.5, 1),
)
DENSITIES = (0.3, 0.5, 0.7, 0.9, 1.1, 1.3, 1.5)


def inks_beyond(dyes: tuple[numpy.ndarray, ...], floor: float) -> numpy.ndarray:
    """Return what inks let through in two passes, by Beer and Lambert down to a
    floor: those that no screen can show.
    """
    absorbed = [density * numpy.array(mix) @ numpy.array(dyes) for mix in MIXES for density in DENSITIES]
    passes = floor + (1 - floor) * 10 ** -numpy.array(absorbed)
    lights = light(passes)
    return passes[((lights < -1e-9) | (lights > 1 + 1e-9)).any(1)]

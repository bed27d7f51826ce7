"""The appearance of ink on film over white layers over paint."""

from __future__ import annotations

from collections.abc import Iterable

from calculators.colour import spectra, white_layers
from calculators.colour.beyond import light_of_ink
from calculators.colour.spectra import Spectrum
from calculators.colour.srgb import levels_of

#: The bright white paper on which artwork looks as it is meant.
PAPER = spectra.reflectance((1.0, 1.0, 1.0))


# A browser takes a millisecond to define a dataclass or a named tuple, and a first colour waits for that.
class Scattering:
    """A white layer of scattering ``power``; ``absorbs`` is its K/S, 0 for white."""

    def __init__(self, power: float, absorbs: float = 0.0) -> None:
        self.power = power
        self.absorbs = absorbs

    def over(self, backing: Spectrum) -> Spectrum:
        """Return the reflectance of this layer over ``backing``."""
        if self.absorbs == 0:  # inlined white_layers.over, since most of the time is spent here
            power = self.power
            return tuple([(power * (1 - each) + each) / (power * (1 - each) + 1) for each in backing])
        return tuple(white_layers.over_absorbing(each, self.power, self.absorbs) for each in backing)


class Ink:
    """A filter: what it lets through in two ``passes``, down and up again, by band."""

    def __init__(self, passes: Spectrum) -> None:
        self.passes = passes

    def over(self, backing: Spectrum) -> Spectrum:
        """Return the reflectance of this ink over ``backing``."""
        return tuple(map(float.__mul__, self.passes, backing))


def ink_of(colour: str) -> Ink:
    """Return the ink that looks like ``colour`` (#rrggbb) on bright white paper: R_art / R_paper, band by band.

    An ink outside the screen's gamut is stronger than its colour: see ``beyond``.
    """
    artwork = spectra.reflectance(light_of_ink(levels_of(colour)))
    return Ink(tuple(each / white for each, white in zip(artwork, PAPER, strict=True)))


def reflectance_over(base: Spectrum, layers: Iterable[Scattering | Ink]) -> Spectrum:
    """Return the reflectance of ``layers`` over ``base``; the first layer lies on it.

    >>> [round(each, 6) for each in set(reflectance_over((0.0,) * 36, [Scattering(1.0)]))]
    [0.5]
    """
    for layer in layers:
        base = layer.over(base)
    return base

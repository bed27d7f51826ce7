"""One colour of the artwork over two paints: its appearance, and its differences."""

from __future__ import annotations

from calculators.colour import spectra, srgb
from calculators.colour.difference import delta_e
from calculators.colour.stack import PAPER, Ink, Scattering, ink_of, reflectance_over


# No dataclasses, for the reason in stack.py.
class Side:
    """What is seen over one paint: its linear light, its shift from what was meant,
    its difference from the paint around.
    """

    def __init__(self, light: srgb.Triple, lab: srgb.Triple, shift: float, contrast: float, lightness: float) -> None:
        self.light = light
        self.lab = lab
        self.shift = shift
        self.contrast = contrast
        self.lightness = lightness

    @property
    def colour(self) -> str:
        """The visible colour, as #rrggbb."""
        return srgb.colour_of(self.light)


class Seen:
    """Both sides, and the CIEDE2000 difference between them."""

    def __init__(self, sides: tuple[Side, Side], border: float) -> None:
        self.sides = sides
        self.border = border


class Marking:
    """A flat colour of the artwork as ink over two paints, all as #rrggbb; with any white between."""

    def __init__(self, artwork: str, base_a: str, base_b: str) -> None:
        self._ink = ink_of(artwork)
        self._meant = _lab(reflectance_over(PAPER, [self._ink]))
        self._bases = [spectra.reflectance(srgb.light_of(each)) for each in (base_a, base_b)]
        self._paints = [_lab(each) for each in self._bases]

    def over_white(self, power: float) -> Seen:
        """Return the appearance with white of total scattering ``power``, film included, between ink and paint."""
        layers: list[Scattering | Ink] = [Scattering(power), self._ink]
        first, second = (
            self._side(spectra.seen(reflectance_over(base, layers)), paint)
            for base, paint in zip(self._bases, self._paints, strict=True)
        )
        return Seen((first, second), delta_e(first.lab, second.lab))

    @property
    def as_meant(self) -> tuple[Side, Side]:
        """Both sides as if the colour looked as intended, for the contrast that even this would have."""
        light = spectra.seen(reflectance_over(PAPER, [self._ink]))
        first, second = (self._side(light, paint) for paint in self._paints)
        return first, second

    def _side(self, light: srgb.Triple, paint: srgb.Triple) -> Side:
        lab = srgb.lab_of(light)
        return Side(light, lab, delta_e(self._meant, lab), delta_e(lab, paint), abs(lab[0] - paint[0]))


def _lab(spectrum: spectra.Spectrum) -> srgb.Triple:
    return srgb.lab_of(spectra.seen(spectrum))

"""Which white is meant?"""

from calculators.artwork.whites import areas, meaning

__all__ = ["areas", "meaning"]

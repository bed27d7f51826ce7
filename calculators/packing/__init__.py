"""Rectangles on a strip: where each lies, so that little of the strip is used. Nothing here knows of markings."""

from calculators.packing.strip import Box, Placed, pack

__all__ = ["NEEDS", "Box", "Placed", "pack"]

#: The library that packs too: a calculator that packs declares it among its needs.
NEEDS = ("rectpack",)

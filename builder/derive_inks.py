"""The table of inks that pictures are rendered with: ``python -m builder.derive_inks``.

Writes ``calculators/colour/inks.bin``: what the ink of each of 18 x 18 x 18 colours lets through in two passes, as
shares of eight curves that all inks have in common (a singular value decomposition, weighted by what an eye sees). A
spectrum takes milliseconds in the page, and a photograph asks for tens of thousands. A test compares the file with
freshly calculated spectra. Needs numpy, which is in the test group.

The file, little-endian: eight 32-bit floats, the value of share 32767 of each curve; 8 x 36 floats, the curves; then
for each curve the 5832 shares as 16-bit steps from the one before, first all low bytes, then all high ones.
"""

from __future__ import annotations

from pathlib import Path

from calculators.colour import inks, spectra
from calculators.colour.beyond import light_of_ink
from calculators.colour.stack import PAPER

INKS = Path(inks.__file__).parent / inks.FILE


def derived() -> bytes:
    """Return the bytes of the file."""
    import numpy

    levels = range(0, inks.STEP * inks.SIDE, inks.STEP)
    colours = ((red, green, blue) for red in levels for green in levels for blue in levels)
    passes = numpy.array([spectra.reflectance(light_of_ink(each)) for each in colours]) / numpy.array(PAPER)
    seen = numpy.sqrt(numpy.abs(numpy.array(spectra.WEIGHTS)).sum(0) + 1e-3)
    *_, directions = numpy.linalg.svd(passes * seen, full_matrices=False)
    curves = directions[: inks.CURVES] / seen
    shares = (passes * seen) @ directions[: inks.CURVES].T
    most = numpy.abs(shares).max(0)
    steps = numpy.diff(
        numpy.round(shares / most * inks.WHOLE).astype("<i2"), axis=0, prepend=numpy.zeros((1, inks.CURVES), "<i2")
    )
    planes = numpy.ascontiguousarray(steps.astype("<i2").T).view("u1").reshape(-1, 2).T
    packed: bytes = (
        most.astype("<f4").tobytes() + curves.astype("<f4").tobytes() + numpy.ascontiguousarray(planes).tobytes()
    )
    return packed


if __name__ == "__main__":
    INKS.write_bytes(derived())

"""The table of daylight and observer that the colour calculators stand on: ``python -m builder.derive_colour``.

Writes ``calculators/colour/observer.py`` from CIE standard illuminant D65 and the CIE 1931 2-degree standard
observer as the package colour-science carries them. A test makes the file again and holds it equal.
"""

from __future__ import annotations

import warnings
from pathlib import Path

OBSERVER = Path(__file__).resolve().parents[1] / "calculators" / "colour" / "observer.py"

FIRST_NM, LAST_NM, STEP_NM = 380, 730, 10

_HEAD = '''"""CIE D65 seen by the CIE 1931 2-degree observer, in {count} bands.

Made by ``python -m builder.derive_colour``: do not edit.

Source: CIE 15, Colorimetry, table of standard illuminant D65 and ISO/CIE 11664-1, colour-matching functions, as carried
by colour-science {version}, taken every {step} nm and multiplied band by band.
"""

#: The middle of each band, in nm.
BANDS_NM = tuple(range({first}, {last} + 1, {step}))

#: A line a band: D65 times x-bar, y-bar and z-bar, over the sum of D65 times y-bar.
DAYLIGHT_XYZ = (
'''


def derived() -> str:
    """Return the text of the module. Raises ``ImportError`` without colour-science, which is in the test group."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it warns about plotting libraries, which are not needed
        import colour

        shape = colour.SpectralShape(FIRST_NM, LAST_NM, STEP_NM)
        observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape).values
        daylight = colour.SDS_ILLUMINANTS["D65"].copy().align(shape).values
    weights = [[float(part) * float(light) for part in row] for row, light in zip(observer, daylight, strict=True)]
    whole = sum(row[1] for row in weights)
    head = _HEAD.format(count=len(weights), version=colour.__version__, first=FIRST_NM, last=LAST_NM, step=STEP_NM)
    lines = ("    (" + ", ".join(f"{part / whole:.10f}" for part in row) + "),\n" for row in weights)
    return f"{head}{''.join(lines)})\n"


if __name__ == "__main__":
    OBSERVER.write_text(derived(), "utf-8")

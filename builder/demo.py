"""The demonstration artwork: its lettering, and rasters drawn from its outlines: ``python -m builder.demo``.

The outlines in content/demo/ are the drawings, of which the lettering comes from the calculators. The rasters made of
them are committed beside them, so that building the site needs no drawing library.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path

from PIL import Image

from builder.demo_lettering import drawings
from calculators.shapes.homography import homography

DEMO = Path(__file__).resolve().parent.parent / "content" / "demo"

CREST_PX, TIMES = 200, 3
#: The markings on the panel, in its pixels: file, left, top, width.
MARKINGS = (("crest-left.svg", 465, 280, 300), ("fleet-number.svg", 808, 548, 155))
#: Where the photograph, taken from the front and a little below, shows the corners of the drawing.
SLANTED_SIZE = (1600, 1200)
DRAWING_CORNERS = ((0, 0), (1200, 0), (1200, 900), (0, 900))
SLANTED_CORNERS = ((96, 40), (1530, 232), (1496, 1010), (60, 1172))


def drawn(svg: str, width_px: int) -> Image.Image:
    """Return outlines as pixels with alpha, ``width_px`` wide."""
    import resvg_py

    # Sized in pixels first: scaled from millimetres, the drawing would miss the last pixel by a fraction.
    data = resvg_py.svg_to_bytes(svg_string=_sized(svg, width_px), dpi=96, skip_system_fonts=True)
    return Image.open(io.BytesIO(data)).convert("RGBA")


def crest() -> Image.Image:
    """Return the crest as a small raster with soft edges and a transparent ground."""
    return drawn(_outlines("crest-left.svg"), CREST_PX)


def crest_enlarged() -> Image.Image:
    """Return the small crest enlarged by bicubic interpolation: more pixels, no more detail."""
    return crest().resize((CREST_PX * TIMES, CREST_PX * TIMES), Image.Resampling.BICUBIC)


def panel() -> Image.Image:
    """Return the drawing of the railcar's side with its markings, 2 mm to the pixel."""
    placed = "".join(_placed(*marking) for marking in MARKINGS)
    return drawn(_outlines("railcar-panel.svg").replace("</svg>", f"{placed}</svg>"), 1200).convert("RGB")


def slanted() -> Image.Image:
    """Return the drawing as a camera sees it at a slant."""
    back = homography(SLANTED_CORNERS, DRAWING_CORNERS)
    coefficients = [part / back[2][2] for row in back for part in row][:8]
    return panel().transform(
        SLANTED_SIZE, Image.Transform.PERSPECTIVE, coefficients, Image.Resampling.BICUBIC, fillcolor="#8a9496"
    )


#: Every raster by its file.
RASTERS: dict[str, Callable[[], Image.Image]] = {
    "crest-200px.png": crest,
    "crest-600px-enlarged.png": crest_enlarged,
    "railcar-panel.png": panel,
    "railcar-slanted.jpg": slanted,
}


def main() -> None:
    """Write all lettering and every raster into content/demo/."""
    for name, svg in drawings().items():
        (DEMO / name).write_text(svg, "utf-8")
    for name, made in RASTERS.items():
        how = {"quality": 90} if name.endswith(".jpg") else {"optimize": True}
        made().save(DEMO / name, **how)


def _outlines(name: str) -> str:
    return (DEMO / name).read_text("utf-8")


def _sized(svg: str, width: float) -> str:
    """Return a drawing scaled to ``width``, in the unit of its container."""
    box = re.search(r'viewBox="([^"]+)"', svg)
    if not box:
        raise ValueError("the drawing has no viewBox")
    *_, own_width, own_height = map(float, box[1].split())
    size = f'width="{width}" height="{width * own_height / own_width}"'
    return re.sub(r'width="[^"]+" height="[^"]+"', size, svg, count=1)


def _placed(name: str, left: float, top: float, width: float) -> str:
    """Return a drawing as a part of another."""
    return _sized(_outlines(name), width).replace("<svg", f'<svg x="{left}" y="{top}"', 1)


if __name__ == "__main__":
    main()

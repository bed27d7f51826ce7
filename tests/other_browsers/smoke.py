"""What every calculator must do in every browser. Add a new calculator to CALCULATORS."""

from __future__ import annotations

import hashlib
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from calculators.lettering import SANS
from calculators.messages import PAGE
from tests.hostile.made import noise, saved
from tests.same_numbers import COLOURS_ASKED, check_same

#: Milliseconds for any one wait. Python starts in a minute at worst where the browser's compiler is slow.
WAIT_MS = 120_000
#: The picture for file fields: its size, and a lossless file of it.
WIDTH, HEIGHT = 30, 20


@dataclass(frozen=True)
class Smoke:
    """A page, a text to type, and the expected result; ``fills`` is what the picture then fills into a field.

    The ``result`` of a picture, if any, is checked after choosing the picture.
    """

    path: str
    field: str
    types: str
    result: str
    shows: str
    picture: str = ""
    fills: tuple[str, str] | None = None
    picture_shows: tuple[str, str] | None = None


CALCULATORS = [
    # 870 / 43.5; the marking is 300 px, the known length 750 px.
    Smoke("size/scale-size/", "full_size_mm", "870", "model_size_mm", "20.00"),
    Smoke("size/drawing-size/", "known_mm", "3000", "full_size_mm", "1200.0"),
    # The crest of the worked example is as high as it is wide.
    Smoke("artwork/picture-check/", "width_mm", "20", "printed_height_mm", "20.00"),
    # The requested number of colours; with every white of the crest as a hole, no white is wanted.
    Smoke("artwork/clean-picture/", "colours", "3", "colour_count", "3"),
    Smoke("artwork/white-areas/", "marks", ", ".join(f"{area} hole" for area in range(3, 11)), "wanted_mm2", "0.0"),
    # The crest of the worked example is as high as it is wide.
    Smoke("artwork/trace/", "width_mm", "20", "height_mm", "20.00"),
    # All on one paint: there is no border to hide, and one coat suffices.
    Smoke("underlay/underlay/", "border_percent", "0", "layers_needed", "1"),
    # Both paints are the same, so there is no border.
    Smoke("underlay/seen-colour/", "base_a", "dark red", "border_delta_e", "0.0"),
    # 200 px on 2 in. Its picture comes late, since calculators that look at the job's picture would take it over.
    Smoke("artwork/resolution/", "width_mm", "50.8", "printed_ppi", "100", "picture", ("width_px", str(WIDTH))),
    # Any picture will do to see that pixels come whole: the hash is that of the bytes that were encoded.
    Smoke(
        "artwork/picture-pixels/",
        "",
        "",
        "",
        "",
        "picture",
        picture_shows=("rgba_sha256", hashlib.sha256(noise(WIDTH * HEIGHT * 4, "RGBA")).hexdigest()),
    ),
]
#: What is asked without a page: colours, and a series of texts in a font of the site, whose late part unpacks it.
ASKED = [
    *COLOURS_ASKED,
    {
        "do": "answer",
        "calculator": "lettering",
        "inputs": {
            "draw": "series",
            "series": "12-19",
            "letters": SANS,
            "outline_mm": "0.2",
            "second_outline_mm": "0.2",
            "shadow_right_mm": "0.3",
        },
    },
]


def task(url: str, folder: Path) -> dict[str, Any]:
    """Return what a browser is to do, as JSON: its picture is written to ``folder``."""
    picture = folder / "crest.png"
    picture.write_bytes(saved("RGBA", (WIDTH, HEIGHT), "PNG"))
    return {
        "url": url,
        "calculators": [asdict(each) for each in CALCULATORS],
        "picture": str(picture),
        "wait_ms": WAIT_MS,
        "asked": ASKED,
    }


def check(report: dict[str, Any]) -> None:
    """Assert that a browser did all of it: ``report`` is {"pages": {path: …}, "offline": [state, words],
    "results": [of what was asked in so many words], "errors": […]}.
    """
    assert not report["errors"], report["errors"]
    check_same(ASKED, report["results"])
    for each in CALCULATORS:
        came = report["pages"][each.path]
        wanted = {"state": "answered", "problems": []}
        if each.result:
            wanted["shown"] = each.shows
        if each.picture:
            wanted["name"] = "crest.png"
        if each.fills:
            wanted["filled"] = each.fills[1]
        if each.picture_shows:
            wanted["picture_shown"] = each.picture_shows[1]
        assert came == wanted, each.path
    state, words = report["offline"]
    assert state in ("ready", "unavailable")
    assert words == PAGE[f"offline_{state}"]

"""The demonstration job, of the railcar and the launch: the worked example of what is about a whole job.

In a checkout its drawings are read from ``content/demo``. In the wheel that the page runs, the builder has put the job
beside this module as ``whole.py`` writes it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from hashlib import sha256

from calculators import packaged
from calculators.jobs.model import (
    FULL_SIZE,
    MIRRORED,
    ON_MODEL,
    OUTLINES,
    PICTURE,
    SAME,
    Available,
    Job,
    Marking,
    Model,
    Paint,
    Partner,
    SharedFile,
    SharedText,
    StoredFile,
)
from calculators.jobs.whole import Whole, read_whole, whole_bytes

PACKED = "jobs/demo_job.bin"
_SOURCES = "../content/demo"
_MEDIA = {"svg": "image/svg+xml", "png": "image/png"}

#: White letters on a coloured hull: the hull's colour is printed round them.
BODY_COLOUR = "white-film-body-colour"

MODELS = (
    Model(
        id="railcar-12",
        name="Railcar 12",
        scale="1:43.5",
        paints=(
            Paint(area="Above the waist", colour="#efe4c4", kind="paint-acrylic-water"),
            Paint(area="Below the waist", colour="#7a2232", kind="paint-acrylic-water"),
        ),
        seal="clear-acrylic-water",
        clear="final-matt-water",
    ),
    Model(
        id="teasel",
        name="Launch Teasel",
        scale="1:35",
        paints=(Paint(area="Hull", colour="#1f3b4d", kind="paint-acrylic-water"),),
        seal="clear-acrylic-water",
        clear="final-matt-water",
    ),
)


@dataclass(frozen=True)
class _Drawn:
    """A marking by its drawing in content/demo/. ``other`` is what its partner on the other side is, if it has one."""

    id: str
    name: str
    file: str
    width: str
    model: str
    place: str
    paints: tuple[str, ...]
    other: str = ""
    size: str = ON_MODEL
    copies: int = 1
    spares: int = 1
    film: str = "clear"
    way: str = ""
    raster: str = ""


#: Widths are those of the drawings: at the size of the model, or of the real thing where the drawing names that.
DRAWN = (
    _Drawn(
        "crest",
        "Crest",
        "crest-left.svg",
        "600 mm",
        "railcar-12",
        "On the waist band",
        ("Above the waist", "Below the waist"),
        MIRRORED,
        FULL_SIZE,
        raster="crest-200px.png",
    ),
    _Drawn(
        "warning-band",
        "Warning band",
        "warning-band-left.svg",
        "2784 mm",
        "railcar-12",
        "Below the windows",
        ("Above the waist",),
        MIRRORED,
        FULL_SIZE,
    ),
    _Drawn(
        "fleet-number",
        "Fleet number",
        "fleet-number.svg",
        "7.1 mm",
        "railcar-12",
        "Beside the door",
        ("Below the waist",),
        SAME,
        spares=2,
        film="white",
    ),
    _Drawn(
        "lining",
        "Lining",
        "lining-left.svg",
        "96 mm",
        "railcar-12",
        "Round the curved front",
        ("Below the waist",),
        MIRRORED,
    ),
    _Drawn(
        "door-notices",
        "Door notices",
        "door-notices.svg",
        "46.4 mm",
        "railcar-12",
        "In a row beside the doors",
        ("Above the waist",),
        SAME,
        spares=2,
    ),
    _Drawn(
        "hull-number",
        "Hull number",
        "teasel-hull-number.svg",
        "21.9 mm",
        "teasel",
        "Bow",
        ("Hull",),
        SAME,
        film="white",
        way=BODY_COLOUR,
    ),
    _Drawn(
        "load-line-port",
        "Load line, port",
        "teasel-load-line-port.svg",
        "30.8 mm",
        "teasel",
        "Amidships",
        ("Hull",),
        film="white",
        way=BODY_COLOUR,
    ),
    _Drawn(
        "load-line-starboard",
        "Load line, starboard",
        "teasel-load-line-starboard.svg",
        "30.8 mm",
        "teasel",
        "Amidships",
        ("Hull",),
        film="white",
        way=BODY_COLOUR,
    ),
    _Drawn(
        "draught-figures",
        "Draught figures",
        "teasel-draught-figures.svg",
        "3.7 mm",
        "teasel",
        "Bow and stern",
        ("Hull",),
        SAME,
        copies=2,
        film="white",
        way=BODY_COLOUR,
    ),
)


@cache
def demo_job() -> Whole:
    """Return the demonstration job with its files."""
    packed = packaged.read(PACKED)
    if packed is not None:
        return read_whole(packed, PACKED)
    files: dict[str, bytes] = {}
    markings: list[Marking] = []
    for drawn in DRAWN:
        shared = {"outlines": SharedFile(file=_stored(drawn.file, files), at=1)}
        if drawn.raster:
            # The later one counts: the drawing has strokes, which the calculators of artwork do not read.
            shared["picture"] = SharedFile(file=_stored(drawn.raster, files), at=2)
        markings.append(_marking(drawn, shared))
        if drawn.other:
            partner = Partner(of=drawn.id, how=drawn.other)
            markings.append(
                Marking(id=f"{drawn.id}-right", name=f"{drawn.name}, right", place=drawn.place, partner=partner)
            )
    job = Job(
        revision=1,
        name="Rowanskerry Light Railway",
        note="Railcar 12 at 1:43.5 and the launch Teasel at 1:35. Both are invented.",
        models=MODELS,
        available=Available(
            printers=("inkjet-pigment",),
            films=("clear", "white"),
            whites=("white-paint-spray",),
            viewing_distance="300 mm",
        ),
        markings=tuple(markings),
    )
    return Whole(job, files)


def compiled() -> bytes:
    """Return the job as the file that the builder packs into the wheel."""
    return whole_bytes(demo_job())


def _marking(drawn: _Drawn, files: dict[str, SharedFile]) -> Marking:
    white = "white-paint-spray" if drawn.film == "clear" else ""
    return Marking(
        id=drawn.id,
        name=f"{drawn.name}, left" if drawn.other else drawn.name,
        model=drawn.model,
        place=drawn.place,
        kind=PICTURE if drawn.raster else OUTLINES,
        width=drawn.width,
        size=drawn.size,
        copies=drawn.copies,
        spares=drawn.spares,
        paints=drawn.paints,
        way=drawn.way,
        film=drawn.film,
        printer="inkjet-pigment",
        white=white,
        values={"line": SharedText(text="mixed")},
        files=files,
    )


def _stored(name: str, files: dict[str, bytes]) -> StoredFile:
    data = packaged.read(f"{_SOURCES}/{name}")
    if data is None:
        raise FileNotFoundError(name)
    hash = sha256(data).hexdigest()
    files[hash] = data
    return StoredFile(hash=hash, name=name, media=_MEDIA[name.rpartition(".")[2]], size=len(data))

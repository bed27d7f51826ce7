"""Jobs for tests: one of every part, and any that the declarations allow."""

from __future__ import annotations

import dataclasses
from hashlib import sha256

from hypothesis import strategies as st

from calculators.jobs.model import (
    Available,
    Bench,
    Entry,
    Job,
    Marking,
    Model,
    Paint,
    Partner,
    SeriesRow,
    SharedFile,
    SharedText,
    StoredFile,
)
from tests.conftest import ROOT

FORMAT_2 = ROOT / "tests" / "jobs" / "format-2"
CREST = (ROOT / "content" / "demo" / "crest-200px.png").read_bytes()
CREST_FILE = StoredFile(hash=sha256(CREST).hexdigest(), name="crest.png", media="image/png", size=len(CREST))

JOB = Job(
    revision=4,
    name="Rowanskerry",
    note="Two sides,\nand a door.",
    models=(
        Model(
            id="railcar",
            name="Railcar 12",
            scale="1:43.5",
            paints=(Paint(area="Above", colour="#efe4c4"), Paint(area="Below", colour="#7a2232")),
        ),
    ),
    available=Available(printers=("laser",), films=("clear", "white"), viewing_distance="30 cm"),
    markings=(
        Marking(
            id="crest",
            name="Crest, left",
            model="railcar",
            kind="picture",
            width="14 mm",
            paints=("Above", "Below"),
            values={"line": SharedText(text="solid", origin="resolution")},
            files={"picture": SharedFile(file=CREST_FILE, origin="resolution", at=1)},
            calculators={"underlay": Entry(inputs={"markings": "2"}, files={"picture": CREST_FILE})},
        ),
        Marking(id="crest-right", name="Crest, right", partner=Partner(of="crest", how="mirrored")),
        Marking(
            id="numbers",
            name="Numbers",
            kind="text",
            rows=(SeriesRow(text="12"), SeriesRow(text="13", copies=2, bench=Bench(printed=1))),
        ),
    ),
)

NAMES = st.text(st.characters(exclude_categories=["C", "Z"], include_characters=" "), min_size=1, max_size=30).filter(
    str.strip
)
CELLS = st.builds(str.__add__, st.sampled_from(["", "=", "+", "-", "@", "'", "'=", "''", '"', ",", ";"]), NAMES)
COUNTS = st.integers(0, 1000)
BENCHES = st.builds(Bench, printed=COUNTS, sealed=COUNTS, on_model=COUNTS, spoiled=COUNTS)
WIDTHS = st.sampled_from(["", "14 mm", "12,5 mm", "0.6 in", "1'6\"", "½ in", " 3 cm", "1 250,5 mm"])
IDS = st.from_regex(r"[a-z0-9][a-z0-9-]{0,39}", fullmatch=True)
AREAS = CELLS.map(lambda text: text.replace("|", "").strip()).filter(bool)
PARTNERS = st.builds(
    Partner, of=IDS, how=st.sampled_from(["same", "mirrored", "mirrored-but-text"]), follows=st.booleans()
)

LISTED = st.builds(
    Marking,
    id=IDS,
    name=CELLS,
    model=st.just("") | IDS,
    place=st.just("") | CELLS,
    kind=st.sampled_from(["", "picture", "outlines", "text"]),
    width=WIDTHS,
    size=st.sampled_from(["on-model", "full-size"]),
    width_of=st.sampled_from(["own", "with-margins"]),
    copies=COUNTS,
    spares=COUNTS,
    rows=st.lists(st.builds(SeriesRow, text=CELLS, copies=COUNTS, bench=BENCHES), max_size=3).map(tuple),
    partner=st.none() | PARTNERS,
    paints=st.lists(AREAS, max_size=3).map(tuple),
    film=st.sampled_from(["", "clear", "white"]),
    bench=BENCHES,
)


def many(count: int) -> Job:
    """Return a job with so many markings of different widths, all with the crest."""
    crest = dataclasses.replace(JOB.markings[0], calculators={})
    markings = [
        dataclasses.replace(crest, id=f"m-{at}", name=f"Marking {at}", width=f"{5 + at / 10} mm") for at in range(count)
    ]
    return dataclasses.replace(JOB, markings=tuple(markings))

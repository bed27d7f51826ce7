"""A small tree of tables, in order as it stands, for tests to put mistakes into."""

from pathlib import Path

from builder.check import Mistake, check
from calculators.tables import TABLES

SOURCES = """\
- id: iso-216
  title: "Trimmed sizes"
  publisher: Standards body
  year: 2007
  read: copy
- id: hearsay
  title: "A book remembered"
  publisher: Somebody
  year: 1990
  read: memory
"""
PAPERS = """\
- id: a4
  label: "A4"
  width: {value: 210, unit: mm, source: {ref: iso-216, at: "A series"}, status: read}
  height:
    value: 297
    unit: mm
    source: {ref: iso-216, at: "A series"}
    status: read
- id: a5
  label: "A5"
  width: {value: 148, unit: mm, source: common-practice}
  height: {low: 209, high: 210, unit: mm, source: common-practice, note: "Trimmed."}
"""
PRINTERS = """\
- id: laser
  label: "Laser"
  prints_white: false
  thinnest_line: {value: 0.1, unit: mm, source: common-practice}
  thinnest_line_colour: {value: 0.2, unit: mm, source: common-practice}
"""
SCALES = """\
- id: ratio-72
  label: "1:72"
  kinds: [aircraft, ship]
  aliases: ["seventy-two"]
  ratio: {value: 72, unit: "1:n", source: common-practice}
"""
WAITS = """\
- id: ink
  label: "Ink"
  stage: seal
  after: "Printing."
  before: "Sealing."
  shortest: {value: 20, unit: min, source: common-practice}
  usual: {low: 2, high: 12, unit: h, source: common-practice}
  longest: {value: 2, unit: d, source: common-practice}
  ends: "A finger takes no colour."
  lengthens:
    - "Cold"
    - "Damp"
  attended: false
  source: {ref: iso-216, at: "clause 1"}
  status: read
"""
FLUIDS = """\
- id: setter
  label: "Setting fluid"
  use: setting
  made_of: "Water."
  strength: mild
  how: "Brush it on."
  settles: [ink]
  against:
    - {what: printers/laser, verdict: safe, why: "Toner stands water."}
  caution: "Not to be drunk."
  source: common-practice
"""
SOLVENTS = """\
- id: acetone
  label: "Acetone"
  cas: "67-64-1"
  niosh_twa: {value: 250, unit: ppm, source: {ref: iso-216, at: "REL"}, status: read}
  through_skin: false
  hazards:
    - {says: "Highly flammable.", source: {ref: iso-216, at: "card"}, status: read}
  found_in: "Thinners."
  gloves: "Butyl."
  ventilation: "Outdoors."
  ignition: "Sparks."
  skin: "Dries it."
  disposal: "Hazardous waste."
  source: common-practice
"""
FILES = {
    "sources": SOURCES, "papers": PAPERS, "printers": PRINTERS, "scales": SCALES, "drying-times": WAITS,
    "fluids": FLUIDS, "solvents": SOLVENTS,
}  # fmt: skip


def plant(root: Path, **changed: str) -> Path:
    """Write the tree below ``root``; ``changed`` gives other texts by table, with _ for -."""
    data = root / "data"
    data.mkdir(exist_ok=True)
    texts = {**dict.fromkeys(TABLES, "[]\n"), **FILES, **{name.replace("_", "-"): text for name, text in changed.items()}}
    for name, text in texts.items():
        (data / f"{name}.yaml").write_text(text, "utf-8")
    return root


def mistakes_after(root: Path, table: str, old: str, new: str) -> list[Mistake]:
    """Return what is told once ``old`` stands as ``new`` in ``table``; ``old`` must be there."""
    assert old in FILES[table]
    (plant(root) / "data" / f"{table}.yaml").write_text(FILES[table].replace(old, new, 1), "utf-8")
    return check(root)

"""A small, correct set of tables for tests to put mistakes into."""

from pathlib import Path

from builder.check import Mistake, check
from calculators.tables import FOLDERS, TABLES

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
TROUBLE = """\
title: "Milky veil under the seal"
stage: seal
see: "The clear film looks frosted. It was clear before it was sprayed."
causes:
  - cause: "Damp air."
    test: "It came within a minute of the pass."
    now: "Leave it {ink}, then mist a warm, dry pass over it."
  - cause: "The pass was too wet."
    test: "It shows where the spray pooled."
    now: "Nothing helps but a new print."
avoid:
  - "Spray on a dry day."
  - "Hold the can further off."
never: ["Do not wipe it: the ink comes away."]
related: [ink-runs]
waits: [ink]
source: common-practice
"""
OTHER_TROUBLE = """\
title: "Ink runs in the water"
stage: apply
see: "Colour spreads from the edge."
causes:
  - {cause: "No seal.", test: "A wet finger takes colour.", now: "Seal a new print."}
  - {cause: "A cut edge.", test: "Only edges run.", now: "Seal the edges."}
avoid: ["Seal it."]
never: ["Do not rub."]
related: [milky]
source: common-practice
"""
FILES = {
    "sources": SOURCES,
    "papers": PAPERS,
    "printers": PRINTERS,
    "scales": SCALES,
    "drying-times": WAITS,
    "fluids": FLUIDS,
    "solvents": SOLVENTS,
}
#: The tables that are a folder: the text of each file by the name of its row.
FOLDER_FILES = {"troubleshooting": {"milky": TROUBLE, "ink-runs": OTHER_TROUBLE}}


def plant(root: Path, **changed: str) -> Path:
    """Write the tree below ``root``; ``changed`` gives other texts by table, with _ for -."""
    data = root / "data"
    data.mkdir(exist_ok=True)
    lists = dict.fromkeys((table for table in TABLES if table not in FOLDERS), "[]\n")
    for name, text in {**lists, **FILES, **{name.replace("_", "-"): text for name, text in changed.items()}}.items():
        (data / f"{name}.yaml").write_text(text, "utf-8")
    for table, files in FOLDER_FILES.items():
        (data / table).mkdir(exist_ok=True)
        for name, text in files.items():
            (data / table / f"{name}.yaml").write_text(text, "utf-8")
    return root


def mistakes_after(root: Path, table: str, old: str, new: str) -> list[Mistake]:
    """Return the mistakes after replacing ``old`` by ``new`` in ``table``, or in a file ``table/row``; ``old`` must be
    there.
    """
    folder, _, row = table.partition("/")
    text = FOLDER_FILES[folder][row] if row else FILES[table]
    assert old in text
    (plant(root) / "data" / f"{table}.yaml").write_text(text.replace(old, new, 1), "utf-8")
    return check(root)

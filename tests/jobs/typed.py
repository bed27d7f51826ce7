"""What is typed into the calculators before a job is saved from the page."""

from __future__ import annotations

#: What is typed into which calculator, in the order of the work: fields, then a picture.
TYPED: tuple[tuple[str, dict[str, str], str], ...] = (
    ("size/scale-size", {"full_size_mm": "620 mm", "scale": "1:43.5", "thinnest_line_full_mm": "12 mm"}, ""),
    ("size/drawing-size", {"known_mm": "1480 mm"}, "railcar-panel.png"),
    ("artwork/resolution", {"width_mm": "0.6 in", "viewing_distance_mm": "25 cm"}, "crest-600px-enlarged.png"),
    ("artwork/white-areas", {"marks": "1 wanted"}, ""),
    ("underlay/underlay", {"base_a": "#efe4c4", "base_b": "#6b1f30", "markings": "4", "white_layers": "3"}, ""),
)

"""What is known of a picture by its hash: all that checks need, without its pixels. ``pictures.py`` measures it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calculators.declare import Problem, Refused
from calculators.job_fields import marking_edges
from calculators.jobs import sentences
from calculators.jobs.parts import ByName, Part
from calculators.jobs.shape import Count, Problems, Words, YesNo, stored, typed

#: Increase it when a picture would be measured differently: what was measured before is then dropped.
MEASURED_BY = 2
_MOST = 1 << 24


@dataclass(frozen=True, kw_only=True)
class Facts:
    """What a picture holds. Outlines have no pixels; of them only ``own_px`` of ``whole_px`` is known.

    ``own_px`` of ``whole_px`` is the part of the width that the marking takes up. ``least_width_px`` is 0 where the
    detail is known. ``pixels_inside`` says that outlines have a picture placed in them.
    """

    kind: str = stored(Words(label="Kind of file", most=20, fewest=1))
    width_px: int = stored(Count(label="Width in pixels", high=_MOST), 0)
    height_px: int = stored(Count(label="Height in pixels", high=_MOST), 0)
    detail_width_px: int = stored(Count(label="Detail across", high=_MOST), 0)
    detail_height_px: int = stored(Count(label="Detail down", high=_MOST), 0)
    least_width_px: int = stored(Count(label="Least detail across", high=_MOST), 0)
    enlarged: bool = stored(YesNo(label="Enlarged"), False)
    edges: str = typed(marking_edges())
    jpeg_damage: bool = stored(YesNo(label="Marks of JPEG"), False)
    own_px: int = stored(Count(label="Width of the marking", low=1, high=_MOST), 1)
    whole_px: int = stored(Count(label="Width of the whole", low=1, high=_MOST), 1)
    pixels_inside: bool = stored(YesNo(label="Pixels placed inside"), False)

    @property
    def share(self) -> float:
        """How much of the picture's width the marking takes up."""
        return min(1.0, self.own_px / self.whole_px)


_PICTURES = ByName(label="Pictures", of=Part(of=Facts), most=5000, names="[0-9a-f]{64}")


def facts_as_json(facts: Mapping[str, Facts]) -> dict[str, Any]:
    """Return facts by hash as JSON data."""
    return {"measured_by": MEASURED_BY, "pictures": _PICTURES.plain(facts)}


def facts_of_store(data: Any) -> dict[str, Facts]:
    """Return the facts that a page has stored by hash, each with its version. What cannot be used was not measured."""
    found: dict[str, Facts] = {}
    for hash, each in data.items() if isinstance(data, Mapping) else ():
        problems = Problems()
        if isinstance(each, Mapping) and each.get("measured_by") == MEASURED_BY:
            plain = {name: value for name, value in each.items() if name != "measured_by"}
            read = _PICTURES.read({hash: plain}, "", problems)
            found |= {} if problems.listed else read
    return found


def facts_for_store(facts: Mapping[str, Facts]) -> dict[str, Any]:
    """Return facts by hash as a page stores them."""
    return {hash: {"measured_by": MEASURED_BY, **each} for hash, each in _PICTURES.plain(facts).items()}


def read_facts(data: Any) -> dict[str, Facts]:
    """Return the facts in JSON data; none if they were measured by another version. Raises Refused."""
    if not isinstance(data, Mapping):
        raise Refused(Problem("measured.json", sentences.TAKES.format(label="It", takes=sentences.AN_OBJECT)))
    if data.get("measured_by") != MEASURED_BY:
        return {}
    problems = Problems()
    found: dict[str, Facts] = _PICTURES.read(data.get("pictures"), "measured.json", problems)
    if problems.listed:
        raise Refused(*problems.all())
    return found

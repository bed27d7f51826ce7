"""The limits of agencies for what is in the air, and how near a mixture comes to each of them.

A limit is taken at the stricter agency. A part without a figure is named and never counted as zero.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from calculators.seal.vapour_curve import Curve, mass_of_ppm
from calculators.tables.coating_rows import Solvent
from calculators.tables.declaration import Fact

CEILING, SHORT, DAY, EXPLOSIVE = "ceiling", "short", "day", "explosive"
NIOSH, OSHA, LOCAL = "niosh", "osha", "local"
#: The times of short-term limits and of a working day, in hours. NIOSH's day has up to 10 h: the worst mean is of 8.
SHORT_H, DAY_H = 0.25, 8.0
#: The lower explosive limit is in per cent by volume.
PPM_PER_PERCENT = 10_000.0
#: The share of the lower explosive limit above which NIOSH calls vapour immediately dangerous (IDLH documentation).
EXPLOSIVE_SHARE = 0.1


@dataclass(frozen=True)
class Part:
    """A part of what evaporates: what there would be of it in the closed room, and limits that the reader typed."""

    name: str
    solvent: Solvent | None
    closed_ppm: float | None
    local_day_ppm: float | None = None
    local_short_ppm: float | None = None

    @property
    def molar_mass(self) -> float | None:
        """The molar mass; of a range the low end, which makes more ppm."""
        return self.solvent.molar_mass.low if self.solvent and self.solvent.molar_mass else None


@dataclass(frozen=True)
class Limit:
    """A limit in ppm, and in mg/m³ where the molar mass is known, with the agency that sets it."""

    agency: str
    ppm: float
    mass: float | None


@dataclass(frozen=True)
class Near:
    """How near one part, or the whole mixture, comes to a limit of one kind in well-mixed air.

    ``share`` is None where it cannot be known: ``lacking`` names the parts without a figure.
    """

    kind: str
    name: str
    share: float | None
    lacking: tuple[str, ...] = ()
    limit: Limit | None = None
    ppm: float | None = None
    mass: float | None = None


def limit_of(part: Part, kind: str) -> Limit | None:
    """Return the strictest limit of a kind for a part; None if no agency's is in the table."""
    found = [limit for limit in _limits(part, kind) if limit]
    return min(found, key=lambda each: each.ppm, default=None)


def _limits(part: Part, kind: str) -> Iterable[Limit | None]:
    solvent, molar = part.solvent, part.molar_mass
    if kind == DAY:
        if solvent:
            yield _limit(NIOSH, solvent.niosh_twa, solvent.niosh_twa_mass, molar)
            yield _limit(OSHA, solvent.osha_twa, solvent.osha_twa_mass, molar)
        yield _typed(part.local_day_ppm, molar)
    elif kind == SHORT:
        if solvent:
            yield _limit(NIOSH, solvent.niosh_stel, solvent.niosh_stel_mass, molar)
        yield _typed(part.local_short_ppm, molar)
    elif solvent:
        yield _limit(NIOSH, None, solvent.niosh_ceiling_mass, molar)
        yield _limit(OSHA, solvent.osha_ceiling, None, molar)


def _limit(agency: str, ppm: Fact | None, mass: Fact | None, molar_mass: float | None) -> Limit | None:
    if ppm:
        return Limit(agency, ppm.low, mass.low if mass else molar_mass and mass_of_ppm(ppm.low, molar_mass))
    if mass and molar_mass:
        return Limit(agency, mass.low / mass_of_ppm(1, molar_mass), mass.low)
    return None


def _typed(ppm: float | None, molar_mass: float | None) -> Limit | None:
    return None if ppm is None else Limit(LOCAL, ppm, molar_mass and mass_of_ppm(ppm, molar_mass))


def explosive_ppm(solvent: Solvent | None) -> float | None:
    """Return the lower explosive limit in ppm, the lower of two sources; None where neither was read."""
    facts = [solvent.lower_explosive, solvent.lower_explosive_iec] if solvent else []
    return min((each.low * PPM_PER_PERCENT for each in facts if each), default=None)


def mean_of(curve: Curve, kind: str) -> float:
    """Return the share that counts for a limit: the highest moment, or the worst mean over its time."""
    return curve.worst_mean({SHORT: SHORT_H, DAY: DAY_H}[kind]) if kind in (SHORT, DAY) else curve.peak


def nearness(parts: Sequence[Part], curve: Curve) -> list[Near]:
    """Return how near each part comes to each kind of limit, then the mixture, then the lower explosive limit."""
    found = []
    for kind in (CEILING, SHORT, DAY):
        share = mean_of(curve, kind)
        found += [_of_part(part, kind, share) for part in parts]
        if len(parts) > 1:
            found.append(mixture(parts, kind, limit_ppm(kind), share))
    found.append(mixture(parts, EXPLOSIVE, lambda part: explosive_ppm(part.solvent), curve.peak))
    return found


def limit_ppm(kind: str) -> Callable[[Part], float | None]:
    """Return the function that has the strictest limit of a kind for a part, in ppm."""

    def of(part: Part) -> float | None:
        limit = limit_of(part, kind)
        return limit.ppm if limit else None

    return of


def _of_part(part: Part, kind: str, share: float) -> Near:
    limit = limit_of(part, kind)
    ppm = None if part.closed_ppm is None else part.closed_ppm * share
    mass = ppm * mass_of_ppm(1, part.molar_mass) if ppm is not None and part.molar_mass else None
    if limit is None or ppm is None:
        return Near(kind, part.name, None, (part.name,), limit, ppm, mass)
    return Near(kind, part.name, ppm / limit.ppm, (), limit, ppm, mass)


def mixture(parts: Sequence[Part], kind: str, limit: Callable[[Part], float | None], share: float) -> Near:
    """Return the sum of concentration over limit of all parts: 29 CFR 1910.1000(d)(2) for a working day.

    Of the lower explosive limits it is the rule of Le Chatelier. One part without a figure leaves it unknown.
    """
    total, lacking = 0.0, []
    for part in parts:
        most = limit(part)
        if most is None or part.closed_ppm is None:
            lacking.append(part.name)
        else:
            total += part.closed_ppm * share / most
    return Near(kind, "", None if lacking else total, tuple(lacking))

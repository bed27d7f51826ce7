"""Rows of what is put on a marking, how long it takes, and what it does to people."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar

from calculators import messages
from calculators.stages import STAGES
from calculators.tables.declaration import Fact, Judgement, Statement, column, wait
from calculators.tables.row import SourcedRow
from calculators.values import Message, advice, message


@dataclass(frozen=True, kw_only=True)
class DryingTime(SourcedRow):
    """A wait: shortest, usual, longest, and the test that ends it."""

    DECIDES: ClassVar[tuple[str, ...]] = ("shortest", "usual", "ends")

    RISING = ("shortest", "usual", "longest")

    stage: str = column("Stage", one_of=tuple(STAGES), help="the stage that the wait belongs to")
    after: str = column("After", help="what was just done")
    before: str = column("Before", help="what has to wait for it")
    coats: tuple[str, ...] = column(
        "Of these coats", "refs", required=False, table=("coats",), help="coats that dry or cure in this wait"
    )
    substrates: tuple[str, ...] = column(
        "On these films", "refs", required=False, table=("substrates",), help="films that it holds for, if not for all"
    )
    shortest: Fact = wait("Shortest", "never less, in the best conditions")
    usual: Fact = wait("Usual", "what to plan with")
    longest: Fact = wait("Longest", "in cold, damp or with heavy ink; after it, something else is wrong")
    ends: str = column("What ends it", brief=True, help="a test that the reader can do")
    lengthens: tuple[str, ...] = column("What lengthens it", "texts", help="cold, damp, heavy ink …")
    attended: bool = column("Somebody must be there", "yes-no", help="true if it cannot be left alone")


@dataclass(frozen=True, kw_only=True)
class Coat(SourcedRow):
    """A primer, paint, gloss, seal or final coat, by what carries it."""

    DECIDES: ClassVar[tuple[str, ...]] = ("uses", "recoat_from", "bench")

    uses: tuple[str, ...] = column(
        "Used as",
        "texts",
        fewest=1,
        one_of=("primer", "paint", "gloss coat", "seal coat", "levelling coat", "final coat"),
        help="one or more",
    )
    carrier: str = column(
        "Carrier", one_of=("water", "alcohol", "lacquer", "oil", "urethane"), help="what evaporates, or what cures"
    )
    methods: tuple[str, ...] = column(
        "Put on by", "texts", one_of=("spray can", "airbrush", "brush"), help="one or more; [] if not at a bench at all"
    )
    over: tuple[Judgement, ...] = column(
        "Laid over",
        "judgements",
        fewest=1,
        table=("coats", "printers", "substrates"),
        help="what it may go over: coats, bare print of a kind of printer, films",
    )
    distance: Fact | None = column(
        "Distance", "fact", required=False, unit="mm", low=10, high=600, help="nozzle to work, if sprayed"
    )
    passes: Fact | None = column(
        "Passes", "fact", required=False, unit="passes", low=1, high=20, help="light passes to a coat"
    )
    how: str = column("How a pass is made", help="start, speed, overlap, how it should look wet")
    wet_film: Fact | None = column(
        "Wet film of a pass", "fact", required=False, unit="µm", low=1, high=300, help="as laid down"
    )
    solids: Fact | None = column(
        "Solids by volume",
        "fact",
        required=False,
        unit="%",
        low=1,
        high=100,
        help="what stays, as it leaves the nozzle",
    )
    recoat_from: Fact | None = wait("Recoat from", "the earliest next coat of the same", required=False)
    recoat_until: Fact | None = wait("Recoat until", "after this, wait for full cure first", required=False)
    cooling: Fact | None = column(
        "Cooling allowance",
        "fact",
        required=False,
        unit="°C",
        low=0,
        high=25,
        help="how far evaporation may cool the surface below the air",
    )
    humidity: Fact | None = column(
        "Humidity at most",
        "fact",
        required=False,
        unit="%",
        low=10,
        high=100,
        help="relative humidity above which it may blush",
    )
    coldest: Fact | None = column(
        "Coldest",
        "fact",
        required=False,
        unit="°C",
        low=-10,
        high=40,
        help="air, surface and coat colder than this: it does not flow, dry or cure well",
    )
    attacks: tuple[str, ...] = column("What it attacks", "texts", help="[] if nothing that is met at this bench")
    attacked_by: tuple[str, ...] = column("What attacks it", "texts", help="[] if nothing that is met at this bench")
    solvents: tuple[str, ...] = column(
        "Solvents in it", "refs", required=False, table=("solvents",), help="ids from solvents.yaml, as commonly met"
    )
    bench: str = column(
        "At a hobby bench", one_of=("yes", "with extraction", "never"), help="never: not without supplied air"
    )
    caution: str = column("Caution", help="what it can do to the reader, and what to do about it")

    @property
    def refusal(self) -> tuple[Message, ...]:
        """Why a coat that needs supplied air is refused at a hobby bench, and what to use instead."""
        return message(messages.TWO_PART_REFUSED), advice(messages.TWO_PART_INSTEAD), message(self.caution)


@dataclass(frozen=True, kw_only=True)
class Fluid(SourcedRow):
    """A wetting, setting, softening or removing fluid, by what it is made of."""

    DECIDES: ClassVar[tuple[str, ...]] = ("use", "made_of")

    use: str = column(
        "Used for", one_of=("wetting", "setting", "softening", "removing"), help="one of them: its main use"
    )
    made_of: str = column("Made of", brief=True, help="by kind: water, vinegar, alcohol …; no product")
    strength: str = column("Strength", one_of=("mild", "medium", "strong"), help="how fast it acts on film")
    weathering: str = column(
        "In weathering",
        required=False,
        help="what it carries or thins when the model is weathered; left out if nothing",
    )
    how: str = column("How it is used", help="how much, with what, and when to keep hands off")
    settles: tuple[str, ...] = column(
        "Waits", "refs", required=False, table=("drying-times",), help="ids of the waits that follow its use"
    )
    against: tuple[Judgement, ...] = column(
        "On",
        "judgements",
        fewest=1,
        table=("substrates", "printers", "coats"),
        help="films, bare print of a kind of printer, seal coats, paints",
    )
    solvents: tuple[str, ...] = column(
        "Solvents in it", "refs", required=False, table=("solvents",), help="ids from solvents.yaml"
    )
    caution: str = column("Caution", help="what it can do to the reader, and what to do about it")


def _limit(label: str, unit: str, help: str) -> Any:
    return column(label, "fact", required=False, unit=unit, low=0.1, high=50_000, help=help, safety=True)


@dataclass(frozen=True, kw_only=True)
class Solvent(SourcedRow):
    """A solvent with the limits that agencies print for it."""

    DECIDES: ClassVar[tuple[str, ...]] = ("niosh_twa", "osha_twa", "through_skin")

    cas: str = column("CAS number", brief=True, most=80, help="as the source prints it")
    molar_mass: Fact | None = column(
        "Molar mass", "fact", required=False, unit="g/mol", low=10, high=500, help="of the substance or usual mixture"
    )
    density: Fact | None = column(
        "Density", "fact", required=False, unit="g/mL", low=0.3, high=3, help="of the liquid at about 20 °C"
    )
    niosh_twa: Fact | None = _limit("NIOSH, working day", "ppm", "recommended limit, mean over up to 10 h")
    niosh_twa_mass: Fact | None = _limit("NIOSH, working day, by mass", "mg/m³", "as the agency prints it")
    niosh_stel: Fact | None = _limit("NIOSH, short term", "ppm", "recommended limit, mean over 15 min")
    niosh_stel_mass: Fact | None = _limit("NIOSH, short term, by mass", "mg/m³", "as the agency prints it")
    niosh_ceiling_mass: Fact | None = _limit("NIOSH, ceiling, by mass", "mg/m³", "never to be exceeded, over 15 min")
    osha_twa: Fact | None = _limit("OSHA, working day", "ppm", "permitted limit, mean over 8 h")
    osha_twa_mass: Fact | None = _limit("OSHA, working day, by mass", "mg/m³", "as the agency prints it")
    osha_ceiling: Fact | None = _limit("OSHA, ceiling", "ppm", "not to be exceeded, but for a stated peak")
    osha_peak: Fact | None = _limit("OSHA, peak", "ppm", "the most within 10 min, once a shift")
    idlh: Fact | None = _limit("Immediately dangerous", "ppm", "never from memory: leave it out")
    lower_explosive: Fact | None = column(
        "Lower explosive limit",
        "fact",
        required=False,
        unit="%",
        low=0.1,
        high=30,
        help="by volume in air; never from memory",
        safety=True,
    )
    lower_explosive_iec: Fact | None = column(
        "Lower explosive limit, IEC",
        "fact",
        required=False,
        unit="%",
        low=0.1,
        high=30,
        help=(
            "as IEC 60079-20-1 has it, where the agency's value is higher or missing: reckon with the lower of the two"
        ),
        safety=True,
    )
    upper_explosive: Fact | None = column(
        "Upper explosive limit",
        "fact",
        required=False,
        unit="%",
        low=1,
        high=80,
        help="by volume in air; never from memory",
        safety=True,
    )
    flash_point: Fact | None = column(
        "Flash point",
        "fact",
        required=False,
        unit="°C",
        low=-150,
        high=200,
        help="never from memory: leave it out",
        safety=True,
    )
    through_skin: bool = column(
        "Taken up through the skin",
        "yes-no",
        yes="marked so by these agencies",
        no="not marked by these agencies",
        help="true where an agency marks it [skin]; false says no more than that",
    )
    hazards: tuple[Statement, ...] = column(
        "Hazard statements", "statements", required=False, help="only where read, each with its source"
    )
    smell: str = column("Smell", required=False, help="a warning at best; its absence proves nothing")
    found_in: str = column("Found in", help="which fluids, thinners, sprays, by kind")
    gloves: str = column("Gloves", help="which, and for how long they hold")
    ventilation: str = column("Ventilation", help="what it takes to work with it")
    ignition: str = column("Ignition", help="what can light it")
    skin: str = column("On the skin", help="what it does, and what to do")
    disposal: str = column("Disposal", help="where rests and rags go")


@dataclass(frozen=True, kw_only=True)
class Hazard(SourcedRow):
    """A hazard: the words that name it, and the caution of every page that does."""

    named: tuple[str, ...] = column(
        "Named by",
        "texts",
        required=False,
        most=40,
        help="words that make the hazard one of a page's own wherever they stand; an s is added by itself",
    )
    not_meant: tuple[str, ...] = column(
        "But not by", "texts", required=False, most=60, help="phrases that hold such a word and mean something else"
    )
    handled: tuple[str, ...] = column(
        "Named where used",
        "texts",
        required=False,
        most=40,
        help="things that name it only in a sentence that also has one of the deeds",
    )
    deeds: tuple[str, ...] = column(
        "By these deeds",
        "texts",
        required=False,
        most=40,
        help="what is done with them, as a step tells it: wipe, brush, soak",
    )
    says: tuple[str, ...] = column(
        "The caution must say", "texts", fewest=1, most=60, help="words that stand in every caution of this hazard"
    )
    caution: str = column("Caution", brief=True, help="what it can do to the reader, and what to do about it")

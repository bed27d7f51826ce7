"""The tables and what a row of each holds, in the words that contributors and readers see."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar

from calculators.stages import STAGES
from calculators.tables.declaration import STATUSES, Fact, Judgement, Origin, Statement, column, wait


@dataclass(frozen=True, kw_only=True)
class Row:
    """What every row has."""

    #: Names of facts that must not fall from one to the next, such as shortest, usual, longest.
    RISING: ClassVar[tuple[str, ...]] = ()

    id: str = column("Id", "id", help="lower case, digits, hyphens; once published it stays for ever")
    label: str = column("Name", most=100, help="what the reader sees")
    note: str = column("Note", required=False, help="two more sentences at most, on the row as a whole")


@dataclass(frozen=True, kw_only=True)
class SourcedRow(Row):
    """A row that is mostly words: they need a source, or a mark in its place, as a value does."""

    source: Origin = column(
        "Source of the words", "source", help="common-practice, estimate or drawn-up, or a document: {ref: …, at: …}"
    )
    status: str = column(
        "Status", required=False, one_of=tuple(STATUSES), help="how the words are known; only beside a document"
    )


KINDS_OF_MODEL = ("aircraft", "figure", "railway", "ship", "vehicle", "architecture")


@dataclass(frozen=True, kw_only=True)
class Scale(Row):
    """A scale of models, or a railway scale with a name."""

    kinds: tuple[str, ...] = column(
        "Used for", "texts", fewest=1, one_of=KINDS_OF_MODEL, help="one or more kinds of model"
    )
    aliases: tuple[str, ...] = column("Also called", "texts", most=60, help="what a reader may type instead")
    ratio: Fact = column("Ratio", "fact", unit="1:n", low=1, high=10_000, help="the real thing over the model")


def _line(label: str, help: str, **more: Any) -> Any:
    return column(label, "fact", unit="mm", low=0.01, high=2, help=help, **more)


@dataclass(frozen=True, kw_only=True)
class Printer(Row):
    """A kind of printer: no makes, no models."""

    prints_white: bool = column("Prints white", "yes-no", help="true if it lays down white of its own")
    thinnest_line: Fact = _line("Thinnest line, one colour", "one solid colour, dark on bare film")
    thinnest_line_colour: Fact = _line(
        "Thinnest line, mixed colour or reversed out", "a mixed colour, or a light line left open in a dark area"
    )


def _side(label: str, help: str) -> Any:
    return column(label, "fact", unit="mm", low=50, high=2000, help=help)


@dataclass(frozen=True, kw_only=True)
class Paper(Row):
    """A size of sheet."""

    width: Fact = _side("Width", "of the upright sheet")
    height: Fact = _side("Height", "of the upright sheet")


@dataclass(frozen=True, kw_only=True)
class Substrate(SourcedRow):
    """A film, a proof paper or a stencil material."""

    kind: str = column(
        "Kind", one_of=("clear film", "white film", "backing film", "proof paper", "stencil"), help="what it is for"
    )
    printers: tuple[str, ...] = column(
        "Printers that take it", "refs", table=("printers",), help="[] if it is not printed"
    )
    maker_permits: tuple[str, ...] = column(
        "Only where the printer's maker allows it",
        "refs",
        table=("printers",),
        help="printers that may take it, by their maker's word",
    )
    never_printers: tuple[str, ...] = column(
        "Never in", "refs", table=("printers",), help="printers that it harms, or that harm it"
    )
    why_never: str = column("Why never", required=False, help="what happens in such a printer")
    thickness: Fact = column(
        "Thickness", "fact", unit="µm", low=1, high=1000, help="what stays on the model, without its backing paper"
    )
    contrast_ratio: Fact | None = column(
        "Contrast ratio",
        "fact",
        required=False,
        unit="ratio",
        low=0,
        high=1,
        help="over black against over white; cautious, as a range",
    )
    coated_side: str = column("Coated side", help="how to find the side to print or stick")
    seal: str = column(
        "Seal", one_of=("must", "advised", "no need"), help="whether the print must be sealed before water"
    )
    why_seal: str = column("Why", required=False, help="what the seal is for")
    edges: str = column("How its edges show", help="what is seen of the edge on the model, and what helps")
    handling: str = column("Handling", help="how to touch, cut and feed it")
    storage: str = column("Storage", help="where and how to keep it")
    storage_life: Fact | None = wait("Keeps for", "how long it keeps, unopened and well stored", required=False)


@dataclass(frozen=True, kw_only=True)
class PrintSetting(SourcedRow):
    """A kind of printer with a film: what to set."""

    printer: str = column("Printer", "ref", table=("printers",), help="an id from printers.yaml")
    substrate: str = column("Film", "ref", table=("substrates",), help="an id from substrates.yaml")
    media: str = column("Media setting", help="what to tell the printer it is fed with")
    quality: str = column("Quality", help="which quality setting, and why")
    scaling: str = column("Scaling", help="scaling, fit to page, borderless")
    feed: str = column("Feed path", help="tray or slot, one at a time or not, which way up")
    colour: str = column("Colour handling", help="who converts colours, and what to switch off")
    thinnest_line: Fact = _line("Thinnest line, one colour", "on this film, one solid colour")
    thinnest_line_colour: Fact | None = _line(
        "Thinnest line, mixed colour or reversed out", "on this film", required=False
    )
    goes_wrong: tuple[str, ...] = column(
        "What goes wrong", "texts", fewest=1, help="each trouble with its cause, in one sentence"
    )


@dataclass(frozen=True, kw_only=True)
class DryingTime(SourcedRow):
    """A wait: shortest, usual, longest, and the test that ends it."""

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
    attacks: tuple[str, ...] = column("What it attacks", "texts", help="[] if nothing that is met at this bench")
    attacked_by: tuple[str, ...] = column("What attacks it", "texts", help="[] if nothing that is met at this bench")
    solvents: tuple[str, ...] = column(
        "Solvents in it", "refs", required=False, table=("solvents",), help="ids from solvents.yaml, as commonly met"
    )
    bench: str = column(
        "At a hobby bench", one_of=("yes", "with extraction", "never"), help="never: not without supplied air"
    )
    caution: str = column("Caution", help="what it can do to the reader, and what to do about it")


@dataclass(frozen=True, kw_only=True)
class Fluid(SourcedRow):
    """A wetting, setting, softening or removing fluid, by what it is made of."""

    use: str = column(
        "Used for", one_of=("wetting", "setting", "softening", "removing"), help="one of them: its main use"
    )
    made_of: str = column("Made of", brief=True, help="by kind: water, vinegar, alcohol …; no product")
    strength: str = column("Strength", one_of=("mild", "medium", "strong"), help="how fast it acts on film")
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

    cas: str = column("CAS number", brief=True, most=80, help="as the source prints it")
    molar_mass: Fact | None = column(
        "Molar mass", "fact", required=False, unit="g/mol", low=10, high=500, help="of the substance or usual mixture"
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


@dataclass(frozen=True, kw_only=True)
class Source:
    """A document that rows and calculators refer to."""

    id: str = column("Id", "id", help="what ref: names")
    title: str = column("Title", most=200, help="number and title as printed on it")
    publisher: str = column("Publisher", most=200, help="who answers for it")
    year: int = column("Year", "whole", low=1600, high=2100, help="of the edition that is meant")
    read: str = column(
        "Read", one_of=("whole", "part", "copy", "memory", "package"), help="what of it was read, and how"
    )
    url: str = column("Address", "url", required=False, help="only of an official public document")
    note: str = column("Note", required=False, help="what was read, and what for")


@dataclass(frozen=True, kw_only=True)
class Material(SourcedRow):
    """A film or a white by what one layer of it hides."""

    kind: str = column("Kind", one_of=("film", "white"), help="film that is printed, or white that lies beneath it")
    contrast_ratio: Fact = column(
        "Contrast ratio of one layer",
        "fact",
        unit="ratio",
        low=0,
        high=0.99,
        help="over black against over white; cautious, as a range",
    )
    layer: str = column("One layer is", help="what is counted as one, so that two readers count alike")
    measure: str = column("Measure your own", help="how a reader finds the contrast ratio of what they have")


def _yes(label: str, help: str) -> Any:
    """Declare a yes-no part that stands in a row only where it is true."""
    return column(label, "yes-no", required=False, help=help)


def _narrowest(label: str, help: str) -> Any:
    return column(label, "fact", required=False, unit="mm", low=0.05, high=10, help=help)


@dataclass(frozen=True, kw_only=True)
class Way(SourcedRow):
    """A way to get white beneath a marking, and what it costs."""

    film: str = column("Film", one_of=("clear", "white", "none"), help="what the colours are printed on")
    white: str = column(
        "White beneath",
        "ref",
        required=False,
        table=("materials",),
        help="the id from materials.yaml of the white that lies beneath, if any",
    )
    most_layers: int = column(
        "Layers of it at most", "whole", low=0, high=12, help="more are hardly done; 0 where nothing lies beneath"
    )
    most_colours: int | None = column(
        "Colours at most",
        "whole",
        required=False,
        low=1,
        high=30,
        help="flat colours that can be done so; left out if any number",
    )
    edge: Fact = column("Edge", "fact", unit="µm", low=0, high=300, help="height of the step without white beneath")
    edge_layer: Fact | None = column(
        "Edge by each layer",
        "fact",
        required=False,
        unit="µm",
        low=0,
        high=300,
        help="what one layer of the white adds",
    )
    pieces: int = column(
        "Pieces to register", "whole", low=0, high=20, help="for one marking, beyond putting it in its place"
    )
    tolerance: Fact | None = column(
        "Tolerance", "fact", required=False, unit="mm", low=0.01, high=5, help="how closely the pieces must meet"
    )
    choke: Fact | None = column(
        "Choke",
        "fact",
        required=False,
        unit="mm",
        low=0.01,
        high=2,
        help="how much smaller the white is beneath colour",
    )
    outline: Fact | None = _narrowest(
        "Narrowest outline", "narrowest part of the whole outline that can be done; left out if any"
    )
    inside: Fact | None = _narrowest(
        "Narrowest part inside", "narrowest part of any one colour, where each is cut by itself"
    )
    waits: tuple[str, ...] = column(
        "Added waits", "refs", table=("drying-times",), help="ids from drying-times.yaml; [] if none"
    )
    delivery: Fact | None = wait("Delivery", "until it has come, where it is bought", required=False)
    tools: tuple[str, ...] = column("Tools", "texts", most=120, help="beyond a printer and a knife; [] if none")
    outlines: tuple[str, ...] = column("Outlines", "texts", most=200, help="which outlines have to be made for it")
    how: str = column("How", help="in a sentence")
    spoils: str = column("What spoils it", help="what goes wrong")
    for_white: bool = _yes("Only for white", "true if only what is white can be had this way")
    paints: bool = _yes("Paint for colours too", "true if the colours are paint and not print")
    bought: bool = _yes("Bought in", "true if somebody else prints it")
    own_printer: bool = _yes("Needs a printer with white", "true if the reader's own printer must carry white")
    sprays: bool = _yes("Needs spraying", "true if paint is sprayed")
    own_white: bool = _yes(
        "The model's own white", "true if white paint of the model lies beneath, kept free of the second paint"
    )
    edge_away: bool = _yes("Edge elsewhere", "true if the edge may lie at a panel line, away from the marking")


@dataclass(frozen=True, kw_only=True)
class PaintColour(SourcedRow):
    """A name for a colour of paint."""

    colour: str = column("Colour", brief=True, most=7, help="as #rrggbb in small letters, in double quotes")
    aliases: tuple[str, ...] = column(
        "Also called", "texts", most=60, help="what a reader may type instead; [] if nothing"
    )


@dataclass(frozen=True, kw_only=True)
class Cause:
    """One cause of a trouble, with what tells it from the others."""

    cause: str = column("Cause", most=250, wording="sentences", help="what made it, in one sentence")
    test: str = column(
        "Test", most=350, wording="sentences", help="what is seen, felt or tried that tells this cause from the others"
    )
    now: str = column("What to do now", most=450, wording="sentences", help="if this is the cause; waits as {id}")


@dataclass(frozen=True, kw_only=True)
class Trouble:
    """A troubleshooting entry, a file for each: what is seen, why, how to tell, what to do."""

    id: str = column("Id", "id", help="the name of the file: what is seen, in a few words")
    title: str = column("Title", most=80, wording="heading", help="what went wrong, as a reader would say it")
    stage: str = column("Stage", one_of=tuple(STAGES), help="where in the work it is noticed")
    see: str = column(
        "What you see", most=400, wording="sentences", help="in one to three sentences: what, where and when"
    )
    said: tuple[str, ...] = column(
        "Also said",
        "texts",
        required=False,
        fewest=3,
        at_most=15,
        most=60,
        wording="heading",
        help=(
            "three to fifteen short phrases in which somebody who knows no word of the trade would tell of it, "
            "such as “fell off”"
        ),
    )
    causes: tuple[Cause, ...] = column(
        "Causes", "parts", row=Cause, fewest=2, at_most=5, help="two to five, the most likely first"
    )
    avoid: tuple[str, ...] = column(
        "Next time", "texts", fewest=1, at_most=5, most=300, wording="sentences", help="how to avoid it, one to five"
    )
    never: tuple[str, ...] = column(
        "What not to do", "texts", fewest=1, at_most=4, most=300, wording="sentences", help="and why, one to four"
    )
    related: tuple[str, ...] = column(
        "See also",
        "refs",
        table=("troubleshooting",),
        fewest=1,
        at_most=4,
        help="ids of one to four other entries that are easily taken for it",
    )
    waits: tuple[str, ...] = column(
        "Waits",
        "refs",
        required=False,
        table=("drying-times",),
        help="ids of the waits that a text names as {id}: the page prints the usual range",
    )
    source: Origin = column(
        "Source of the words", "source", help="common-practice, estimate or drawn-up, or a document: {ref: …, at: …}"
    )
    status: str = column(
        "Status", required=False, one_of=tuple(STATUSES), help="how the words are known; only beside a document"
    )


@dataclass(frozen=True, kw_only=True)
class Synonym(Row):
    """Words that readers use for one thing that is seen, for the symptom finder."""

    words: tuple[str, ...] = column(
        "Words", "texts", fewest=1, most=40, help="what readers say for it, also of several words, in small letters"
    )


#: Every table by the name of its file or folder, with what a row of it is.
TABLES: dict[str, type] = {
    "scales": Scale,
    "printers": Printer,
    "papers": Paper,
    "substrates": Substrate,
    "materials": Material,
    "paint-colours": PaintColour,
    "ways": Way,
    "print-settings": PrintSetting,
    "drying-times": DryingTime,
    "coats": Coat,
    "fluids": Fluid,
    "hazards": Hazard,
    "solvents": Solvent,
    "troubleshooting": Trouble,
    "synonyms": Synonym,
    "sources": Source,
}

"""Statements on waits, gloves and masks in tables, how-tos and entries must not contradict each other.

A statement is one sentence about one of the three, with the case that it applies to. Statements on the same case must
agree. The right answers are checked elsewhere (tests/data/test_tables_safety.py, tests/data/test_tables_waits.py).
"""

import re
from collections import defaultdict
from collections.abc import Iterator

import pytest

from calculators import tables
from tests.content.test_content import PAGES, body_of, meta_of, name_of

AROMATICS = {"xylenes", "toluene"}
KETONES_AND_ESTERS = {"acetone", "butanone", "n-butyl-acetate", "ethyl-acetate", "1-methoxy-2-propyl-acetate"}


def texts() -> Iterator[tuple[str, str]]:
    """Every text for readers, by its place; waits are still ids, as pages and entries write them."""
    for page in PAGES:
        yield name_of(page), body_of(page)
    for table in (
        "coats",
        "fluids",
        "solvents",
        "hazards",
        "substrates",
        "ways",
        "print-settings",
        "drying-times",
        "materials",
    ):
        for row in tables.load(table):
            for name, column in tables.columns(type(row)).items():
                value = getattr(row, name)
                if column.holds == "text" and name not in ("label", "says"):
                    yield f"{table}/{row.id}: {name}", value
                elif column.holds == "fact" and value is not None and value.note:
                    yield f"{table}/{row.id}: {name}", value.note
                elif column.holds == "judgements":
                    yield from ((f"{table}/{row.id}: {name}", each.why) for each in value)
    for row in tables.load("troubleshooting"):
        for cause in row.causes:
            yield from ((f"rescue/{row.id}", each) for each in (cause.cause, cause.test, cause.now))
        yield from ((f"rescue/{row.id}", each) for each in (*row.avoid, *row.never))


def sentences(text: str) -> list[str]:
    """The sentences of a text; steps and paragraphs end one too."""
    blocks = re.split(r"\n\s*\n|\n\s*(?=(?:\d+\.|-|!!!) )", text)
    return [" ".join(each.split()) for block in blocks for each in re.split(r"(?<=[.!?])\s", block) if each.strip()]


TEXTS = list(texts())
SENTENCES = [(where, each) for where, text in TEXTS for each in sentences(text)]


# -- Waits


def waits_stated() -> Iterator[tuple[str, object, str]]:
    """A case is what has dried and what comes next, in the words of the table; "water" always means the same.

    A row that says why it is shorter than another is a case of its own.
    """
    for row in tables.load("drying-times"):
        what_next = (
            "water"
            if row.stage in ("seal", "apply") and row.coats and re.search(r"\bwater\b|\bWetting\b", row.before)
            else row.before
        )
        for what in row.coats or row.substrates:
            own = (
                ", heavy ink"
                if "large dark" in row.after
                else f", {row.label}"
                if re.match(r"Shorter than .* because ", row.note)
                else ""
            )
            yield f"{what}{own}: {what_next}", row.usual.hours, row.id


CARRIERS = {
    "lacquer": {"lacquer"},
    "oil": {"oil"},
    "carried by water": {"water"},
    "carried by water or alcohol": {"water", "alcohol"},
    "urethane": {"urethane"},
}
WAIT = re.compile(r"\{\{ *wait\(\"([a-z0-9-]+)\"\) *\}\}|(?<!\{)\{([a-z][a-z0-9-]+)\}")


def test_each_wait_in_a_text_belongs_to_the_named_coat():
    checked, wrong = 0, []
    for where, sentence in SENTENCES:
        named_waits = [first or second for first, second in WAIT.findall(sentence)]
        if not named_waits:
            continue
        of_rows = {
            tables.row("coats", coat).carrier for id in named_waits for coat in tables.row("drying-times", id).coats
        }
        plain = WAIT.sub(" ", re.sub(r"\]\([^)]*\)", "]", sentence)).lower()
        asked = set().union(
            *(carriers for words, carriers in CARRIERS.items() if re.search(rf"\b{words}\b", plain)), set()
        )
        if of_rows and asked:
            checked += 1
            # The water-carried row of a wait may hold the urethane in one part too, which is carried by water.
            if not asked <= of_rows or not of_rows <= asked | {"urethane", "alcohol"}:
                wrong.append((where, sentence, sorted(asked), sorted(of_rows)))
    assert checked > 15
    assert wrong == []


SPAN = r"(?:\d+(?: to \d+)?|an?|one|two|three|five|ten) ?(?:s|min|h|seconds?|minutes?|hours?|days?|weeks?)\b"


def test_waits_in_notes_agree_with_the_table():
    """Waits written out in notes: after a lacquer's recoat window it is a day everywhere."""
    late = tables.row("drying-times", "lacquer-past-its-window").usual.hours[0]
    notes = [
        (where, each)
        for where, each in SENTENCES
        if re.search(r"(?i)\b(?:later|window)\b.*\bleave (?:it|lacquer)\b", each)
    ]
    assert len(notes) > 5
    assert [each for each in notes if not re.search(r"leave (?:it|lacquer) a day", each[1])] == [] and late == 24
    assert [each for each in SENTENCES if re.search(rf"\bwindow\b.*\bwait {SPAN}", each[1])] == []


# -- Gloves

MATERIALS = ("butyl", "laminate", "nitrile", "latex", "vinyl glove", "neoprene")
SPLASHES = "thin nitrile is for splashes only, and off at once"


def glove_case(where: str, sentence: str) -> str:
    """The solvents that a sentence about gloves applies to: by its words on a page, by its row in a table."""
    table, _, rest = where.partition("/")
    row = rest.partition(":")[0]
    if table == "solvents":
        solvents = {row}
    elif table in ("coats", "fluids"):
        solvents = set(tables.row(table, row).solvents)
    else:
        words = sentence.lower()
        solvents = (AROMATICS if re.search(r"aromatic|lacquer thinner|toluene|xylene", words) else set()) | (
            KETONES_AND_ESTERS if re.search(r"ketone|acetone|acetate|esters", words) else set()
        )
    if solvents & AROMATICS:
        return "aromatics, and what holds them"
    return "ketones and esters" if solvents & KETONES_AND_ESTERS else "others"


def glove_statements() -> list[tuple[str, str]]:
    found = re.compile(r"\bgloves?\b|" + "|".join(rf"\b{each}\b" for each in MATERIALS), re.IGNORECASE)
    handling = re.compile(r"\b(?:cotton|clean) gloves\b", re.IGNORECASE)
    return [
        (where, each)
        for where, each in SENTENCES
        if not where.endswith(": found_in") and found.search(each) and not handling.search(each)
    ]


def glove_sentences() -> list[tuple[str, str]]:
    """The sentences on gloves, including parts of solvents about gloves that do not use the word."""
    return [
        *glove_statements(),
        *(
            (where, each)
            for where, each in SENTENCES
            if where.endswith(": gloves") and (where, each) not in glove_statements()
        ),
    ]


def gloves_stated() -> Iterator[tuple[str, object, str]]:
    """A case is the solvents; the answer is which glove materials suit more than splashes."""
    for where, sentence in glove_sentences():
        words = re.sub(rf"butyl(?: rubber)? does not resist (?:it|them)|{SPLASHES}", "", sentence.lower())
        worn = frozenset(each for each in MATERIALS if each in words)
        if worn:
            yield f"gloves for {glove_case(where, sentence)}", worn, f"{where}: {sentence}"


def test_nitrile_is_only_ever_recommended_for_splashes():
    sentences = [(where, each) for where, each in SENTENCES if "nitrile" in each.lower()]
    assert len(sentences) > 20
    assert [each for each in sentences if SPLASHES not in each[1].lower()] == []


# -- Masks

MASK = re.compile(
    r"\b(?:dust mask|mask (?:with|that has) (?:vapour|cartridge|(?:a )?particle)|wear a mask|put on a "
    r"mask|cartridges?|respirators?|particle filter)\b",
    re.IGNORECASE,
)
#: A printer's cartridge is not a mask's.
TONER = re.compile(r"\btoner\b|\bdrum\b|\bcartridge is near its end\b|\bchange the cartridge\b", re.IGNORECASE)
BOTH = re.compile(r"cartridges? (?:and (?:a )?|plus )particle filter", re.IGNORECASE)
ISOCYANATES = re.compile(r"[^.]*cartridge masks are not enough[^.]*\.?", re.IGNORECASE)
AIR = re.compile(r"\boutdoors\b|\bextract fan\b|\bextraction\b", re.IGNORECASE)


def mask_texts() -> list[tuple[str, str]]:
    """Each whole text that mentions a mask: a page, or a part of a row."""
    return [
        (where, " ".join(text.split()))
        for where, text in TEXTS
        if any(MASK.search(each) and not TONER.search(each) for each in sentences(text))
    ]


def masks_stated() -> Iterator[tuple[str, object, str]]:
    for where, text in mask_texts():
        rest = ISOCYANATES.sub("", text)
        if rest != text:
            yield "a mask against isocyanates", "supplied air" if "supplied air" in text else "a cartridge", where
        if MASK.search(rest):
            yield "a mask against vapour and mist", "both" if BOTH.search(rest) else "one of the two", where


INSTEAD = re.compile(r"\bor (?:wear )?(?:a )?(?:mask|cartridge|respirator)\b|\bmask instead\b", re.IGNORECASE)


def test_a_mask_never_replaces_ventilation():
    assert [each for each in SENTENCES if INSTEAD.search(each[1]) and not TONER.search(each[1])] == []
    for where, text in mask_texts():
        rest = ISOCYANATES.sub("", text)
        mask = MASK.search(rest)
        if mask:
            air = AIR.search(rest)
            assert air and air.start() < mask.start(), f"{where}: the air comes first"


@pytest.mark.parametrize(
    "row", [row for row in tables.load("coats") if row.methods and set(row.methods) - {"brush"}], ids=lambda row: row.id
)
def test_all_sprayed_coats_give_the_same_advice(row):
    assert re.search(
        r"outdoors or with an extract fan suited to vapours\b.*\bcartridge plus particle filter",
        row.caution,
        re.IGNORECASE,
    )


# -- All statements


def test_statements_on_waits_gloves_and_masks_agree():
    stated: dict[str, dict[object, list[str]]] = defaultdict(lambda: defaultdict(list))
    for read in (waits_stated, gloves_stated, masks_stated):
        for case, answer, where in read():
            stated[case][answer].append(where)
    assert len(stated) > 50
    assert {
        "gloves for aromatics, and what holds them",
        "gloves for ketones and esters",
        "a mask against isocyanates",
        "a mask against vapour and mist",
    } <= set(stated)
    assert sum(len(each) for each in stated["a mask against vapour and mist"].values()) > 20
    assert {case: answers for case, answers in stated.items() if len(answers) > 1} == {}


def test_the_compared_texts_are_complete():
    assert len([page for page in PAGES if meta_of(page)["kind"] == "how-to"]) > 50
    assert {where.split("/")[0] for where, _ in TEXTS} >= {
        "coats",
        "fluids",
        "solvents",
        "drying-times",
        "rescue",
        "seal",
        "safety.md",
    }

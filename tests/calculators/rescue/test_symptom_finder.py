"""The symptom finder on our own queries, which it was tuned on; the independent set is in test_symptom_queries.py."""

import json

import pytest

from calculators import tables
from calculators.answer import answer
from calculators.rescue import symptom_index
from calculators.rescue.stems import stem, words
from calculators.rescue.symptoms import distance, ranked, understood

INDEX = symptom_index.shipped()

#: A query of ours, with the entries that are right for it.
OURS = {
    "silvery patches under the film": "silvering",
    "frosty milky under clear": "silvering seal-turns-milky silver-comes-back",
    "white haze after spraying varnish": "seal-turns-milky final-matt-turns-grey",
    "decal wont stick falls off": "slides-about-when-dry",
    "transfer wont come off the backing paper": "will-not-leave-backing",
    "colours bleed when i put it in water": "ink-washes-out-in-water ink-bleeds-at-cut-edge",
    "ink smudges when touched": "ink-smears-after-printing",
    "wrinkled up when i put softener on": "wrinkles-under-softener",
    "film tents over rivets": "bridges-over-rivets",
    "can see paint line thru emblem": "border-of-two-paints-shows",
    "white letters missing on model": "white-areas-vanish",
    "yellow looks brown on black paint": "colours-dull-over-dark-paint",
    "edge of film visible after varnish": "edge-visible-under-clear",
    "paint came off with masking tape": "tape-lifts-paint",
    "tore while sliding": "tears-while-placing",
    "stripes in the solid color": "banding solid-colour-mottled",
    "jaggies on curves": "stepped-edges",
    "fuzzy print": "blurred-though-large",
    "decal too big": "marking-wrong-size-on-model",
    "circle is egg shaped": "circle-comes-out-oval",
    "film melted in laser printer": "film-melted-in-fuser",
    "ink puddles on the film": "ink-beads-on-film",
    "orange peel texture": "orange-peel",
    "sticky after weeks": "sticky-after-it-is-dry seal-stays-tacky",
    "fish eyes in the sealer": "craters-in-seal",
    "old decals crumble": "old-film-shatters breaks-up-in-water comes-off-in-crumbs",
    "rolls up in the bath": "curls-up-in-water",
    "text backwards on one side": "text-mirrored-on-pair",
    "pizza wheel marks": "roller-tracks",
    "gold looks mustard": "gold-prints-mustard",
    "varnsh made it wrinkel": "clear-wrinkles-paint marking-dissolves-under-clear",
    "silvry": "silvering silver-comes-back",
    "sheet got stuck in the printer": "sheet-jams",
    "tiny white dots in black area": "pinholes-in-print",
    "hairs in the clear coat": "dust-in-the-clear dust-under-the-seal",
    "got a fold in it and it dried": "fold-has-set",
    "wash ran around the decal": "wash-gathers-at-edge",
    "white line around cut edge": "white-edge-at-the-cut white-peeps-out",
    "colour fading after a year": "colours-fade-on-the-shelf",
    "sanded through": "sanded-into-the-colour",
}


def found(seen, stage="", most=8):
    return [INDEX.ids[each.place] for each in ranked(understood(seen, INDEX), INDEX, stage, most)]


def ask(**inputs):
    *_, (text, _) = answer(json.dumps({"do": "answer", "calculator": "symptom-finder", "inputs": inputs}))
    return json.loads(text)


def test_our_own_queries_find_their_entry_in_three():
    missed = [seen for seen, right in OURS.items() if not set(found(seen, most=3)) & set(right.split())]
    assert len(missed) <= 0.1 * len(OURS), missed


def test_nearly_every_entry_is_found_by_its_own_title():
    """All except those whose titles consist of very common words."""
    missed = [each.id for each in tables.load("troubleshooting") if each.id not in found(each.title, most=2)]
    assert len(missed) <= 2, missed


@pytest.mark.parametrize(
    ("slip", "right"),
    [
        ("silvry patchs", "silvering"),
        ("wirnkles under softner", "wrinkles-under-softener"),
        ("fingrprint in print", "fingerprint-in-the-print"),
        ("stairscase edges", "stepped-edges"),
    ],
)
def test_typing_slips_are_corrected_and_reported(slip, right):
    assert right in found(slip, most=3)
    reply = ask(seen=slip)
    assert any("was read as" in each for each in reply["result"]["reasons"])


def test_a_stage_puts_its_own_entries_first():
    for stage in ("seal", "finish"):
        stages = [INDEX.stages[INDEX.ids.index(each)] for each in found("a white veil", stage)]
        assert stages[0] == stage
        assert set(stages) - {stage}, "entries of other stages are kept"


def test_a_match_is_explained_word_by_word():
    rows = ask(seen="frosted after spraying")["result"]["entries"]
    assert rows[0]["entry"]["page"] == "rescue/seal-turns-milky/"
    assert "frosted" in rows[0]["why"] and "spraying" in rows[0]["why"]
    link = ask(seen="frosted after spraying")["view"]["entries"]["rows"][0]["entry"]
    assert link["href"] == "../../rescue/seal-turns-milky/"


def test_a_synonym_is_shown_with_the_entry_s_word():
    rows = {each["entry"]["page"]: each["why"] for each in ask(seen="blister")["result"]["entries"]}
    assert "blister" in rows["rescue/blisters-under-film/"]
    rows = {each["entry"]["page"]: each["why"] for each in ask(seen="serrated")["result"]["entries"]}
    assert rows["rescue/stepped-edges/"].startswith("serrated (there: ")


def test_a_phrase_counts_as_its_words_without_repeating_them():
    reply = ask(seen="my sticker fell off the wing")
    why = next(
        each["why"] for each in reply["result"]["entries"] if each["entry"]["page"] == "rescue/slides-about-when-dry/"
    )
    assert why == "sticker (there: marking), fell, off"
    assert reply["result"]["reasons"][0].endswith("has 3 of your 4 words, or words that mean the same.")


def test_unknown_words_are_reported():
    reply = ask(seen="xyzzyx qqqqq")
    assert reply["result"]["verdict"] == "none"
    assert [each["entry"]["page"] for each in reply["result"]["entries"]] == ["rescue/troubleshooting/"]
    reply = ask(seen="silver patches xyzzyx frobnicate")
    assert reply["result"]["verdict"] == "unsure"
    assert "No entry has “xyzzyx” or a word that means the same." in reply["result"]["reasons"]


def test_only_common_words_find_nothing():
    assert ask(seen="it is what it was")["result"]["verdict"] == "none"


def test_every_word_of_the_synonyms_leads_to_an_entry():
    """A row of synonyms without a word of any entry is useless."""
    idle = [
        row.id
        for row in tables.load("synonyms")
        if not any(INDEX.term(stem(each)) for text in (row.label, *row.words) for each in words(text))
    ]
    assert idle == []


@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        ("kitten", "sitting", 3),
        ("flaw", "lawn", 2),
        ("saturday", "sunday", 3),
        ("gumbo", "gambol", 2),
        ("ca", "ac", 1),
        ("same", "same", 0),
    ],
)
def test_the_distance_of_two_words(one, other, apart):
    """The examples that textbooks print for Levenshtein's distance, and one swap of neighbours."""
    assert distance(one, other, 5) == apart
    assert distance(one, other, apart) == apart
    assert distance(one, other, max(0, apart - 1)) >= min(apart, max(0, apart - 1) + 1)

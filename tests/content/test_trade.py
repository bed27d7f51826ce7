"""Trade advice in pages, tables and entries where a wrong word spoils work or harms somebody.

No document publishes these: they are common practice, unless a source is beside the check.
"""

import math
import re
from pathlib import Path

import pytest

from builder.cautions import cautions_for, plain_words
from calculators import tables
from tests.content.test_content import CONTENT, PAGES, body_of, name_of, one_line

ENTRIES = tables.load("troubleshooting")


@pytest.fixture(scope="module")
def printed(printed_pages):
    """The words of a page as the builder prints it, by its path."""
    out, _ = printed_pages
    return lambda path: plain_words((out / path).read_text("utf-8")).replace("\N{NO-BREAK SPACE}", " ")


def text_of(page: str) -> str:
    return one_line(body_of(CONTENT / page))


def entry_words(row) -> list[str]:
    return [*(part for each in row.causes for part in (each.cause, each.test, each.now)), *row.avoid, *row.never]


def everywhere() -> list[tuple[str, str]]:
    """Each page, entry and text of a row, by its place."""
    found = [(name_of(page), one_line(body_of(page))) for page in PAGES]
    found += [(f"rescue/{row.id}", one_line(" ".join(entry_words(row)))) for row in ENTRIES]
    for table in ("substrates", "print-settings", "coats", "fluids", "drying-times", "ways"):
        for row in tables.load(table):
            texts = [
                getattr(row, name)
                for name, column in tables.columns(type(row)).items()
                if column.holds in ("text", "texts")
            ]
            flat = (each for value in texts for each in ([value] if isinstance(value, str) else value))
            found.append((f"{table}/{row.id}", one_line(" ".join(flat))))
    return found


def sentences(text: str) -> list[str]:
    return re.split(r"(?<=[.!?])\s", text)


# -- A printer gets whole sheets


@pytest.mark.parametrize("page", ["print/run-the-line-test.md", "print/store-film.md"])
def test_a_line_test_needs_a_whole_sheet(page, printed):
    assert "whole sheet of" in text_of(page)
    assert "only where the printer's maker allows it" in text_of(page)
    assert {"jams", "hot-fuser"} <= {each.id for each in cautions_for(body_of(CONTENT / page))}


def test_no_text_feeds_a_scrap_to_a_printer():
    fed = re.compile(
        r"\bprint\b.* on an? (?:scrap|offcut)|\b(?:scrap|offcut)\b.*(?:for|into|through) (?:a|the) printer|\bfeed "
        r"an? (?:scrap|offcut)"
    )
    assert fed.search("print a [line test] on a scrap of it") and fed.search(
        "find a scrap, large enough for the printer"
    )
    assert [(where, each) for where, text in everywhere() for each in sentences(text) if fed.search(each)] == []


# -- Limits of solvents


def test_the_solvents_page_states_what_limits_do_not_mean(printed):
    page = printed("reference/solvents.md")
    for words in (
        "two agencies of the united states",
        "your local limit may be lower",
        "toluene and xylenes",
        "older limits",
        "not marked by these agencies",
    ):
        assert words in page, words


def test_unmarked_solvents_are_not_called_harmless_to_skin(printed):
    assert "taken up through the skin . not marked by these agencies" in printed("reference/solvents/toluene.md")
    assert "taken up through the skin . marked so by these agencies" in printed("reference/solvents/2-butoxyethanol.md")
    assert "taken up through the skin . no" not in printed("reference/solvents/toluene.md").replace("skin . not", "")


# -- Recoat windows, and how many passes


@pytest.mark.parametrize("page", ["finish/level-an-edge.md", "finish/protect-the-marking.md"])
def test_how_tos_with_lacquer_name_its_recoat_window(page, printed):
    text = printed(page)
    for coat in ("clear-lacquer", "clear-lacquer-airbrush"):
        assert tables.row("coats", coat).recoat_until.in_words.replace("\N{NO-BREAK SPACE}", " ") in text
    assert "recoat window" in text and "if it has closed, leave the lacquer 1 to 2 days" in text
    assert tables.row("drying-times", "lacquer-between-coats").usual.in_words.replace("\N{NO-BREAK SPACE}", " ") in text


def test_passes_to_level_equal_film_over_build_per_pass(printed):
    """Dry film of a pass is wet film times solids by volume; the film is 10 to 40 µm (estimates)."""
    film, lacquer = tables.row("substrates", "clear-inkjet").thickness, tables.row("coats", "clear-lacquer")
    most_of_a_pass = lacquer.wet_film.high * lacquer.solids.high / 100
    least_of_a_pass = lacquer.wet_film.low * lacquer.solids.low / 100
    fewest, most = math.ceil(film.low / most_of_a_pass), math.ceil(film.high / least_of_a_pass)
    assert (fewest, most) == (2, 50)
    text = printed("finish/level-an-edge.md")
    assert f"{fewest} to {most} passes" in text
    assert "a few coats" not in text


# -- The cut edge


def test_only_sealed_edges_may_be_brushed():
    assert "the cut edge of a sealed sheet may be brushed; an unsealed face never" in text_of(
        "seal/seal-the-cut-edge.md"
    )
    why = {each.what: each.why for each in tables.row("coats", "clear-acrylic-water").over}["printers/inkjet-dye"]
    assert "unsealed face, never brush it there" in why and "cut edge of a sealed sheet may be brushed" in why
    never = " ".join(tables.row("troubleshooting", "ink-runs-under-sealer").never)
    assert "bare face" in never


def test_each_sealed_edge_gives_both_waits():
    for page in ("seal/seal-the-cut-edge.md", "sheet/keep-ink-from-the-cut-edge.md"):
        assert 'wait("cut-edge-before-water") }} with lacquer' in text_of(
            page
        ) and 'wait("seal-water-before-water")' in text_of(page)
    assert "dries sooner than the face of the sheet" in text_of("seal/seal-the-cut-edge.md")
    assert {"cut-edge-before-water", "seal-water-before-water"} <= set(
        tables.row("troubleshooting", "ink-bleeds-at-cut-edge").waits
    )


# -- Silver


UNCOATED = ("rescue/treat-silvering.md", "apply/why.md")


def test_uncoated_silvering_is_pricked_and_softened():
    for text in (*map(text_of, UNCOATED), one_line(tables.row("troubleshooting", "silvering").causes[0].now)):
        assert "prick" in text and "softening fluid" in text
        assert "two or three places" not in text
    assert (
        "many times" in text_of("rescue/treat-silvering.md")
        and "many times" in tables.row("troubleshooting", "silvering").causes[0].now
    )


def test_coated_silvering_is_slit_filled_or_replaced():
    coated = [*map(text_of, UNCOATED), one_line(tables.row("troubleshooting", "silver-comes-back").causes[0].now)]
    for text in coated:
        assert "slit" in text and "thinned clear" in text
        assert "replace the marking" in text or "use a spare" in text
        assert "only taking the marking off helps" not in text
    assert not any("prick" in each.now.lower() for each in tables.row("troubleshooting", "silver-comes-back").causes)


# -- Photo setting


def test_the_photo_setting_does_not_claim_less_ink():
    """Photo media usually get as much ink as plain paper or more, in finer drops."""
    found = [
        (where, each)
        for where, text in everywhere()
        for each in sentences(text)
        if re.search(r"\bless ink\b", each) and not re.search(r"\bnot lay less ink\b", each)
    ]
    assert found == []
    assert (
        "finer drops" in text_of("print/why.md")
        and "finer drops" in tables.row("print-settings", "inkjet-dye-on-clear-inkjet").media
    )


# -- The coated side

COATED = [row for row in tables.load("substrates") if row.kind in ("clear film", "white film")]


@pytest.mark.parametrize("row", COATED, ids=lambda row: row.id)
def test_the_coated_side_is_found_by_finger_or_by_drop(row):
    if "inkjet-dye" in row.printers:
        assert "damp finger" in row.coated_side and "grips the coated side" in row.coated_side
    else:
        assert "drop of water stands on the film and soaks into the backing paper" in row.coated_side


def test_no_side_test_relies_on_curling_paper():
    texts = [row.coated_side for row in tables.load("substrates")]
    texts += [text_of("print/find-the-coated-side.md"), text_of("print/index.md")]
    texts += entry_words(tables.row("troubleshooting", "printed-on-the-backing")) + entry_words(
        tables.row("troubleshooting", "ink-beads-on-film")
    )
    texts.append((CONTENT / "figures" / "find-the-coated-side.svg").read_text("utf-8"))
    assert [each for each in texts if re.search(r"\bcurls\b", each)] == []


def test_stage_entry_and_how_to_find_the_side_alike():
    entry = one_line(" ".join(entry_words(tables.row("troubleshooting", "printed-on-the-backing"))))
    for text in (text_of("print/index.md"), entry):
        assert re.search(r"damp finger grips the coated side", text) and re.search(
            r"drop (?:of water )?stands on the film and soaks into the", text
        )


# -- The page about safety


@pytest.mark.parametrize(
    "words",
    [
        "eye protection",
        "first aid",
        "rinse with plenty of water",
        "extinguisher",
        "type a (en 14387)",
        "organic vapor",
        "a mask has to fit",
        "beard",
        "motor outside the air stream",
        "butyl rubber",
        "laminate",
        "thin nitrile is for splashes only",
        "acetone, isopropyl alcohol",
        "heat gun",
    ],
)
def test_the_safety_page_is_complete(words):
    """First aid and extinguishing as on International Chemical Safety Cards; fan and mask by rules for workplaces."""
    assert words in text_of("safety.md").replace("**", "")


# -- Others


def test_choke_advice_points_to_the_table_of_ways():
    advice = " ".join(tables.row("troubleshooting", "white-peeps-out").avoid)
    assert "table of ways" in advice and "table of films" not in advice
    assert tables.row("ways", "backing-piece").choke is not None


def test_sun_bleaching_a_yellow_sheet_states_its_risk():
    advice = " ".join(tables.row("troubleshooting", "old-film-shatters").never)
    assert "sun" in advice and "brittle" in advice and "fade" in advice and "Many people do it" in advice
    assert "Do not bake" not in advice


def test_pages_print_every_required_wait():
    assert 'wait("gloss-urethane-before-marking")' in text_of("apply/prepare-the-paint.md")
    for id in ("gloss-urethane-before-final-sheen", "gloss-oil-before-final-sheen"):
        assert f'wait("{id}")' in text_of("finish/bring-the-sheen-together.md")


def test_the_searched_texts_exist():
    assert len(everywhere()) > 250 and Path(CONTENT / "safety.md").is_file()

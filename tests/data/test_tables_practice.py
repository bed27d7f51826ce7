"""Common practice of the trade: ranges that must include the usual values, and facts that must have a row.

Common practice has no source; practitioners agree on these values. The rows carry the same mark.
"""

import pytest

from calculators import tables
from calculators.tables import HOURS

FILMS = [row for row in tables.load("substrates") if row.kind in ("clear film", "white film")]


def _hours(row: str, part: str) -> tuple[float, float]:
    return getattr(tables.row("drying-times", row), part).hours


# -- Waits


@pytest.mark.parametrize("row", ["ink-before-seal", "ink-white-film-before-seal"])
def test_ink_waits_at_least_twenty_to_thirty_minutes(row):
    low, high = _hours(row, "shortest")
    assert low <= 20 / 60 and 30 / 60 <= high
    assert _hours(row, "usual")[0] >= 1, "usually hours"
    assert "finger" in tables.row("drying-times", row).ends and "waste corner" in tables.row("drying-times", row).ends


def test_heavy_ink_waits_overnight():
    low, high = _hours("ink-heavy-before-seal", "usual")
    assert low <= 12 <= high
    assert _hours("ink-heavy-before-seal", "shortest")[0] > _hours("ink-before-seal", "shortest")[0]


def test_sealer_is_left_overnight_before_water():
    low, high = _hours("seal-before-water", "usual")
    assert low <= 12 <= high


def test_sealer_is_sprayed_from_about_200_mm():
    distance = tables.row("coats", "clear-lacquer").distance
    assert distance.low <= 200 <= distance.high
    assert distance.unit == "mm"


def test_a_minute_or_less_in_water():
    longest = tables.row("drying-times", "soak").longest
    assert longest.hours[1] == pytest.approx(1 / 60)
    assert tables.row("drying-times", "soak").attended


def test_softener_settles_three_to_four_hours():
    low, high = _hours("settle-after-softener", "usual")
    assert low <= 3 and 4 <= high
    assert _hours("settle-after-softener", "shortest")[0] >= 3
    assert not tables.row("drying-times", "settle-after-softener").attended


@pytest.mark.parametrize(
    "row",
    [
        "ink-before-seal",
        "ink-heavy-before-seal",
        "ink-white-film-before-seal",
        "seal-before-water",
        "soak",
        "rest-out-of-water",
        "before-the-neighbour",
        "place-with-setter",
        "settle-after-softener",
        "marking-before-rinse",
        "rinse-before-protect",
        "seal-between-coats",
        "protect-between-coats",
        "final-cure",
        "paint-water-before-gloss",
        "paint-alcohol-before-gloss",
        "paint-lacquer-before-gloss",
        "paint-oil-before-gloss",
        "gloss-water-before-marking",
        "gloss-lacquer-before-marking",
        "backing-before-colour",
    ],
)
def test_every_wait_of_the_job_has_its_row(row):
    assert tables.row("drying-times", row)


def test_waits_rise_and_end_with_a_test():
    for row in tables.load("drying-times"):
        shortest, usual, longest = (getattr(row, part).hours for part in ("shortest", "usual", "longest"))
        assert shortest[0] <= usual[0] <= longest[1] and shortest[1] <= usual[1] <= longest[1], row.id
        assert row.lengthens and len(row.ends) > 20, row.id
        assert row.longest.unit in HOURS


def test_oil_paint_waits_longest_of_the_paints_beneath():
    oil = _hours("paint-oil-before-gloss", "usual")
    for other in ("paint-water-before-gloss", "paint-alcohol-before-gloss", "paint-lacquer-before-gloss"):
        assert _hours(other, "usual")[0] < oil[0] and _hours(other, "usual")[1] < oil[1]


def test_every_coat_of_this_bench_has_its_wait():
    waited = {coat for row in tables.load("drying-times") for coat in row.coats}
    assert {row.id for row in tables.load("coats") if row.bench != "never"} <= waited


# -- Films and printers


def test_the_table_has_films_of_every_kind():
    kinds = {(row.kind, printer) for row in FILMS for printer in row.printers}
    for printer in ("inkjet-dye", "inkjet-pigment", "laser", "led"):
        assert ("clear film", printer) in kinds and ("white film", printer) in kinds
    assert ("clear film", "thermal-ribbon-white") in kinds and ("clear film", "white-toner") in kinds
    assert {"backing film", "proof paper", "stencil"} <= {row.kind for row in tables.load("substrates")}


def test_inkjet_film_never_goes_through_a_fuser():
    for row in FILMS:
        if "inkjet-dye" in row.printers:
            assert {"laser", "led", "white-toner"} <= set(row.never_printers), row.id
            assert row.seal == "must" and "melt" in row.why_never, row.id


def test_laser_film_never_goes_through_an_inkjet():
    for row in FILMS:
        if "laser" in row.printers:
            assert {"inkjet-dye", "inkjet-pigment"} <= set(row.never_printers), row.id
            assert "beads" in row.why_never and row.seal == "advised", row.id


def test_no_printer_both_accepts_and_rejects_a_film():
    for row in tables.load("substrates"):
        assert not set(row.never_printers) & {*row.printers, *row.maker_permits}, row.id
        assert bool(row.why_never) == bool(row.never_printers), row.id


def test_every_safe_pairing_has_a_setting_and_harmful_ones_none():
    settings = {(row.substrate, row.printer) for row in tables.load("print-settings")}
    for row in tables.load("substrates"):
        assert {(row.id, printer) for printer in row.printers} <= settings
        assert not {(row.id, printer) for printer in row.never_printers} & settings
    assert {printer for _, printer in settings} == set(tables.by_id("printers"))


def test_film_settings_use_best_photo_quality_for_glossy_media():
    for row in tables.load("print-settings"):
        if row.printer.startswith("inkjet") and tables.row("substrates", row.substrate) in FILMS:
            assert "best photo quality" in row.quality and "Glossy photo paper" in row.media, row.id
        assert "100 %" in row.scaling and "no fit to page" in row.scaling and "borderless" in row.scaling, row.id


def test_film_detail_is_never_finer_than_the_printer():
    for row in tables.load("print-settings"):
        printer = tables.row("printers", row.printer)
        assert (
            row.thinnest_line.low >= printer.thinnest_line.low and row.thinnest_line.high >= printer.thinnest_line.high
        ), row.id
        assert row.thinnest_line_colour.high >= row.thinnest_line.high, row.id


def test_white_film_is_not_opaque_and_clear_film_is_clear():
    for row in FILMS:
        if row.kind == "white film":
            assert 0.4 <= row.contrast_ratio.low < row.contrast_ratio.high < 0.98, row.id
        else:
            assert row.contrast_ratio.high <= 0.1, row.id


def test_thickness_differs_by_a_factor_of_two_or_more():
    for row in FILMS:
        assert row.thickness.high / row.thickness.low >= 2, row.id


def test_backing_is_choked_by_a_tenth_to_three_tenths():
    assert "0.1 to 0.3 mm" in tables.row("substrates", "backing-white").edges


def test_never_laser_cut_vinyl():
    assert "hydrogen chloride" in tables.row("substrates", "stencil-vinyl").handling


# -- Coats and fluids


def test_two_part_urethane_is_not_for_a_hobby_bench():
    row = tables.row("coats", "clear-urethane-two-part")
    assert row.bench == "never" and row.methods == () and "supplied air" in row.caution
    assert {each.verdict for each in row.over} == {"never"}


def test_every_carrier_and_use_has_its_coat():
    coats = tables.load("coats")
    assert {row.carrier for row in coats} == {"water", "alcohol", "lacquer", "oil", "urethane"}
    assert {use for row in coats for use in row.uses} == {
        "primer",
        "paint",
        "gloss coat",
        "seal coat",
        "levelling coat",
        "final coat",
    }


def test_bench_coats_have_every_value_to_calculate_with():
    for row in tables.load("coats"):
        if row.bench != "never":
            assert all(
                (row.wet_film, row.solids, row.recoat_from, row.cooling, row.humidity, row.distance, row.passes)
            ), row.id


def test_fast_carriers_cool_more_than_slow_ones():
    cooling = {row.id: row.cooling for row in tables.load("coats") if row.cooling}
    assert (
        cooling["clear-oil"].high
        <= cooling["clear-acrylic-water"].high
        < cooling["clear-acrylic-alcohol"].high
        < cooling["clear-lacquer"].high
    )


def test_lacquer_never_goes_over_oil_paint():
    for row in tables.load("coats"):
        if row.carrier == "lacquer":
            verdicts = {each.what: each.verdict for each in row.over}
            assert verdicts["coats/paint-oil"] == "never", row.id


def test_every_fluid_is_judged_on_all_four_surfaces():
    for row in tables.load("fluids"):
        judged = {each.what for each in row.against}
        assert len(judged) == len(row.against), f"{row.id} judges something twice"
        assert {
            "substrates/clear-inkjet",
            "substrates/clear-laser",
            "printers/inkjet-dye",
            "printers/laser",
        } <= judged, row.id
        assert {"coats/clear-lacquer", "coats/clear-acrylic-water"} <= judged, row.id
        assert any(each.startswith("coats/paint-") for each in judged), row.id


def test_no_watery_fluid_is_safe_on_bare_dye_ink():
    for row in tables.load("fluids"):
        if row.id != "white-spirit-cleaner":
            assert {each.what: each.verdict for each in row.against}["printers/inkjet-dye"] == "never", row.id


def test_acid_and_ammonia_warn_against_bleach():
    for id in ("mild-acid-setter", "vinegar-in-water", "ammonia-cleaner"):
        assert "Never mix" in tables.row("fluids", id).caution and "bleach" in tables.row("fluids", id).caution


def test_drying_oils_carry_the_oily_rag_warning():
    rows = [
        *(row for row in tables.load("coats") if row.carrier == "oil"),
        tables.row("fluids", "white-spirit-cleaner"),
    ]
    assert len(rows) >= 3
    for row in rows:
        assert "Oily rags can heat by themselves" in row.caution, row.id


def test_the_data_sheet_governs_every_spray_and_every_solvent():
    rows = [
        *tables.load("coats"),
        *(row for row in tables.load("fluids") if row.solvents and row.id != "vinegar-in-water"),
    ]
    for row in rows:
        assert "safety data sheet governs" in row.caution, row.id


def test_aerosols_have_a_complete_caution():
    for row in tables.load("coats"):
        if "spray can" in row.methods:
            for words in (
                "Outdoors or with an extract fan suited to vapours",
                "no ignition source",
                "Never warm a can",
                "cartridge plus particle filter",
                "gloves",
            ):
                assert words in row.caution, f"{row.id}: {words}"

"""Vapour against the limits of NIOSH and OSHA; mixtures by 29 CFR 1910.1000(d)(2) and Le Chatelier, by arithmetic."""

import itertools

import pytest

from calculators import tables
from calculators.read import read
from calculators.seal.vapour import CALCULATOR, airflow_m3h
from calculators.seal.vapour_curve import Curve, mass_of_ppm
from calculators.seal.vapour_fields import LEVELS, ROW_LEVELS, VapourInputs
from calculators.seal.vapour_limits import CEILING, DAY, EXPLOSIVE, SHORT, Part, explosive_ppm, limit_of, mixture
from calculators.tables import COMMON_PRACTICE, Fact
from calculators.tables.coating_rows import Solvent
from calculators.tables.declaration import Origin
from calculators.units import MM
from calculators.view import view
from tests.calculators.test_declarations import ask

SOLVENTS = tables.load("solvents")


def asked(*parts: tuple[str, float], **typed):
    rows = [{"solvent": solvent, "parts": str(share)} for solvent, share in parts]
    reading = read(VapourInputs, {**({"parts": rows} if rows else {}), **typed})
    assert not reading.problems, reading.problems
    return CALCULATOR.answer(reading.inputs)


def shares(answered, when: str) -> dict[str, float | None]:
    return {row.part: row.share for row in answered.limits if row.when.startswith(when)}


def told(answered) -> str:
    return " ".join(view(answered, MM)["verdict"]["reasons"])


# -- The limits


@pytest.mark.parametrize(
    ("solvent", "kind", "agency", "ppm"),
    # As NIOSH and OSHA print them: tests/published/solvents_agency.csv.
    [
        ("acetone", DAY, "niosh", 250),
        ("toluene", DAY, "niosh", 100),
        ("toluene", SHORT, "niosh", 150),
        ("toluene", CEILING, "osha", 300),
        ("2-butoxyethanol", DAY, "niosh", 5),
        ("ethyl-acetate", DAY, "niosh", 400),
    ],
)
def test_the_stricter_agency_counts(solvent, kind, agency, ppm):
    found = limit_of(Part("x", tables.row("solvents", solvent), 1.0), kind)
    assert (found.agency, found.ppm) == (agency, ppm)


def test_a_limit_by_mass_is_stricter_than_one_by_volume():
    """NIOSH prints 350 mg/m³ for white spirit, OSHA 500 ppm; at 140 g/mol 350 mg/m³ are 61 ppm."""
    found = limit_of(Part("x", tables.row("solvents", "white-spirit"), 1.0), DAY)
    assert found.agency == "niosh" and found.mass == 350
    assert found.ppm == pytest.approx(350 * 24.45 / 140)


def test_a_lower_local_limit_counts_and_a_higher_one_does_not():
    acetone = tables.row("solvents", "acetone")
    assert limit_of(Part("x", acetone, 1.0, local_day_ppm=100.0), DAY).agency == "local"
    assert limit_of(Part("x", acetone, 1.0, local_day_ppm=900.0), DAY).ppm == 250


@pytest.mark.parametrize(("solvent", "ppm"), [("isopropanol", 20_000), ("acetone", 25_000), ("toluene", 10_000)])
def test_the_lower_explosive_limit_is_the_lower_of_two_sources(solvent, ppm):
    """2.0 % (NIOSH); 2.5 % (IEC 60079-20-1) against 2.6 %; 1.0 % (IEC) against 1.1 %."""
    assert explosive_ppm(tables.row("solvents", solvent)) == pytest.approx(ppm)


# -- Mixtures


def made_up(explosive: float) -> Solvent:
    fact = Fact(explosive, explosive, "%", COMMON_PRACTICE)
    words = dict.fromkeys(("found_in", "gloves", "ventilation", "ignition", "skin", "disposal", "cas"), "")
    return Solvent(id="x", label="x", source=Origin(COMMON_PRACTICE), lower_explosive=fact, through_skin=False, **words)


def test_half_and_half_lights_at_le_chatelier_s_limit():
    """1 / (0.5/2.5 + 0.5/1.1) = 1.5278 %, of which each part is half."""
    parts = [Part(name, made_up(limit), 0.5 * 15_278) for name, limit in (("a", 2.5), ("b", 1.1))]
    assert mixture(parts, EXPLOSIVE, lambda part: explosive_ppm(part.solvent), 1.0).share == pytest.approx(1, abs=1e-4)


def test_a_mixture_is_the_sum_of_concentration_over_limit():
    """29 CFR 1910.1000(d)(2): C1/L1 + C2/L2 + C3/L3, with the 8-hour means of a release at constant rate."""
    answered = asked(("acetone", 50), ("toluene", 30), ("n-butyl-acetate", 20), amount_g="200", room_m3="40")
    mean = Curve(0.5, 0.5).worst_mean(8)
    direct = 0.0
    for grams, molar_mass, limit in ((100, 58.08, 250), (60, 92.1, 100), (40, 116.2, 150)):
        direct += grams / molar_mass * 24_450 / 40 * mean / limit
    assert shares(answered, "Worst 8 hours")["All parts together"] == pytest.approx(100 * direct)


def test_water_and_solids_take_their_share_of_the_weight():
    whole = shares(asked(("acetone", 100)), "Worst 8 hours")["acetone"]
    assert shares(asked(("acetone", 40), ("stays", 60)), "Worst 8 hours")["acetone"] == pytest.approx(0.4 * whole)


@pytest.mark.parametrize("lacking", ["1-methoxy-2-propanol", "dimethyl-ether", "other"])
def test_a_part_without_a_limit_leaves_no_verdict_and_is_named(lacking):
    answered = asked(("acetone", 99), (lacking, 1), amount_g="0.1")
    assert answered.verdict == "unknown"
    assert shares(answered, "Worst 8 hours")["All parts together"] is None
    name = "the part in row 2" if lacking == "other" else tables.row("solvents", lacking).label
    assert name.lower() in told(answered).lower()
    assert answered.needed_m3h is None and answered.until_share_h is None


def test_a_part_without_an_explosive_limit_leaves_that_verdict_open():
    answered = asked(("white-spirit", 100))
    assert answered.explosive_percent is None
    assert "explosive limit: no figure for white spirit" in told(answered)


def test_a_part_over_its_limit_fails_whatever_else_is_unknown():
    assert asked(("acetone", 50), ("other", 50), amount_g="2000").verdict == "over"


def test_a_can_without_a_named_propellant_gets_no_verdict():
    without = asked(("acetone", 100), product="can", amount_g="0.1")
    assert without.verdict == "unknown" and "propellant" in told(without)
    with_it = asked(("acetone", 60), ("propane", 40), product="can", amount_g="0.1")
    assert with_it.verdict == "below"
    assert shares(with_it, "Worst 8 hours")["propane"] > 0


# -- The verdict, and what is never said


@pytest.mark.parametrize(
    "solvent", [row for row in SOLVENTS if row.niosh_twa or row.niosh_twa_mass], ids=lambda r: r.id
)
def test_the_verdict_turns_at_the_limit_and_at_a_tenth_of_it(solvent):
    once = asked((solvent.id, 1), amount_g="1", airflow_by="none", release_min="1")
    worst = max(row.share for row in once.limits if row.share is not None) / 100
    for grams, verdict in ((1.01 / worst, "over"), (0.99 / worst, "near-work"), (0.099 / worst, "below")):
        typed = {"amount_g": f"{grams:.6f}", "airflow_by": "none", "release_min": "1"}
        if 0.01 <= grams <= 100_000:
            assert asked((solvent.id, 1), **typed).verdict == verdict


def test_no_level_is_green():
    assert "pass" not in {level for level, _title in (*LEVELS.values(), *ROW_LEVELS.values())}


def test_every_answer_says_what_it_is_not():
    """Cautions of the trade: planning only, mist, whom limits do not cover, and what governs."""
    for product, amount in itertools.product(("liquid", "can"), ("0.01", "10", "5000")):
        words = told(asked(("acetone", 60), ("propane", 40), product=product, amount_g=amount))
        for each in ("never a clearance", "mist is not counted", "children, pregnancy or asthma", "safety data sheet"):
            assert each in words
    assert all(each in CALCULATOR.cautions[0] for each in ("never a clearance", "mist", "pregnancy", "data sheet"))


def test_a_part_that_goes_through_the_skin_is_named():
    """Both agencies mark 2-butoxyethanol [skin]."""
    assert "through the skin" in told(asked(("2-butoxyethanol", 1)))
    assert "through the skin" not in told(asked(("acetone", 1)))


def test_nothing_says_that_air_is_safe():
    for amount in ("0.01", "1", "100"):
        words = told(asked(amount_g=amount)).lower()
        assert " safe " not in words and "safe to" not in words and "harmless" not in words


def test_two_part_urethane_is_refused_with_the_reason():
    answered = asked(product="two-part", airflow_by="flow", flow_m3h="100000", amount_g="0.01")
    assert answered.verdict == "refused" and answered.limits == () and answered.needed_m3h is None
    assert "isocyanates" in told(answered) and "supplied air" in told(answered)


# -- Airflow, amounts and time


def test_a_bag_of_sixty_litres_in_five_seconds_is_43_cubic_metres_an_hour():
    """60 L / 5 s x 3600 s/h = 43.2 m³/h; a fan's label of 300 counts a third; 0.5 changes of 30 m³ are 15."""
    for typed, flow in (
        ({"airflow_by": "bag", "bag_l": "60", "bag_s": "5"}, 43.2),
        ({"airflow_by": "label", "label_m3h": "300"}, 100),
        ({"airflow_by": "changes"}, 15),
        ({"airflow_by": "none"}, 0),
        ({"airflow_by": "flow", "flow_m3h": "100 cfm"}, 6000 * 0.3048**3),
    ):
        assert airflow_m3h(read(VapourInputs, typed).inputs) == pytest.approx(flow)


@pytest.mark.parametrize("factor", [1, 3, 10])
def test_the_needed_airflow_just_keeps_every_limit(factor):
    """At the airflow found, the factor times the largest share is 1."""
    typed = {"amount_g": "400", "release_min": "60"}
    name = {1: "needed_m3h", 3: "needed_3_m3h", 10: "needed_10_m3h"}[factor]
    needed = getattr(asked(("toluene", 50), ("acetone", 50), **typed), name)
    there = asked(("toluene", 50), ("acetone", 50), airflow_by="flow", flow_m3h=f"{needed:.6f}", **typed)
    worst = max(row.share for row in there.limits if row.share is not None)
    assert factor * worst == pytest.approx(100, rel=0.003) and factor * worst <= 100


def test_a_volume_is_weighed_by_the_density_of_the_table():
    """Acetone: 0.792 g/mL in the table, so 10 mL are 7.92 g; a US fluid ounce is 29.57 mL."""
    density = tables.row("solvents", "acetone").density.value
    by_volume = asked(("acetone", 1), amount_by="volume", amount_ml="10")
    by_weight = asked(("acetone", 1), amount_g=f"{10 * density}")
    assert shares(by_volume, "Worst 8")["acetone"] == pytest.approx(shares(by_weight, "Worst 8")["acetone"])
    ounce = asked(("acetone", 1), amount_by="volume", amount_ml="1 fl oz")
    assert shares(ounce, "Worst 8")["acetone"] == pytest.approx(
        2.95735 * shares(by_volume, "Worst 8")["acetone"], rel=1e-5
    )


def test_a_volume_without_a_density_is_a_clear_problem():
    (problem,) = ask(CALCULATOR, {"amount_by": "volume", "parts": [{"solvent": "white-spirit", "parts": "1"}]})[
        "problems"
    ]
    assert problem["field"] == "amount_ml" and "white spirit" in problem["text"] and "grams" in problem["hint"]


def test_nothing_that_evaporates_is_a_clear_problem():
    (problem,) = ask(CALCULATOR, {"parts": [{"solvent": "stays", "parts": "1"}]})["problems"]
    assert problem["field"] == "parts" and "evaporates" in problem["text"]


def test_a_room_of_nothing_is_a_clear_problem():
    (problem,) = ask(CALCULATOR, {"room_m3": "0"})["problems"]
    assert problem["field"] == "room_m3" and "takes a number from 1 to 100000 m³" in problem["text"]


def test_the_time_until_a_share_follows_the_decay():
    """At 10 % of 250 ppm acetone: T + ln(peak / 25 ppm) / k."""
    answered = asked(("acetone", 1), amount_g="50")
    curve = Curve(0.5, 0.5)
    closed = 50 / 58.08 * 24_450 / 30
    assert curve.at(answered.until_share_h) * closed == pytest.approx(25)


def test_the_face_speed_of_a_booth_is_airflow_over_opening():
    """360 m³/h through 500 x 400 mm: 0.1 m³/s over 0.2 m² is 0.5 m/s."""
    typed = {"booth_width_mm": "500", "booth_height_mm": "400"}
    assert asked(airflow_by="flow", flow_m3h="360", **typed).face_speed_m_s == pytest.approx(0.5)


def test_cubic_feet_are_answered_in_cubic_feet_per_minute():
    reply = ask(CALCULATOR, {"airflow_by": "flow", "flow_m3h": "100 cfm"})
    assert (reply["view"]["flow_m3h"]["shown"], reply["view"]["flow_m3h"]["unit"]) == ("100", "cfm")


def test_a_dash_is_shown_in_place_of_no_fresh_air():
    assert asked(amount_g="0.01").needed_m3h is None


@pytest.mark.parametrize("row", [row for row in SOLVENTS if row.density], ids=lambda row: row.id)
def test_densities_come_from_a_package_and_fit_the_usual_range(row):
    """Perry's table of liquid densities, by chemicals 1.5.2; organic solvents lie between 0.6 and 1.1 g/mL."""
    assert row.density.status == "package" and 0.6 < row.density.low <= row.density.high < 1.1


def test_ppm_and_milligrams_are_both_told():
    answered = asked(("acetone", 1), amount_g="50")
    row = next(each for each in answered.limits if each.when == "Worst 8 hours")
    ppm, mass = (float(each) for each in row.here.replace(" mg/m³)", "").split(" ppm ("))
    assert mass == pytest.approx(mass_of_ppm(ppm, 58.08), rel=0.01)

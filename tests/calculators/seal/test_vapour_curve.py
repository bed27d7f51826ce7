"""Vapour in well-mixed air against scipy's integrator, numeric means, and printed conversions of NIOSH."""

import csv
import itertools
import math
import re
from pathlib import Path

import numpy
import pytest
from scipy.integrate import quad, solve_ivp

from calculators.seal.vapour_curve import Curve, mass_of_ppm, ppm_of_mass

PUBLISHED = Path(__file__).resolve().parents[2] / "published" / "solvents_agency.csv"
CASES = list(itertools.product((0.02, 0.5, 3.0, 12.0), (0.0, 1e-5, 0.3, 4.0, 60.0)))


@pytest.mark.parametrize(("release", "changes"), CASES)
def test_the_curve_agrees_with_an_integrator(release, changes):
    """dC/dt = 1/T - k C up to T, and -k C after it: scipy.integrate.solve_ivp in two pieces, within 1e-6."""
    curve = Curve(release, changes)
    options = {"rtol": 1e-10, "atol": 1e-13, "method": "DOP853"}
    rising = numpy.linspace(0, release, 9)
    made = solve_ivp(lambda _, c: 1 / release - changes * c, (0, release), [0.0], t_eval=rising, **options)
    assert [curve.at(each) for each in rising] == pytest.approx(made.y[0], abs=1e-6)
    falling = numpy.linspace(release, release + 9, 10)
    after = solve_ivp(lambda _, c: -changes * c, (release, release + 9), [made.y[0][-1]], t_eval=falling, **options)
    assert [curve.at(each) for each in falling] == pytest.approx(after.y[0], abs=1e-6)


@pytest.mark.parametrize(("release", "changes"), CASES)
@pytest.mark.parametrize("window", [0.25, 8.0])
def test_worst_means_agree_with_numeric_means(release, changes, window):
    """The highest of 4000 means, each a sum over the fine grid of the curve."""
    curve = Curve(release, changes)
    step = window / 2000
    times = numpy.arange(0, release + 2 * window, step)
    values = numpy.array([curve.at(each) for each in times])
    sums = numpy.concatenate([[0.0], numpy.cumsum((values[1:] + values[:-1]) / 2 * step)])
    means = (sums[2000:] - sums[:-2000]) / window
    assert curve.worst_mean(window) == pytest.approx(means.max(), rel=2e-3, abs=1e-6)
    assert curve.worst_mean(window) <= curve.peak * (1 + 1e-12)


@pytest.mark.parametrize(("release", "changes"), CASES)
def test_the_integral_agrees_with_quadrature(release, changes):
    curve = Curve(release, changes)
    for end in (release / 3, release, release + 2):
        numeric = quad(curve.at, 0, end, points=[min(release, end)], limit=400)[0]
        assert curve.total(end) == pytest.approx(numeric, rel=1e-7, abs=1e-12)


def test_ten_millilitres_of_acetone_in_thirty_cubic_metres():
    """By arithmetic: 7.9 g / 58.08 g/mol x 24.45 L/mol in 30 m³ are 110.9 ppm, spilt at once into still air."""
    closed = ppm_of_mass(7.9, 58.08, 30)
    assert closed == pytest.approx(110.9, abs=0.05)
    assert closed * Curve(1e-6, 0.0).peak == pytest.approx(closed)


def test_an_hour_of_three_air_changes_leaves_five_percent():
    """50 m³ and 150 m³/h: exp(-3) = 4.98 %."""
    curve = Curve(1e-9, 150 / 50)
    assert curve.at(1.0) / curve.peak == pytest.approx(0.0498, abs=5e-5)
    assert curve.hours_until(curve.peak * math.exp(-3)) == pytest.approx(1.0, rel=1e-6)


def test_it_never_falls_in_still_air_and_at_once_below_a_higher_share():
    assert Curve(1.0, 0.0).hours_until(0.5) == math.inf
    assert Curve(1.0, 2.0).hours_until(1.0) == 0.0


def printed_limits() -> list[tuple[str, float, float, float]]:
    """Substance, molar mass, ppm and mg/m³ where an agency prints both."""
    found = []
    with PUBLISHED.open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            if not re.fullmatch(r"[0-9.]+", row["molar_mass"]):
                continue
            for ppm, mass in re.findall(r"([0-9]+) (?:ppm )?\(([0-9]+)", f"{row['niosh_rel']} ; {row['osha_pel']}"):
                found.append((row["substance"], float(row["molar_mass"]), float(ppm), float(mass)))
    return found


def test_conversions_are_within_three_percent_of_niosh_s_printed_figures():
    printed = printed_limits()
    assert len(printed) > 20
    for substance, molar_mass, ppm, mass in printed:
        assert mass_of_ppm(ppm, molar_mass) == pytest.approx(mass, rel=0.03), substance

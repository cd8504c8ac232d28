"""Tolerance advice against cases that can be worked out on paper."""

import math

import numpy as np
import pytest

from app.domain.authored.advice import SHARE, Verdict, advice
from app.domain.authored.entries import with_entry
from app.domain.measures import UnitSystem
from app.domain.scenario import Scenario
from tests.domain.authored.test_checking import TASK, complete, parsed


def scenario_with(key: str, tolerance: dict, spot: dict | None = None) -> Scenario:
    document = with_entry(complete(), "parts.0.tasks.0", {**TASK, "key": key, "tolerance": tolerance})
    fixed = {"name": "Tread", "mass_g": 20, "radius_mm": 300, "angle_deg": 90, "z_mm": 0, **(spot or {})}
    found = parsed(with_entry(document, "assemblies.0.heavy_spots", [fixed]))
    assert found.scenario is not None, found.faults
    return found.scenario


def quantile_of_two_uniforms(a: float, b: float) -> float:
    """The 95 % quantile of |u + v|, u and v uniform in [-a, a] and [-b, b]: the sum's density is a trapezoid.

    Elementary, worked out here: beyond x in either tail lies a share of (a + b - x)^2 / (8 a b); a >= b.
    """
    x = a + b - math.sqrt((1 - SHARE) / 2 * 8 * a * b)
    assert x >= a - b  # the quantile lies in the sloping part
    return x


def test_an_angle_that_is_read_off_moves_by_its_own_last_digit() -> None:
    """One heavy spot: the answer is its angle and half a turn; only the angle's rounding to 1° moves it. Of a
    uniform spread of ±0.5°, 95 % lie within ±0.475°."""
    (found,) = advice(scenario_with("assembly[A].single.angle_deg", {"absolute": 5}), UnitSystem.METRIC)
    assert found.moves == pytest.approx(0.475, abs=0.01)  # 4,000 redraws: standard error 0.002
    assert found.tolerance == 5
    assert found.verdict is Verdict.FAIR


FAR_MM = 20_000
"""A plane so far out that its own last digit moves nothing: what is left is mass times radius."""


def one_weight(units: UnitSystem) -> float:
    document = with_entry(
        complete(),
        "parts.0.tasks.0",
        {**TASK, "key": "assembly[A].single.mass_g", "tolerance": {"relative": 0.05}},
    )
    document = with_entry(document, "assemblies.0.wheel.inboard.radius_mm", FAR_MM)
    spot = {"name": "Tread", "mass_g": 20, "radius_mm": 300, "angle_deg": 90, "z_mm": 0}
    scenario = parsed(with_entry(document, "assemblies.0.heavy_spots", [spot])).scenario
    assert scenario is not None
    (found,) = advice(scenario, units)
    assert found.tolerance == pytest.approx(0.05 * 20 * 300 / FAR_MM)
    return found.moves


def test_a_product_of_two_readings_moves_by_both() -> None:
    """One weight is mass times radius over the plane's radius. In metric units the mass is shown to 0.1 g and
    the radius to 1 mm: half digits of 0.05 g at 300 mm make 15 g.mm, of 0.5 mm at 20 g make 10 g.mm."""
    expected = quantile_of_two_uniforms(0.05 * 300, 0.5 * 20) / FAR_MM
    assert one_weight(UnitSystem.METRIC) == pytest.approx(expected, rel=0.02)


def test_ounces_are_shown_more_coarsely_and_move_it_more() -> None:
    """0.005 oz is 0.14 g: at 300 mm 42.5 g.mm; 0.005 in is 0.127 mm: at 20 g 2.5 g.mm. The second hardly
    counts: nearly one uniform spread, whose 95 % quantile is 0.95 of its half width."""
    half_oz_gmm = 0.005 * 28.349523125 * 300  # NIST SP 811
    assert one_weight(UnitSystem.US) == pytest.approx(0.95 * half_oz_gmm / FAR_MM, rel=0.03)


def test_a_tolerance_below_what_the_readings_move_is_too_tight() -> None:
    (found,) = advice(scenario_with("assembly[A].single.angle_deg", {"absolute": 0.3}), UnitSystem.METRIC)
    assert found.verdict is Verdict.TOO_TIGHT
    assert found.kept == pytest.approx(0.6, abs=0.03)  # ±0.3° of ±0.5°


def test_a_tolerance_that_takes_a_slip_for_right_is_too_wide() -> None:
    document = with_entry(
        complete(),
        "parts.0.tasks.0",
        {**TASK, "key": "assembly[A].static.size_gmm", "tolerance": {"relative": 0.05}},
    )
    near = {"radius_mm": 310, "angle_deg": 0, "z_mm": 0}
    spots = [
        {"name": "one", "mass_g": {"low": 10, "high": 30}, **near},
        {"name": "two", "mass_g": 20, **near, "angle_deg": {"low": 0, "high": 90}},
    ]
    found = parsed(with_entry(document, "assemblies.0.heavy_spots", spots)).scenario
    assert found is not None
    (of_size,) = advice(found, UnitSystem.METRIC)
    assert of_size.verdict is Verdict.WRONG_PASSES
    assert "plain numbers" in of_size.passes


def test_the_same_scenario_always_gets_the_same_advice() -> None:
    scenario = scenario_with("assembly[A].single.mass_g", {"relative": 0.05})
    assert advice(scenario, UnitSystem.US)[0].moves == advice(scenario, UnitSystem.US)[0].moves


def test_a_balancers_repeatability_moves_what_it_reports() -> None:
    """The mass in one plane with a normal spread of 1 g in both directions: along it, 95 % lie within 1.96 g.

    The part across hardly changes the size of 30 g, and the rounding of what is read is far smaller.
    """
    document = with_entry(
        complete(),
        "parts.0.tasks.0",
        {**TASK, "key": "assembly[A].correction.inboard.mass_g", "tolerance": {"absolute": 3}},
    )
    spot = {"name": "Tread", "mass_g": 40, "radius_mm": 206, "angle_deg": 90, "z_mm": -40}
    document = with_entry(document, "assemblies.0.heavy_spots", [spot])
    document = with_entry(document, "bench", {"repeatability_g": 1.0})
    found = parsed(document).scenario
    assert found is not None
    (of_mass,) = advice(found, UnitSystem.METRIC)
    assert of_mass.moves == pytest.approx(1.96, rel=0.06)  # 4,000 redraws: standard error about 0.04
    assert np.isfinite(of_mass.kept)

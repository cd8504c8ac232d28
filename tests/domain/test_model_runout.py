"""Quantities of runout, force variation and match mounting, against published and hand-worked cases."""

from math import cos, radians
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.domain.measures import UnitSystem
from app.domain.model import AssemblyView
from app.domain.model.runout import dial_readings_mm, force_readings_n
from tests.domain.writing import assembly, first, small, variant
from tests.published.cases import case

HARMONICS = st.lists(
    st.tuples(st.integers(1, 5), st.integers(0, 200), st.integers(0, 359)),
    min_size=1,
    max_size=4,
    unique_by=lambda each: each[0],
)


def view_of(
    *,
    inboard: list[dict[str, Any]] | None = None,
    outboard: list[dict[str, Any]] | None = None,
    units: UnitSystem = UnitSystem.METRIC,
    **tire: Any,
) -> AssemblyView:
    seats = {"inboard": inboard or [], "outboard": outboard or []}
    wheel = {"bead_seats": seats} if inboard is not None else {}
    return variant(small([], assembly(wheel=wheel, tire=tire)), units=units).model.assembly("A")


def test_the_first_harmonic_is_reported_peak_to_peak_as_published() -> None:
    published = case("uniformity-r1h-is-peak-to-peak")
    cosine, sine = (published["given"][f"{name}_coefficient"] for name in ("cos", "sin"))
    high = float(np.rad2deg(np.arctan2(sine, cosine)))
    as_reported = published["expect"]["first_harmonic_as_reported"]
    view = view_of(force=[first(as_reported, high)], mean_force_n=4000)
    readings = (
        4000
        + cosine * np.cos(np.deg2rad(np.arange(0, 360, 10)))
        + sine * np.sin(np.deg2rad(np.arange(0, 360, 10)))
    )
    # Shown to a whole newton, so each reading is within half of one.
    assert np.abs(force_readings_n(view) - readings).max() <= 0.5 + 1e-5
    assert float(view.value("force.first_n")) == pytest.approx(as_reported, abs=0.3)


def test_a_wheel_makes_the_force_of_the_published_estimate() -> None:
    published = case("uniformity-force-from-runout")
    size, rate = published["given"]["radial_runout_pk_pk_mm"], published["given"]["stiffness_N_per_mm"]
    seat = [first(size, 0)]
    view = view_of(inboard=seat, outboard=seat, spring_rate_n_per_mm=rate)
    # The dial's divisions of 0.01 mm, once around, shift the first harmonic by less than half of one.
    assert float(view.value("wheel_force.first_n")) == pytest.approx(
        published["expect"]["rfv_pk_pk_N"], abs=0.005 * rate
    )


def test_the_harmonics_of_the_textbook_come_back_from_its_readings() -> None:
    # J. Bird, Higher Engineering Mathematics, Problem 1: the harmonics as authored give its readings again.
    published = case("harmonic-bird-problem-1")["expect"]
    amplitudes = [published[f"amplitude_{order}"] for order in (1, 2, 3)]
    coefficients = zip(published["a"], published["b"], strict=True)
    highs = [np.rad2deg(np.arctan2(b, a)) % 360 / k for k, (a, b) in enumerate(coefficients, 1)]
    force = [
        first(2 * size, high, order=k)
        for k, (size, high) in enumerate(zip(amplitudes, highs, strict=True), 1)
    ]
    view = view_of(force=force, mean_force_n=5000)
    assert float(view.value("force.first_n")) / 2 == pytest.approx(published["amplitude_1"], abs=0.2)
    assert float(view.value("force.high_deg")) == pytest.approx(published["phase_of_maximum_1_deg"], abs=0.2)


@given(HARMONICS)
def test_the_trace_is_the_sum_of_its_harmonics_rounded(harmonics: list[tuple[int, int, int]]) -> None:
    view = view_of(
        force=[first(size, high, order=order) for order, size, high in harmonics], mean_force_n=3000
    )
    exact = [
        3000 + sum(size / 2 * cos(radians(order * (10 * at - high))) for order, size, high in harmonics)
        for at in range(36)
    ]
    assert np.abs(force_readings_n(view) - exact).max() <= 0.5 + 2e-6


def test_a_dial_is_zeroed_at_the_valve_and_read_by_its_divisions() -> None:
    for units, step in ((UnitSystem.METRIC, 0.01), (UnitSystem.US, 0.0254)):
        view = view_of(inboard=[first(0.5, 60)], outboard=[first(0.5, 60)], units=units)
        readings = dial_readings_mm(view, "inboard")
        assert readings.shape == (12,)
        assert readings[0] == 0
        np.testing.assert_allclose(readings / step, np.round(readings / step), atol=1e-9)
        exact = 0.25 * (np.cos(np.deg2rad(np.arange(12) * 30 - 60)) - 0.5)
        assert np.abs(readings - exact).max() <= step / 2 * (1 + 1e-5)


def test_a_reading_half_way_between_divisions_goes_up_on_every_machine() -> None:
    # Peak 0.05 at 0 degrees: cos 120 = -1/2 makes exactly 0.075 below zero, cos 60 makes 0.025 below.
    view = view_of(inboard=[first(0.1, 0)], outboard=[first(0.1, 0)])
    readings = dial_readings_mm(view, "inboard")
    assert readings[[2, 4]] == pytest.approx([-0.02, -0.07], abs=1e-12)


def test_the_average_of_both_seats_is_an_average_of_arrows() -> None:
    view = view_of(inboard=[first(0.6, 0)], outboard=[first(0.8, 90)])
    # 3-4-5: the mean of perpendicular 0.6 and 0.8 is 0.5, at 53.13 degrees.
    assert float(view.value("runout.average.first_mm")) == pytest.approx(0.5, abs=0.005)
    assert float(view.value("runout.average.high_deg")) == pytest.approx(53.13, abs=0.6)


def test_match_mounting_worked_by_hand() -> None:
    # Tire 100 N at 30 degrees, wheel 0.5 mm x 200 N/mm = 100 N at 90: together 200 cos 30 = 173.2 N at 60.
    # The low spot is at 270, so the tire goes 240 clockwise, which is 120 back; nothing remains.
    seat = [first(0.5, 90)]
    view = view_of(inboard=seat, outboard=seat, force=[first(100, 30)], spring_rate_n_per_mm=200)
    assert float(view.value("force.first_n")) == pytest.approx(173.2, abs=0.5)
    assert float(view.value("force.high_deg")) == pytest.approx(60, abs=0.3)
    assert float(view.value("tire_force.first_n")) == pytest.approx(100, abs=1.5)
    assert float(view.value("tire_force.high_deg")) == pytest.approx(30, abs=1)
    assert float(view.value("match.turn_deg")) == pytest.approx(-120, abs=1.5)
    assert float(view.value("match.left_n")) == pytest.approx(0, abs=1.5)


@given(st.integers(40, 150), st.integers(0, 359), st.integers(30, 90), st.integers(0, 359))
def test_a_tire_turned_by_the_key_leaves_what_the_key_says(
    tire_n: int, tire_deg: int, runout_hundredths: int, wheel_deg: int
) -> None:
    seat = [first(runout_hundredths / 100, wheel_deg)]
    view = view_of(inboard=seat, outboard=seat, force=[first(tire_n, tire_deg)], spring_rate_n_per_mm=200)
    turned = (tire_deg + float(view.value("match.turn_deg"))) % 360
    again = view_of(inboard=seat, outboard=seat, force=[first(tire_n, turned)], spring_rate_n_per_mm=200)
    # Both are taken from readings rounded to 1 N and 0.01 mm.
    assert float(again.value("force.first_n")) == pytest.approx(float(view.value("match.left_n")), abs=3)


def test_ripples_add_to_the_total_and_not_to_the_first_harmonic() -> None:
    smooth = view_of(inboard=[first(0.5, 20)], outboard=[first(0.5, 20)])
    rippled = view_of(inboard=[first(0.5, 20), first(0.2, 20, order=3)], outboard=[first(0.5, 20)])
    assert float(rippled.value("runout.inboard.first_mm")) == pytest.approx(0.5, abs=0.005)
    assert float(smooth.value("runout.inboard.total_mm")) == pytest.approx(0.48, abs=0.02)
    assert float(rippled.value("runout.inboard.total_mm")) > 0.58


def test_a_round_wheel_has_no_high_spot() -> None:
    view = view_of(inboard=[], outboard=[])
    assert float(view.value("runout.average.first_mm")) == 0
    assert np.isnan(view.value("runout.average.high_deg"))


def test_what_was_not_authored_is_named() -> None:
    view = view_of()
    with pytest.raises(LookupError, match="assembly A has no bead_seats"):
        view.value("runout.inboard.first_mm")
    with pytest.raises(LookupError, match=r"assembly A has no tire\.tin"):
        view.value("tire.age_years")

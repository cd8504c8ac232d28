"""Traces around the wheel, against a textbook, numpy's Fourier transform and the laws they must keep."""

from math import cos, radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from app.compute import runout
from app.compute.angles import difference
from app.compute.errors import NotFiniteError, WrongCountError
from app.compute.phasors import angle_deg, phasor, size
from tests.published.cases import case as published

traces = st.integers(3, 60).flatmap(
    lambda n: arrays(float, n, elements=st.floats(-5, 5, allow_nan=False).map(lambda x: round(x, 3)))
)
turns = st.floats(-720, 720)


def test_harmonics_agree_with_the_textbook_table_that_starts_at_thirty_degrees() -> None:
    case = published("harmonic-bird-problem-1")
    theta, readings = case["given"]["theta_deg"], case["given"]["y"]

    found = runout.harmonics(readings, start_deg=theta[0])

    amplitudes = [case["expect"][f"amplitude_{k}"] for k in (1, 2, 3)]
    assert found.peak_to_peak[:3] / 2 == pytest.approx(amplitudes, abs=case["tolerance"]["coefficient"])
    high_deg = case["expect"]["phase_of_maximum_1_deg"]
    assert found.high_deg[0] == pytest.approx(high_deg, abs=case["tolerance"]["angle_deg"])
    # The table's own form, mean + sum of a cos + b sin, at the angles of its rows.
    phases = np.deg2rad(found.order * found.high_deg)[:3]
    cosines, sines = found.peak_to_peak[:3] / 2 * [np.cos(phases), np.sin(phases)]
    assert cosines == pytest.approx(case["expect"]["a"], abs=case["tolerance"]["coefficient"])
    assert sines == pytest.approx(case["expect"]["b"], abs=case["tolerance"]["coefficient"])


def test_greatest_and_least_reading_of_the_textbook_table_stand_at_its_angles() -> None:
    case = published("harmonic-bird-problem-1")
    theta, readings = case["given"]["theta_deg"], case["given"]["y"]

    assert runout.total_indicated(readings) == max(readings) - min(readings)
    assert runout.high_spot_deg(readings, theta[0]) == theta[readings.index(max(readings))]
    assert runout.low_spot_deg(readings, theta[0]) == theta[readings.index(min(readings))]


def test_a_first_harmonic_is_reported_peak_to_peak() -> None:
    case = published("uniformity-r1h-is-peak-to-peak")
    angle = np.deg2rad(runout.reading_angles(16))
    readings = (
        100
        + case["given"]["cos_coefficient"] * np.cos(angle)
        + case["given"]["sin_coefficient"] * np.sin(angle)
    )

    first = runout.first_harmonic(readings)

    assert size(first) == pytest.approx(
        case["expect"]["first_harmonic_as_reported"], abs=case["tolerance"]["abs"]
    )
    assert size(first) / 2 == pytest.approx(case["expect"]["fourier_amplitude"], abs=case["tolerance"]["abs"])


def test_variation_is_the_greatest_reading_less_the_least_and_not_the_offset() -> None:
    case = published("uniformity-lfv-example")
    readings = [case["given"]["mean_about_lb"], case["given"]["max_lb"], case["given"]["min_lb"]]

    assert runout.total_indicated(readings) == case["expect"]["lfv_pk_pk_lb"]


def test_a_round_part_turning_about_a_point_off_centre_runs_out_by_twice_its_eccentricity() -> None:
    case = published("runout-eccentric-hole")
    eccentricity = case["given"]["eccentricity_mm"]
    radius, angle = 200.0, np.deg2rad(runout.reading_angles(360))
    # The distance from the axle to a circle whose centre lies off by the eccentricity, toward the valve.
    readings = eccentricity * np.cos(angle) + np.sqrt(radius**2 - (eccentricity * np.sin(angle)) ** 2)

    total, first = runout.total_indicated(readings), runout.first_harmonic(readings)

    assert total == pytest.approx(case["expect"]["total_indicated_runout_mm"], abs=case["tolerance"]["mm"])
    amplitude = case["expect"]["first_harmonic_amplitude_mm"]
    assert size(first) / 2 == pytest.approx(amplitude, abs=case["tolerance"]["mm"])


@given(traces, turns)
def test_harmonics_agree_with_the_fourier_transform_of_numpy(readings: np.ndarray, start_deg: float) -> None:
    found = runout.harmonics(readings, start_deg)

    spectrum = np.fft.rfft(readings)[found.order] * 2 / readings.size
    phase_at_valve = spectrum * np.exp(-1j * np.deg2rad(found.order * start_deg))
    assert found.peak_to_peak == pytest.approx(2 * np.abs(spectrum), abs=1e-10)
    sure = found.peak_to_peak > 1e-6
    assert np.array_equal(sure | np.isfinite(found.high_deg), np.isfinite(found.high_deg))
    expected_phase = -np.rad2deg(np.angle(phase_at_valve))
    assert difference(found.order * found.high_deg, expected_phase)[sure] == pytest.approx(0, abs=1e-3)
    first = runout.first_harmonic(readings, start_deg)
    assert first == pytest.approx(2 * np.conj(phase_at_valve[0]), abs=1e-9)


@given(traces, turns)
def test_every_high_spot_is_the_one_nearest_clockwise_from_the_valve(
    readings: np.ndarray, start_deg: float
) -> None:
    found = runout.harmonics(readings, start_deg)

    high = found.high_deg[np.isfinite(found.high_deg)]
    assert np.all(high >= 0)
    assert np.all(high < (360 / found.order)[np.isfinite(found.high_deg)])


@given(traces, turns, st.floats(-360, 360), st.floats(0.01, 100))
def test_turning_the_trace_turns_the_first_harmonic_and_scaling_scales_it(
    readings: np.ndarray, start_deg: float, turn_deg: float, factor: float
) -> None:
    first = runout.first_harmonic(readings, start_deg)

    assert runout.first_harmonic(readings, start_deg + turn_deg) == pytest.approx(
        first * phasor(1, turn_deg), abs=1e-9
    )
    assert runout.first_harmonic(factor * readings + 7, start_deg) == pytest.approx(factor * first, abs=1e-9)


@pytest.mark.parametrize(
    ("count", "orders"), [(3, 1), (8, 3), (9, 4), (12, 5), (21, 10), (22, 10), (360, 10)]
)
def test_orders_stop_at_ten_and_below_half_the_number_of_readings(count: int, orders: int) -> None:
    found = runout.harmonics(np.arange(count) % 5)

    assert found.order.tolist() == list(range(1, orders + 1))


def test_a_harmonic_that_is_only_rounding_has_no_high_spot() -> None:
    found = runout.harmonics(4500 + runout.trace(runout.reading_angles(24), 0, [80], [130], [1]))

    assert found.high_deg[0] == pytest.approx(130)
    assert np.isnan(found.high_deg[1:]).all()
    assert np.isnan(runout.harmonics([0.3] * 8).high_deg).all()
    assert np.isnan(runout.harmonics([0.0] * 8).high_deg).all()


def test_what_is_only_rounding_is_judged_by_each_trace_of_a_batch_itself() -> None:
    small = runout.trace(runout.reading_angles(24), 0, [1e-7], [130], [1])

    found = runout.harmonics([small, 4500 + small])

    assert found.high_deg[0, 0] == pytest.approx(130)
    assert np.isnan(found.high_deg[1, 0])


def test_a_great_mean_takes_nothing_from_the_harmonics() -> None:
    """Readings that binary holds exactly, so that a mean of 2 to the 40 costs no digit by itself."""
    readings = np.array([0.0, 3, 7, 8, 6, 1, -4, -5])

    few, many = runout.first_harmonic([readings, readings + 2.0**40])

    assert few == pytest.approx(runout.first_harmonic(readings), rel=1e-14)
    assert many == pytest.approx(few, rel=1e-14)


def test_whole_numbers_count_as_floats_however_narrow_their_type() -> None:
    """An array of bytes would run over at 127: from -100 to 100 is 200."""
    readings = [-100, 20, 100, 30, 0, -30, -20, -90]
    stored = np.array(readings, dtype=np.int8)

    assert runout.total_indicated(stored) == 200
    assert runout.first_harmonic(stored) == runout.first_harmonic(readings)


def test_unless_told_otherwise_the_first_reading_stands_at_the_valve() -> None:
    readings = runout.trace(runout.reading_angles(12), 2, [0.8], [0], [1])

    assert runout.high_spot_deg(readings) == 0
    assert runout.low_spot_deg(readings) == 180
    assert runout.first_harmonic(readings) == pytest.approx(0.8)
    assert runout.harmonics(readings).peak_to_peak[0] == pytest.approx(0.8)
    assert runout.average_runout(readings, readings) == pytest.approx(0.8)


def test_the_first_of_equal_readings_is_the_high_spot_and_the_low_spot() -> None:
    readings = [0, 2, 2, 0, -1, 0, -1, 2]

    assert runout.high_spot_deg(readings, 90) == 135
    assert runout.low_spot_deg(readings, 90) == 270


def test_readings_past_the_valve_start_again_at_zero() -> None:
    assert runout.reading_angles(4, 180).tolist() == [180, 270, 0, 90]
    assert runout.high_spot_deg([0, 0, 5, 0], 180) == 0


def test_a_trace_is_the_sum_of_its_cosines_at_any_angle_for_each_of_a_batch() -> None:
    sizes, highs, orders, means = [[40.0, 6.0], [0.0, 9.0]], [[130, 20], [350, 71]], (1, 4), [4500.0, -3.0]
    at = [0.0, 17.5, 200.0, -40.0, 725.0]

    readings = runout.trace(at, means, sizes, highs, orders)

    for row in range(2):
        for column, turned in enumerate(at):
            waves = zip(sizes[row], highs[row], orders, strict=True)
            summed = sum(size / 2 * cos(radians(order * (turned - high))) for size, high, order in waves)
            assert readings[row, column] == pytest.approx(means[row] + summed, abs=1e-9)


def test_a_trace_made_from_harmonics_gives_them_back() -> None:
    mean, sizes, high_deg, orders = [1.0, -2.0], [[0.8, 0.3], [0.5, 0.0]], [[200, 40], [359, np.nan]], [1, 3]

    readings = runout.trace(runout.reading_angles(12, 30), mean, sizes, high_deg, orders)
    found = runout.harmonics(readings, 30)

    assert readings.shape == (2, 12)
    assert readings.mean(axis=-1) == pytest.approx(mean)
    assert found.peak_to_peak[:, [0, 2]] == pytest.approx(np.array(sizes))
    assert found.high_deg[0, [0, 2]] == pytest.approx([200, 40])
    assert found.high_deg[1, 0] == pytest.approx(359)
    assert np.isnan(found.high_deg[1, 2])


@given(arrays(float, (2, 3, 11), elements=st.floats(-5, 5)), turns)
def test_a_batch_of_traces_answers_as_each_trace_alone(readings: np.ndarray, start_deg: float) -> None:
    found = runout.harmonics(readings, start_deg)
    for place in np.ndindex(2, 3):
        alone = runout.harmonics(readings[place], start_deg)
        assert found.peak_to_peak[place] == pytest.approx(alone.peak_to_peak, abs=1e-12)
        sure = alone.peak_to_peak > 1e-6
        assert found.high_deg[place][sure] == pytest.approx(alone.high_deg[sure])
    alone = [runout.high_spot_deg(trace, start_deg) for trace in readings.reshape(6, 11)]
    assert runout.high_spot_deg(readings, start_deg).ravel() == pytest.approx(alone)
    assert runout.low_spot_deg(-readings, start_deg).ravel() == pytest.approx(alone)
    assert runout.total_indicated(readings).shape == (2, 3)


def test_the_tire_feels_the_phasor_mean_of_both_bead_seats() -> None:
    angle = runout.reading_angles(16, 45)
    inboard = runout.trace(angle, 0.1, [0.6], [0], [1])
    outboard = runout.trace(angle, -0.2, [0.8], [90], [1])

    average = runout.average_runout(inboard, outboard, 45)

    assert average == pytest.approx(0.3 + 0.4j)
    assert angle_deg(average) == pytest.approx(np.rad2deg(np.arctan2(4, 3)))


def test_bead_seats_that_run_out_opposite_leave_nothing_for_the_tire_to_feel() -> None:
    inboard = np.array([1.0, 2, 3, 4, 4, 3, 2, 1])

    assert size(runout.average_runout(inboard, -inboard)) == 0


def test_bead_seats_with_unlike_numbers_of_readings_are_refused() -> None:
    with pytest.raises(WrongCountError) as refused:
        runout.average_runout([1] * 8, [1] * 9)
    assert str(refused.value) == "outboard: Give as many readings as on the inboard side: 8."


@pytest.mark.parametrize("readings", [5.0, [], [1.0, 2.0]])
def test_too_few_readings_are_refused(readings: object) -> None:
    with pytest.raises(WrongCountError) as refused:
        runout.first_harmonic(readings)  # type: ignore[arg-type]
    assert str(refused.value) == "readings: Give at least 3 readings, equally spaced around the wheel."


@pytest.mark.parametrize("bad", [np.nan, np.inf])
def test_numbers_that_are_not_finite_are_refused_by_name(bad: float) -> None:
    for field, call in {
        "readings": lambda: runout.total_indicated([1, 2, bad]),
        "start_deg": lambda: runout.high_spot_deg([1, 2, 3], bad),
        "mean": lambda: runout.trace([0, 90], bad, [1], [0], [1]),
        "peak_to_peak": lambda: runout.trace([0, 90], 0, [bad], [0], [1]),
        "inboard": lambda: runout.average_runout([1, 2, bad], [1, 2, 3]),
        "outboard": lambda: runout.average_runout([1, 2, 3], [1, 2, bad]),
    }.items():
        with pytest.raises(NotFiniteError) as refused:
            call()
        assert refused.value.field == field
    with pytest.raises(NotFiniteError, match="high_deg"):
        runout.trace([0, 90], 0, [1], [np.inf], [1])

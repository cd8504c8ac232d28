"""Runout, matching and force on the wire: names, fields, nulls and refusals."""

import math

import numpy as np
import pytest

from app.calculations.registry import answer
from tests.published.cases import case as published

TRACE = [1, 2, 3, 4, 4, 3, 2, 1]


def vector(size: float, angle_deg: float | None) -> dict[str, float | None]:
    return {"size": size, "angle_deg": angle_deg}


FORCE = {"readings_n": [1] * 16, "limit_n": 5}
MATCH = {"tire": vector(5, 0), "wheel": vector(1, 1), "spring_rate_n_per_mm": 9}
SEPARATE = {"first": vector(5, 0), "second": vector(1, 1), "turned_deg": 90}


def test_runout_answers_the_textbook_table() -> None:
    case = published("harmonic-bird-problem-1")
    given = {"readings_mm": case["given"]["y"], "start_deg": case["given"]["theta_deg"][0]}

    found = answer("runout", given)

    assert list(found) == ["total_mm", "mean_mm", "high_deg", "low_deg", "harmonics"]
    assert found["mean_mm"] == pytest.approx(case["expect"]["mean"], abs=case["tolerance"]["coefficient"])
    assert (found["total_mm"], found["high_deg"], found["low_deg"]) == (160, 300, 120)
    first = found["harmonics"][0]
    assert first["peak_to_peak_mm"] / 2 == pytest.approx(case["expect"]["amplitude_1"], abs=0.01)
    assert first["high_deg"] == pytest.approx(case["expect"]["phase_of_maximum_1_deg"], abs=0.02)
    assert [harmonic["order"] for harmonic in found["harmonics"]] == [1, 2, 3, 4, 5]


def test_a_flat_trace_has_harmonics_without_a_high_spot() -> None:
    harmonics = answer("runout", {"readings_mm": [0.3] * 8})["harmonics"]

    assert [harmonic["high_deg"] for harmonic in harmonics] == [None] * 3


def test_average_runout_answers_three_vectors() -> None:
    found = answer("average-runout", {"inboard_mm": TRACE, "outboard_mm": TRACE[::-1], "start_deg": 90})

    assert list(found) == ["inboard", "outboard", "average"]
    assert found["average"] == pytest.approx(found["inboard"])
    # By symmetry the high spot lies half way between the fourth and the fifth reading.
    assert found["inboard"]["angle_deg"] == pytest.approx(90 + 3.5 * 45)


def test_bead_seats_that_cancel_have_no_direction() -> None:
    found = answer("average-runout", {"inboard_mm": TRACE, "outboard_mm": TRACE[4:] + TRACE[:4]})

    assert found["average"]["angle_deg"] is None
    assert found["average"]["size"] == pytest.approx(0, abs=1e-12)


def test_force_variation_answers_in_newtons_and_judges_both_limits() -> None:
    readings = [4500 + 40 * math.cos(math.radians(22.5 * step - 30)) for step in range(16)]
    given = {"readings_n": readings, "limit_n": 85}

    found = answer("force-variation", given)

    assert list(found) == ["total_n", "harmonics", "within"]
    assert found["total_n"] == pytest.approx(max(readings) - min(readings))
    assert found["harmonics"][0] == pytest.approx({"order": 1, "peak_to_peak_n": 80, "high_deg": 30})
    assert found["within"] is True
    assert answer("force-variation", given | {"harmonic_limit_n": 79})["within"] is False
    assert answer("force-variation", given | {"harmonic_limit_n": None})["within"] is True
    assert answer("force-variation", given | {"limit_n": 70})["within"] is False


def test_match_mount_answers_the_turn_that_brings_the_high_point_to_the_low_spot() -> None:
    given = {"tire": vector(80, 100), "wheel": vector(0.3, 40), "spring_rate_n_per_mm": 200}

    found = answer("match-mount", given)

    assert found["wheel_n"] == pytest.approx(vector(60, 40))
    assert found["turn_deg"] == pytest.approx(40 + 180 - 100)
    assert found["after_n"] == pytest.approx(20)
    # Law of cosines for the two vectors 60 degrees apart.
    assert found["before_n"] == pytest.approx(
        math.sqrt(80**2 + 60**2 + 2 * 80 * 60 * math.cos(math.radians(60)))
    )


def test_a_perfect_wheel_leaves_nothing_to_match() -> None:
    found = answer(
        "match-mount", {"tire": vector(80, 100), "wheel": vector(0, None), "spring_rate_n_per_mm": 200}
    )

    assert found["turn_deg"] == 0
    assert found["wheel_n"] == vector(0, None)


def test_separate_tire_and_wheel_answers_both_and_the_best_turn() -> None:
    tire, wheel = 50 * np.exp(1j * np.deg2rad(40)), 30 * np.exp(1j * np.deg2rad(10))
    first, second = tire + wheel, -tire + wheel
    given = {
        "first": vector(abs(first), float(np.rad2deg(np.angle(first)))),
        "second": vector(abs(second), float(np.rad2deg(np.angle(second)))),
        "turned_deg": 180,
    }

    found = answer("separate-tire-and-wheel", given)

    assert found["tire"] == pytest.approx(vector(50, 40))
    assert found["wheel"] == pytest.approx(vector(30, 10))
    assert found["best_turn_deg"] == pytest.approx(150)
    assert found["best_n"] == pytest.approx(20)


def test_a_measurement_that_stays_put_is_all_wheel() -> None:
    still = vector(80, 40)

    found = answer("separate-tire-and-wheel", {"first": still, "second": still, "turned_deg": 90})

    assert found["tire"] == vector(0, None)
    assert found["wheel"] == pytest.approx(still)


def test_conicity_and_ply_steer_answer_the_published_case() -> None:
    case = published("uniformity-conicity-plysteer")
    given = {
        "clockwise_n": case["given"]["mean_lateral_force_cw_N"],
        "counterclockwise_n": case["given"]["mean_lateral_force_ccw_N"],
    }

    assert answer("conicity-and-ply-steer", given) == {
        "conicity_n": case["expect"]["conicity_N"],
        "ply_steer_n": case["expect"]["ply_steer_N"],
    }


@pytest.mark.parametrize(
    ("name", "given", "field"),
    [
        ("runout", {"readings_mm": [1] * 7}, "readings_mm"),
        ("runout", {"readings_mm": [1] * 361}, "readings_mm"),
        ("runout", {"readings_mm": [1] * 7 + ["2"]}, "readings_mm[7]"),
        ("runout", {"readings_mm": [1] * 7 + [math.nan]}, "readings_mm[7]"),
        ("runout", {"readings_mm": [1] * 7 + [True]}, "readings_mm[7]"),
        ("runout", {"readings_mm": TRACE, "start_deg": math.inf}, "start_deg"),
        ("runout", {"readings_mm": TRACE, "start": 3}, "start"),
        ("average-runout", {"inboard_mm": TRACE, "outboard_mm": [*TRACE, 1]}, "outboard_mm"),
        ("force-variation", FORCE | {"readings_n": [1] * 15}, "readings_n"),
        ("force-variation", FORCE | {"readings_n": [1] * 721}, "readings_n"),
        ("force-variation", {"readings_n": [1] * 16}, "limit_n"),
        ("force-variation", FORCE | {"harmonic_limit_n": -5}, "harmonic_limit_n"),
        ("match-mount", MATCH | {"tire": vector(5, None)}, "tire.angle_deg"),
        ("match-mount", MATCH | {"spring_rate_n_per_mm": -9}, "spring_rate_n_per_mm"),
        ("separate-tire-and-wheel", SEPARATE | {"turned_deg": -10}, "turned_deg"),
        ("conicity-and-ply-steer", {"clockwise_n": 1}, "counterclockwise_n"),
    ],
)
def test_input_that_cannot_be_used_is_refused_by_the_name_on_the_wire(
    name: str, given: dict[str, object], field: str
) -> None:
    assert answer(name, given)["error"]["field"] == field

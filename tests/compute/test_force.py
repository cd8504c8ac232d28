"""Force variation against its limits, and conicity told apart from ply steer."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.compute.errors import NotFiniteError, OutOfRangeError
from app.compute.force import conicity_and_ply_steer, within_limits
from app.compute.runout import reading_angles, total_indicated, trace
from tests.published.cases import case as published

newtons = st.floats(-500, 500)


def test_conicity_and_ply_steer_agree_with_the_published_sign_rule() -> None:
    case = published("uniformity-conicity-plysteer")

    lateral = conicity_and_ply_steer(
        case["given"]["mean_lateral_force_cw_N"], case["given"]["mean_lateral_force_ccw_N"]
    )

    assert lateral.conicity_n == pytest.approx(case["expect"]["conicity_N"], abs=case["tolerance"]["N"])
    assert lateral.ply_steer_n == pytest.approx(case["expect"]["ply_steer_N"], abs=case["tolerance"]["N"])


@given(newtons, newtons)
def test_reversing_the_rotation_keeps_conicity_and_flips_ply_steer(one: float, other: float) -> None:
    forward, backward = conicity_and_ply_steer(one, other), conicity_and_ply_steer(other, one)

    assert backward.conicity_n == forward.conicity_n
    assert backward.ply_steer_n == -forward.ply_steer_n
    assert forward.conicity_n + forward.ply_steer_n == pytest.approx(one, abs=1e-9)
    assert forward.conicity_n - forward.ply_steer_n == pytest.approx(other, abs=1e-9)


def test_a_trace_is_within_its_limit_until_its_total_passes_it() -> None:
    readings = trace(reading_angles(24), 4500, [80, 30], [40, 10], [1, 2])
    total = total_indicated(readings)

    assert within_limits(readings, total + 0.01)
    assert not within_limits(readings, total - 0.01)


def test_a_total_that_equals_its_limit_on_paper_is_within_it() -> None:
    readings = [0.1, 0.3, 0.4] * 6  # 0.4 - 0.1 is 0.30000000000000004 in binary

    assert within_limits(readings, 0.3)


def test_the_first_harmonic_has_a_limit_of_its_own() -> None:
    readings = trace(reading_angles(24), 4500, [80], [40], [1])

    assert within_limits(readings, 100, 80)
    assert not within_limits(readings, 100, 79.9)
    assert not within_limits(readings, 60, 100)


def test_a_batch_of_traces_is_judged_each_by_its_own_limits() -> None:
    readings = trace(reading_angles(24), [4500, 4000, 4200], [[80], [40], [80]], [[0], [90], [0]], [1])

    assert within_limits(readings, 60).tolist() == [False, True, False]
    assert within_limits(readings, [90, 30, 90], [70, 70, 90]).tolist() == [False, False, True]


def test_numbers_that_cannot_be_are_refused_by_name() -> None:
    with pytest.raises(OutOfRangeError, match=r"^limit_n"):
        within_limits([1, 2, 3], 0)
    with pytest.raises(OutOfRangeError, match=r"^harmonic_limit_n"):
        within_limits([1, 2, 3], 5, -1)
    with pytest.raises(NotFiniteError, match=r"^clockwise_n"):
        conicity_and_ply_steer(np.inf, 1)
    with pytest.raises(NotFiniteError, match=r"^counterclockwise_n"):
        conicity_and_ply_steer(1, np.nan)

"""Match mounting and telling tire and wheel apart, against a search over all turns and by substitution."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.compute import matching
from app.compute.angles import difference
from app.compute.errors import NotFiniteError, OutOfRangeError
from app.compute.phasors import phasor, size
from tests.published.cases import case as published

forces = st.builds(phasor, st.floats(0.1, 200), st.floats(0, 360))
separating_turns = st.floats(15.01, 344.99)


def test_a_wheel_that_runs_out_varies_the_force_by_the_spring_rate() -> None:
    case = published("uniformity-force-from-runout")
    runout_mm = phasor(case["given"]["radial_runout_pk_pk_mm"], 75)

    force_n = matching.wheel_force(runout_mm, case["given"]["stiffness_N_per_mm"])

    assert size(force_n) == pytest.approx(case["expect"]["rfv_pk_pk_N"], abs=case["tolerance"]["N"])
    assert force_n / runout_mm == pytest.approx(case["given"]["stiffness_N_per_mm"])


@given(forces, forces)
def test_no_turn_leaves_less_than_the_matching_turn(tire: complex, wheel: complex) -> None:
    match = matching.match_mount(tire, wheel)

    every_turn = size(tire * phasor(1, np.arange(0, 360, 0.5)) + wheel)
    assert match.after_n <= every_turn.min() + 1e-9
    assert size(tire * phasor(1, match.turn_deg) + wheel) == pytest.approx(match.after_n, abs=1e-9)
    assert match.before_n == pytest.approx(every_turn[0])
    assert -180 < match.turn_deg <= 180


@given(forces, forces, st.floats(0, 360))
def test_turning_tire_and_wheel_together_changes_nothing(tire: complex, wheel: complex, turn: float) -> None:
    still, turned = (
        matching.match_mount(tire, wheel),
        matching.match_mount(tire * phasor(1, turn), wheel * phasor(1, turn)),
    )

    assert turned.before_n == pytest.approx(still.before_n, abs=1e-9)
    assert turned.after_n == pytest.approx(still.after_n, abs=1e-9)
    assert difference(turned.turn_deg, still.turn_deg) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("angle", range(0, 360, 7))
def test_high_points_that_stand_together_are_half_a_turn_from_matched(angle: int) -> None:
    match = matching.match_mount(phasor(50, angle), phasor(30, angle))

    assert match.turn_deg == pytest.approx(180)
    assert match.before_n == pytest.approx(80)
    assert match.after_n == pytest.approx(20)


@pytest.mark.parametrize(("tire", "wheel"), [(0, 30j), (30j, 0), (0, 0), (1e-12, 30j), (30j, 1e-12)])
def test_there_is_nothing_to_match_where_one_has_no_direction(tire: complex, wheel: complex) -> None:
    match = matching.match_mount(tire, wheel)

    assert match.turn_deg == 0
    assert match.before_n == pytest.approx(match.after_n)


@given(forces, forces, separating_turns)
def test_tire_and_wheel_are_found_again_from_two_measurements(
    tire: complex, wheel: complex, turned: float
) -> None:
    first, second = tire + wheel, tire * phasor(1, turned) + wheel

    parts = matching.separate_tire_and_wheel(first, second, turned)

    assert parts.tire_n == pytest.approx(tire, abs=1e-8)
    assert parts.wheel_n == pytest.approx(wheel, abs=1e-8)
    match = matching.match_mount(tire, wheel)
    assert parts.best_n == pytest.approx(match.after_n, abs=1e-8)
    assert size(tire * phasor(1, parts.best_turn_deg) + wheel) == pytest.approx(match.after_n, abs=1e-6)


@pytest.mark.parametrize("turned", [0, 10, -15, 15, 360, 374, -350])
def test_a_turn_too_small_to_separate_them_is_refused(turned: float) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        matching.separate_tire_and_wheel(80, 60j, [90, turned])
    assert str(refused.value) == (
        "turned_deg: Turn the tire by more than 15 degrees; half a turn separates best."
    )


@pytest.mark.parametrize("turned", [15.1, -15.1, 180, -344, 344])
def test_a_turn_of_more_than_fifteen_degrees_either_way_separates_them(turned: float) -> None:
    parts = matching.separate_tire_and_wheel(80, 60j, turned)

    assert parts.tire_n * phasor(1, turned) + parts.wheel_n == pytest.approx(60j)


def test_a_batch_answers_as_each_pair_alone() -> None:
    random = np.random.default_rng(7)
    tire, wheel = random.normal(size=(2, 4, 3)) + 1j * random.normal(size=(2, 4, 3))

    together = matching.match_mount(tire, wheel)
    parts = matching.separate_tire_and_wheel(tire, wheel, 120)

    assert together.turn_deg.shape == parts.best_turn_deg.shape == (4, 3)
    for place in np.ndindex(4, 3):
        assert [part[place] for part in together] == pytest.approx(
            list(matching.match_mount(tire[place], wheel[place]))
        )
        alone = matching.separate_tire_and_wheel(tire[place], wheel[place], 120)
        assert [part[place] for part in parts] == pytest.approx(list(alone))


def test_numbers_that_cannot_be_are_refused_by_name() -> None:
    for field, call in {
        "runout_mm": lambda: matching.wheel_force(complex(np.nan, 0), 200),
        "spring_rate_n_per_mm": lambda: matching.wheel_force(0.5, -1),
        "tire_n": lambda: matching.match_mount(np.inf, 1),
        "wheel_n": lambda: matching.match_mount(1, np.nan),
        "first_n": lambda: matching.separate_tire_and_wheel(np.nan, 1, 90),
        "second_n": lambda: matching.separate_tire_and_wheel(1, np.inf, 90),
        "turned_deg": lambda: matching.separate_tire_and_wheel(1, 1, np.nan),
    }.items():
        with pytest.raises((NotFiniteError, OutOfRangeError)) as refused:
            call()
        assert refused.value.field == field

"""Quantities of the whole car: decisions, and placements against the rearrangement inequality and by hand."""

from itertools import permutations
from typing import Any

import numpy as np
import pytest

from app.compute.placement import ARRANGEMENTS
from app.domain.model import Model
from tests.domain.writing import assembly, first, small, variant

VEHICLE = {"first_harmonic_limit_n": 80, "oldest_tire_years": 9}


def car(*assemblies: dict[str, Any], **vehicle: Any) -> Model:
    return variant(small([], *assemblies, vehicle=VEHICLE | vehicle)).model


def one(
    tire_n: float,
    wheel_mm: float = 0.0,
    *,
    letter: str = "A",
    year: int = 2024,
    conicity_n: float = 0,
    new_n: float = 25,
) -> dict[str, Any]:
    """Tire and wheel (200 N/mm) with their high points together, and the tire's year (week 20)."""
    seat = [first(wheel_mm, 0)]
    return assembly(
        letter,
        wheel={"bead_seats": {"inboard": seat, "outboard": seat}},
        tire={
            "force": [first(tire_n, 0)],
            "spring_rate_n_per_mm": 200,
            "conicity_n": conicity_n,
            "tin": {"prefix": "1AB", "week": 20, "year": year},
        },
        replacement={"first_n": new_n, "conicity_n": -3},
    )


@pytest.mark.parametrize(
    ("tire_n", "wheel_mm", "year", "decision", "placed_n"),
    [
        (60, 0, 2024, "fit", 60),
        (60, 0.25, 2024, "match-mount", 10),  # 110 together, 60 - 50 apart
        (170, 0.25, 2024, "replace", 25),  # 220 together, 120 apart
        (60, 0, 2017, "fit", 60),  # week 20 of 2017: 9 full years in October 2026
        (60, 0, 2016, "replace", 25),  # 10 full years
        (60, 0.25, 2016, "replace", 25),
    ],
)
def test_the_decision_and_what_goes_on_the_car(
    tire_n: float, wheel_mm: float, year: int, decision: str, placed_n: float
) -> None:
    model = car(one(tire_n, wheel_mm, year=year, conicity_n=7))
    assert str(model.value("assembly[A].decision")) == decision
    assert float(model.value("assembly[A].placed.first_n")) == pytest.approx(placed_n, abs=1.5)
    expected = -3 if decision == "replace" else 7
    assert float(model.value("assembly[A].placed.conicity_n")) == expected


def test_the_assemblies_above_the_limit() -> None:
    model = car(one(60), one(95, letter="B"), one(30, letter="C"), one(120, letter="D"))
    assert model.value("car.over_limit").tolist() == [False, True, False, True]
    assert str(model.value("assembly[B].over_limit")) == "yes"


def test_without_a_limit_there_is_no_decision() -> None:
    model = variant(small([], one(60))).model
    with pytest.raises(LookupError, match="first_harmonic_limit_n"):
        model.value("assembly[A].decision")


@pytest.mark.parametrize(("drive_side", "positions"), [("left", "LF RF LR RR"), ("right", "RF LF RR LR")])
def test_for_comfort_the_least_force_goes_where_most_is_felt(drive_side: str, positions: str) -> None:
    # Hardy, Littlewood, Polya, Inequalities, theorem 368: the sum is least when sorted against the weights.
    forces = {"A": 18, "B": 72, "C": 44, "D": 31}
    model = car(*(one(force, letter=letter) for letter, force in forces.items()), drive_side=drive_side)
    costs = model.value("car.comfort")
    assert costs.shape == (24,)
    best = ARRANGEMENTS[int(np.argmin(costs))]
    place_of = dict(zip(("LF", "RF", "LR", "RR"), ("ABCD"[index] for index in best), strict=True))
    assert [place_of[position] for position in positions.split()] == ["A", "D", "C", "B"]


def test_the_costs_are_those_of_the_lab_text() -> None:
    conicities, forces = (24, -15, 21, 3), (18, 72, 44, 31)
    model = car(
        *(
            one(force, letter=letter, conicity_n=conicity)
            for letter, force, conicity in zip("ABCD", forces, conicities, strict=True)
        )
    )
    placed = model.each("placed.first_n")
    for row, (lf, rf, lr, rr) in enumerate(permutations(range(4))):
        felt = 1.0 * placed[lf] + 0.85 * placed[rf] + 0.65 * placed[lr] + 0.5 * placed[rr]
        pull = abs(conicities[rf] - conicities[lf]) + 0.3 * abs(conicities[rr] - conicities[lr])
        assert model.value("car.comfort")[row] == pytest.approx(felt)
        assert model.value("car.tracking")[row] == pytest.approx(pull)
    # By hand: the pair 24 and 21 in front pulls 3 + 0.3 x 18 = 8.4; the next best, 3 and -15, 18.9.
    assert model.value("car.tracking").min() == pytest.approx(8.4)


def test_equal_arrangements_for_tracking_are_all_best() -> None:
    model = car(
        *(one(30, letter=letter, conicity_n=c) for letter, c in zip("ABCD", (24, -15, 21, 3), strict=True))
    )
    costs = model.value("car.tracking")
    assert (np.abs(costs - costs.min()) < 1e-9).sum() == 4  # left and right may change places on both axles

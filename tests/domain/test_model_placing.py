"""Where each assembly may stand, what that costs, and how it is marked."""

from typing import Any

import numpy as np
import pytest

from app.compute import placement
from app.domain.answers import positions_of
from app.domain.check import faults_of
from app.domain.marking import Verdict, mark_all
from app.domain.model import Model
from tests.domain.writing import assembly, first, model_of, shipped, small, tire, variant

FRONT, REAR = "225/45R18 91W", "255/40R18 95W"


def placed(rows: list[tuple[str, str | None]], rear_size: str | None = REAR) -> Model:
    """rows: designation and side of the arrow of each assembly."""
    assemblies = [
        assembly(
            letter,
            tire={"designation": designation, "force": [first(20 + 10 * number, 0)]},
            **({"marks": {"rotation": side}} if side else {}),
        )
        for number, (letter, (designation, side)) in enumerate(zip("ABCD", rows, strict=True))
    ]
    placard = {"size": FRONT, "front_kpa": 230, "rear_kpa": 240}
    if rear_size:
        placard["rear_size"] = rear_size
    return model_of(*assemblies, vehicle={"placard": placard})


@pytest.mark.parametrize(
    ("rows", "allowed"),
    [
        ([(FRONT, None)] * 4, [None] * 4),
        (
            [(FRONT, "left"), (FRONT, "right"), (FRONT, "left"), (FRONT, "right")],
            [("LF", "LR"), ("RF", "RR"), ("LF", "LR"), ("RF", "RR")],
        ),
        (
            [(REAR, None), (FRONT, None), (FRONT, None), (REAR, None)],
            [("LR", "RR"), ("LF", "RF"), ("LF", "RF"), ("LR", "RR")],
        ),
        (
            [(REAR, "right"), (FRONT, "right"), (FRONT, "left"), (REAR, "left")],
            [("RR",), ("RF",), ("LF",), ("LR",)],
        ),
    ],
)
def test_only_arrangements_are_permitted_that_put_each_where_it_may_go(
    rows: list[tuple[str, str | None]], allowed: list[Any]
) -> None:
    model = placed(rows, REAR if any(size == REAR for size, _ in rows) else None)
    costs = model.value("car.comfort")
    assert np.isfinite(costs).tolist() == placement.permitted(allowed).tolist()


def test_a_tire_that_may_carry_more_than_the_front_asks_for_may_stand_there_too() -> None:
    strong, weak = "LT245/75R16 120/116S", "LT245/75R16 108/104S"
    placard = {"size": weak, "rear_size": strong, "front_kpa": 310, "rear_kpa": 550}
    sizes = (strong, strong, weak, strong)
    model = model_of(
        *(tire(size, letter, force=[first(30, 0)]) for letter, size in zip("ABCD", sizes, strict=True)),
        vehicle={"placard": placard},
    )
    assert model.value("car.suits_rear").tolist() == [True, True, False, True]
    anywhere = None
    allowed = [anywhere, anywhere, ("LF", "RF"), anywhere]
    assert np.isfinite(model.value("car.comfort")).tolist() == placement.permitted(allowed).tolist()


def test_the_cost_as_it_came_keeps_the_order_of_the_letters() -> None:
    model = placed([(FRONT, None)] * 4, None)
    felt_n = float(model.value("car.as_it_came.felt_n"))
    assert felt_n == pytest.approx(1.00 * 20 + 0.85 * 30 + 0.65 * 40 + 0.50 * 50, abs=1.5)


def test_needed_values_are_those_of_at_least_one_assembly_of_every_variant() -> None:
    sides = {"rotation": {"one_of": ["left", "right"]}}
    need = {"quantity": "marks.side", "values": ["left", "right"]}
    scenario = small([], assembly("A", marks=sides), assembly("B", marks=sides), well_posed={"needs": [need]})
    for seed in range(20):
        drawn = variant(scenario, seed=seed).model.each("marks.side")
        assert set(drawn.tolist()) == {"left", "right"}


def test_an_arrangement_that_is_not_permitted_earns_nothing_and_hears_why() -> None:
    lab = variant(shipped("directional-tires"), seed=4)
    sides = {letter: str(lab.model.value(f"assembly[{letter}].marks.side")) for letter in "ABCD"}
    left, right = ([letter for letter in "ABCD" if sides[letter] == side] for side in ("left", "right"))
    swapped = dict(zip(placement.POSITIONS, (right[0], left[0], left[1], right[1]), strict=True))
    [mark] = [each for each in mark_all(lab, {"comfort": swapped}) if each.task_id == "comfort"]
    assert (mark.verdict, mark.points) == (Verdict.WRONG, 0)
    assert mark.reason == (
        f"Assembly {right[0]} may not go to LF: its arrow would point backward on the left. "
        f"Assembly {left[0]} may not go to RF: its arrow would point backward on the right."
    )


def test_a_permitted_arrangement_earns_by_its_way_from_the_worst_permitted_one_to_the_best() -> None:
    lab = variant(shipped("staggered-set"), seed=4)
    costs = lab.model.value("car.comfort")
    permitted = np.flatnonzero(np.isfinite(costs))
    assert len(permitted) == 4
    worst = int(permitted[np.argmax(costs[permitted])])
    best = int(permitted[np.argmin(costs[permitted])])

    def points(row: int) -> float:
        answers = {"comfort": positions_of(row, lab.scenario)}
        return next(mark.points for mark in mark_all(lab, answers) if mark.task_id == "comfort")

    assert (points(worst), points(best)) == (0, 4)
    for row in permitted.tolist():
        way = (costs[worst] - costs[row]) / (costs[worst] - costs[best])
        assert points(row) == pytest.approx(4 * way, abs=0.005)


@pytest.mark.parametrize(
    ("size", "rear_size", "says"),
    [
        ("225/45R18 91W", "255/40R18", "rear_size lacks its load index"),
        ("225/45R18", "255/40R18 95W", "size lacks its load index"),
        ("225/45R18 91W", "wide ones", "rear_size: This isn't a tire size"),
    ],
)
def test_sizes_by_axle_have_to_be_read(size: str, rear_size: str, says: str) -> None:
    placard = {"size": size, "rear_size": rear_size, "front_kpa": 230, "rear_kpa": 240}
    with pytest.raises(ValueError, match=says):
        small([], vehicle={"placard": placard})


@pytest.mark.parametrize(
    ("quantity", "says"),
    [
        ("marks.sid", "“marks.sid” names no quantity; did you mean marks.side?"),
        ("tire.load_kg", "“tire.load_kg” is a load; name a choice, such as marks.side"),
    ],
)
def test_a_need_that_names_no_choice_is_a_fault(quantity: str, says: str) -> None:
    needs = [{"quantity": quantity, "values": ["left"]}]
    [fault] = faults_of(small([], well_posed={"needs": needs}))
    assert fault.place == "well_posed.needs[0].quantity"
    assert fault.message.startswith(says)

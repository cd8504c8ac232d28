"""The check beyond a file's shape: references, what measurements need, and well-posed variants."""

from typing import Any

import pytest

from app.domain.check import LEAST_ACCEPTED, acceptance, faults_of
from app.domain.measures import UnitSystem
from app.domain.scenario import Scenario
from tests.domain.writing import (
    SHIPPED,
    assembly,
    choice,
    first,
    heavy_spot,
    number,
    placement,
    several,
    shipped,
    small,
    text,
)

SPOT = heavy_spot(30, 40, -80)


def faults(scenario: Scenario) -> list[str]:
    return [str(fault) for fault in faults_of(scenario)]


def of_task(task: dict[str, Any], *assemblies: dict[str, Any]) -> list[str]:
    return faults(small([task], *(assemblies or [assembly(heavy_spots=[SPOT])])))


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_the_shipped_scenarios_have_no_faults(scenario_id: str) -> None:
    assert faults(shipped(scenario_id)) == []


@pytest.mark.parametrize("scenario_id", SHIPPED)
@pytest.mark.parametrize("units", UnitSystem)
def test_the_shipped_scenarios_accept_far_more_draws_than_they_must(
    scenario_id: str, units: UnitSystem
) -> None:
    assert acceptance(shipped(scenario_id), units, sample=2000) > 4 * LEAST_ACCEPTED


@pytest.mark.parametrize(
    ("task", "fault"),
    [
        (
            number("x", "assembly[A].static.sizes_gmm"),
            "parts[0].tasks[0].key: “assembly[A].static.sizes_gmm” names no quantity; "
            "did you mean assembly[A].static.size_gmm?",
        ),
        (number("x", "car.comfrt"), "did you mean car.comfort?"),
        (number("x", "assembly[A].qqqq"), "names no quantity"),
        (number("x", "assembly[B].static.size_gmm"), "there is no assembly B; there are A"),
        (number("x", "assembly[A].decision"), "is a choice, which a number task can't ask for"),
        (choice("x", "yes no", key="assembly[A].static.size_gmm"), "is an unbalance, which a choice task"),
        (several("x", "assembly[A].static.size_gmm"), "which a several task can't ask for"),
        (placement("x", "car.over_limit"), "is a several, which a placement task can't ask for"),
        (placement("x", "car.comfort"), "a placement needs exactly four assemblies"),
        (
            number("x", "assembly[A].static.angle_deg", tolerance={"relative": 0.1}),
            "tasks[0].tolerance.relative: has no meaning for an angle",
        ),
        (
            number("x", "assembly[A].static.angle_deg", 0),
            "tolerance.absolute: must be above 0 and at most 45",
        ),
        (number("x", "assembly[A].static.angle_deg", 46), "must be above 0 and at most 45 degrees"),
        (number("x", "assembly[A].static.size_gmm", 0), "tasks[0].tolerance: must be above 0: nobody can"),
        (
            number("x", "assembly[A].static.size_gmm", follows=["y"]),
            "parts[0].tasks[0].follows: “y” is no earlier task with a key",
        ),
        (number("x", "assembly[A].static.size_gmm", follows=["x"]), "“x” is no earlier task"),
    ],
)
def test_a_task_that_asks_for_what_is_not_there_is_named(task: dict[str, Any], fault: str) -> None:
    found = of_task(task)
    assert any(fault in each for each in found), found


@pytest.mark.parametrize(
    ("key", "tire"),
    [
        ("assembly[A].stock.inboard.mass_g", {}),
        ("assembly[A].tire.week", {"tin": {"prefix": "XY12 ABC", "week": 20, "year": 2020}}),
        ("assembly[A].tire.age_years", {"tin": {"prefix": "XY12 ABC", "week": 20, "year": 2020}}),
    ],
)
def test_what_is_counted_or_put_together_from_stock_may_be_asked_for_exactly(
    key: str, tire: dict[str, Any]
) -> None:
    tire = {"designation": "205/55R16 91V", **tire}
    assert of_task(number("x", key, 0), assembly(heavy_spots=[SPOT], tire=tire)) == []


def test_faults_of_several_tasks_are_named_together() -> None:
    found = faults(
        small(
            [
                number("x", "assembly[A].nothing_like_it"),
                text("y"),
                number("z", "assembly[C].static.size_gmm", follows=["y"]),
            ]
        )
    )
    places = [each.split(":")[0] for each in found]
    assert places == ["parts[0].tasks[0].key", "parts[0].tasks[2].key", "parts[0].tasks[2].follows"]


@pytest.mark.parametrize(
    ("kind", "needed"),
    [
        ("heavy spots", ["heavy_spots"]),
        ("balancer", ["heavy_spots"]),
        ("entered width", ["heavy_spots"]),
        ("bead seats", ["wheel.bead_seats"]),
        ("force trace", ["tire.force"]),
        ("sidewalls", ["tire.tin"]),
        ("uniformity", ["tire.force", "wheel.bead_seats"]),
    ],
)
def test_a_measurement_needs_what_it_shows(kind: str, needed: list[str]) -> None:
    parts = [{"title": "x", "text": "x", "shows": [{"kind": kind}, {"kind": kind, "assemblies": ["D"]}]}]
    assert faults(small([], parts=parts)) == [
        *(f"parts[0].shows[0].kind: {kind} need {path} of assembly A" for path in needed),
        "parts[0].shows[1].assemblies: there is no assembly D",
    ]


def test_a_quantity_without_what_it_is_made_of_is_named() -> None:
    assert of_task(number("x", "assembly[A].tire.age_years")) == ["assemblies: assembly A has no tire.tin"]
    assert of_task(number("x", "assembly[A].runout.average.first_mm")) == [
        "assemblies: assembly A has no bead_seats"
    ]
    assert of_task(choice("x", "fit replace", key="assembly[A].decision")) == [
        "assemblies: vehicle has no first_harmonic_limit_n"
    ]


def test_planes_typed_in_at_one_place_are_a_fault_and_no_traceback() -> None:
    # Planes 160 mm apart, typed in 160 mm too narrow.
    narrow = small(
        [number("x", "assembly[A].left.inboard.mass_g")],
        assembly(heavy_spots=[SPOT]),
        machine={"width_error_mm": -160},
    )
    (fault,) = faults(narrow)
    assert fault.startswith("assemblies: a drawn variant can't be computed: ")
    assert "same place" in fault


def test_options_must_hold_everything_that_the_key_can_give() -> None:
    seat = [first(0.02, 0)]
    sheet = assembly(
        wheel={"bead_seats": {"inboard": seat, "outboard": seat}},
        tire={"force": [first({"low": 20, "high": 200}, 0)]},
    )
    task = choice("x", "fit replace", key="assembly[*].decision")
    assert faults(small([task], sheet, vehicle={"first_harmonic_limit_n": 80})) == [
        "parts[0].tasks[0].options: lack match-mount, which the key can give"
    ]


def test_a_scenario_that_seldom_determines_its_answers_is_refused_with_the_reason() -> None:
    # Two spots of nearly the same size that always face each other.
    spots = [heavy_spot({"low": 20, "high": 21}, 0, -50, name="one"), heavy_spot(20, 180, 50, name="other")]
    (fault,) = of_task(number("at", "assembly[A].static.angle_deg", 5), assembly(heavy_spots=spots))
    assert fault.startswith(
        "assemblies: only 0.0% of drawn variants (metric) determine their answers: "
        "at is of a vector too small to have a sure direction (400 of 400)"
    )

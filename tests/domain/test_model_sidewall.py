"""Quantities of sidewalls and of the marks on tire and wheel."""

from typing import Any

import numpy as np
import pytest

from app.domain.measures import UnitSystem
from app.domain.model.marks import arrow_turns
from tests.domain.writing import assembly, model_of, small, tire, variant
from tests.published.cases import case


def test_a_size_is_read_as_the_published_tables_say() -> None:
    size, loads = case("size-P205-65R15")["expect"], case("load-index-table")["expect"]["kg"]
    speeds = case("speed-symbol-table")["expect"]["km_h"]
    model = model_of(tire("P205/65R15 92H"))
    read = {name: float(model.value(f"assembly[A].tire.{name}")) for name in (
        "section_height_mm", "overall_diameter_mm", "load_index", "load_kg", "axle_load_kg", "speed_kmh",
    )}  # fmt: skip
    assert read == pytest.approx(
        {
            "section_height_mm": size["section_height_mm"],
            "overall_diameter_mm": size["overall_diameter_mm"],
            "load_index": 92,
            "load_kg": loads["92"],
            "axle_load_kg": 2 * loads["92"],
            "speed_kmh": speeds["H"],
        }
    )
    rolling_mm = case("size-rolling-circumference-etrto")["expect"]["rolling_circumference_mm"]
    assert float(model.value("assembly[A].tire.rolling_mm")) == pytest.approx(rolling_mm, abs=0.1)


@pytest.mark.parametrize(
    ("designation", "service"),
    [("P205/65R15 92H", "passenger"), ("LT245/75R16 120/116S", "light-truck"), ("205/55R16 91V", "metric")],
)
def test_the_letter_in_front_says_the_service(designation: str, service: str) -> None:
    assert str(model_of(tire(designation)).value("assembly[A].tire.service")) == service


@pytest.mark.parametrize(
    ("designation", "year", "judgement"),
    [
        ("225/45R17 94W", 2020, "fits"),
        ("225/45R17 97Y", 2020, "fits"),
        ("225/50R17 98W", 2012, "wrong-size"),
        ("P225/45R17 94W", 2020, "wrong-size"),
        ("225/45R17 91V", 2012, "too-little-load"),
        ("225/45R17 94V", 2012, "too-slow"),
        ("225/45R17 94W", 2012, "too-old"),
    ],
)
def test_the_first_thing_against_a_tire_decides(designation: str, year: int, judgement: str) -> None:
    placard = {"size": "225/45R17 94W", "front_kpa": 240, "rear_kpa": 220}
    tin = {"prefix": "1AB", "week": 20, "year": year}
    model = model_of(tire(designation, tin=tin), vehicle={"placard": placard, "oldest_tire_years": 9})
    assert str(model.value("assembly[A].tire.judgement")) == judgement


def test_each_student_gets_one_of_the_listed_sizes_the_same_in_both_unit_systems() -> None:
    scenario = small([], assembly(tire={"designation": {"one_of": ["225/45R18 91W", "255/40R18 95W"]}}))

    def sizes(units: UnitSystem) -> list[str]:
        drawn = (variant(scenario, seed=seed, units=units).truth.assemblies["A"] for seed in range(20))
        return [each.tire.designation for each in drawn]

    assert sizes(UnitSystem.METRIC) == sizes(UnitSystem.US)
    assert set(sizes(UnitSystem.US)) == {"225/45R18 91W", "255/40R18 95W"}


@pytest.mark.parametrize(("side", "outboard"), [("left", (0, 1, 0)), ("right", (0, -1, 0))])
def test_an_arrow_points_the_way_a_wheel_turns_when_the_car_drives_forward(
    side: str, outboard: tuple[int, int, int]
) -> None:
    # By vectors: x forward, y to the left, z up. A wheel that rolls forward turns about the y axis, its top
    # moving forward. Who looks at it against its outboard direction sees the top move to the right if x lies
    # to his right, and then it turns clockwise.
    looking = -np.array(outboard)
    to_his_right = np.cross(looking, (0, 0, 1))
    turns = "clockwise" if to_his_right @ (1, 0, 0) > 0 else "counterclockwise"
    view = model_of(assembly(marks={"rotation": side})).assembly("A")
    assert str(arrow_turns(view)) == turns
    assert str(view.value("marks.side")) == side


@pytest.mark.parametrize(
    ("marks", "dot", "goal", "turn"),
    [
        (
            {"light_spot_deg": 30, "high_point_deg": 100, "low_point_deg": 220},
            "high-point",
            "low-point-mark",
            120,
        ),
        ({"light_spot_deg": 30, "high_point_deg": 100}, "light-spot", "valve", -30),
        ({"light_spot_deg": 200, "low_point_deg": 220}, "light-spot", "valve", 160),
        ({"high_point_deg": 350, "low_point_deg": 20}, "high-point", "low-point-mark", 30),
        (
            {"light_spot_deg": 200, "high_point_deg": 100, "low_point_deg": 220, "missing": "low point"},
            "light-spot",
            "valve",
            160,
        ),
    ],
)
def test_the_dot_that_counts_goes_where_it_belongs(
    marks: dict[str, Any], dot: str, goal: str, turn: float
) -> None:
    view = model_of(assembly(marks=marks)).assembly("A")
    assert (str(view.value("marks.dot")), str(view.value("marks.goal"))) == (dot, goal)
    assert float(view.value("marks.turn_deg")) == pytest.approx(turn)

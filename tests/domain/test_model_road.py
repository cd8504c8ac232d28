"""Quantities of sidewalls, marks, pressure, pull, vibration and permitted places."""

from typing import Any

import numpy as np
import pytest

from app.compute import placement
from app.compute.units import convert
from app.domain.answers import positions_of
from app.domain.check import faults_of
from app.domain.marking import Verdict, mark_all
from app.domain.measures import UnitSystem
from app.domain.model import Model
from app.domain.model.marks import arrow_turns
from tests.domain.writing import assembly, first, shipped, small, variant
from tests.published.cases import case


def model_of(*assemblies: dict[str, Any], vehicle: dict[str, Any] | None = None) -> Model:
    return variant(small([], *assemblies, vehicle=vehicle)).model


def tire(designation: str, letter: str = "A", **changes: Any) -> dict[str, Any]:
    return assembly(letter, tire={"designation": designation, **changes})


# Sidewalls


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


# Marks


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


# Pressure


def test_a_cold_morning_takes_what_a_textbook_says() -> None:
    book = case("gas-openstax-car-tire")
    given = book["given"]
    air = {"set_c": given["t1_C"], "at_c": given["t2_C"], "ambient_kpa": given["atm_Pa"] / 1000}
    model = model_of(assembly(bench={"pressure_kpa": given["gauge_Pa"] / 1000}), vehicle={"temperature": air})
    cold_kpa = float(model.value("assembly[A].pressure.cold_kpa"))
    assert cold_kpa == pytest.approx(book["expect"]["gauge_Pa"] / 1000, abs=book["tolerance"]["Pa"] / 1000)


def test_what_is_set_warm_is_the_placard_once_it_is_cold() -> None:
    placard = {"size": "205/55R16 91V", "front_kpa": 240, "rear_kpa": 210}
    vehicle = {"placard": placard, "temperature": {"set_c": 22, "at_c": -15}}
    to_set = {axle: float(model_of(assembly(), vehicle=vehicle).value(f"car.to_set.{axle}_kpa")) for axle in (
        "front", "rear"
    )}  # fmt: skip
    # Two on the front axle, and the third behind.
    set_warm = [to_set["front"], to_set["front"], to_set["rear"]]
    again = model_of(
        *(assembly(letter, bench={"pressure_kpa": kpa}) for letter, kpa in zip("ABC", set_warm, strict=True)),
        vehicle=vehicle,
    )
    cold = [float(again.value(f"assembly[{letter}].pressure.cold_kpa")) for letter in "ABC"]
    assert cold == pytest.approx([240, 240, 210])


def test_the_lamp_is_due_at_three_quarters_of_its_own_axle_s_placard() -> None:
    rule = case("tpms-threshold-35psi")
    psi = float(convert(1.0, "psi", "kPa"))
    placard = {"size": "205/55R16 91V", "front_kpa": 35 * psi, "rear_kpa": 40 * psi}
    vehicle = {"placard": placard, "temperature": {"set_c": 20, "at_c": 20}}
    found = (26.2, 26.3, 29.9, 30.1)
    model = model_of(
        *(
            assembly(letter, bench={"pressure_kpa": each * psi})
            for letter, each in zip("ABCD", found, strict=True)
        ),
        vehicle=vehicle,
    )
    due = float(model.value("car.warning.front_kpa")) / psi
    assert due == pytest.approx(rule["expect"]["telltale_at_or_below_psi"])
    assert model.value("car.warned").tolist() == [True, False, True, False]


# Pull


def pull_by_wheels(conicity_n: tuple[float, float], ply_steer_n: tuple[float, float]) -> float:
    """Push to the right of two front wheels, each by how it turns: left counterclockwise, right clockwise."""
    outboard_n = (conicity_n[0] - ply_steer_n[0], conicity_n[1] + ply_steer_n[1])
    return outboard_n[1] - outboard_n[0]


def test_conicity_and_ply_steer_are_those_of_the_published_case() -> None:
    book = case("uniformity-conicity-plysteer")["expect"]
    given = case("uniformity-conicity-plysteer")["given"]
    conicity = (given["mean_lateral_force_cw_N"] + given["mean_lateral_force_ccw_N"]) / 2
    ply_steer = given["mean_lateral_force_cw_N"] - conicity
    view = model_of(assembly(tire={"conicity_n": conicity, "ply_steer_n": ply_steer})).assembly("A")
    assert float(view.value("lateral.conicity_n")) == pytest.approx(book["conicity_N"])
    assert float(view.value("lateral.ply_steer_n")) == pytest.approx(book["ply_steer_N"])


@pytest.mark.parametrize(
    ("conicity_n", "ply_steer_n"), [((20, 50), (-30, -12)), ((-40, 10), (15, 5)), ((60, -20), (8, -40))]
)
def test_the_pull_is_that_of_the_wheels_and_a_swap_turns_conicity_alone(
    conicity_n: tuple[float, float], ply_steer_n: tuple[float, float]
) -> None:
    model = model_of(
        *(
            assembly(letter, tire={"conicity_n": conicity, "ply_steer_n": ply_steer})
            for letter, conicity, ply_steer in zip("AB", conicity_n, ply_steer_n, strict=True)
        )
    )
    assert float(model.value("car.pull.total_n")) == pytest.approx(pull_by_wheels(conicity_n, ply_steer_n))
    swapped = pull_by_wheels(conicity_n[::-1], ply_steer_n[::-1])
    assert float(model.value("car.pull.swapped_n")) == pytest.approx(swapped)
    assert str(model.value("car.pull.swapped_side")) == ("right" if swapped > 0 else "left")


# Vibration


def shaking(**changes: Any) -> Model:
    vibration = {"speed_kmh": 96.56064, "source": "wheel-1", "axle_ratio": 3.5, "engine_rpm": 1800, **changes}
    return model_of(tire("P225/50R16 91V"), vehicle={"vibration": vibration})


def test_the_wheel_s_frequency_is_the_published_one_within_its_tread() -> None:
    # The book's tire rolls as its maker measured it; 3.05 diameters is the standard's figure for all tires.
    book = case("freq-P225-50R16")["expect"]["first_order_Hz"]
    assert float(shaking().value("car.vibration.wheel_hz")) == pytest.approx(book, rel=0.02)


@pytest.mark.parametrize(
    ("source", "times"),
    [("wheel-1", 1), ("wheel-2", 2), ("wheel-3", 3), ("driveline-1", 3.5), ("driveline-2", 7)],
)
@pytest.mark.parametrize("off_percent", [-1, 0, 1])
def test_the_nearest_order_is_the_one_it_was_made_of(source: str, times: float, off_percent: float) -> None:
    model = shaking(source=source, off_percent=off_percent)
    assert str(model.value("car.vibration.source")) == source
    expected = times * (1 + off_percent / 100)
    assert float(model.value("car.vibration.wheel_order")) == pytest.approx(expected, abs=0.01)


def test_engine_orders_come_from_turns_in_a_minute() -> None:
    model = shaking(source="engine-half", engine_rpm=2400)
    assert float(model.value("car.vibration.engine_hz")) == pytest.approx(40)
    assert float(model.value("car.vibration.measured_hz")) == pytest.approx(20)


def test_a_student_s_own_circumference_changes_no_reading_of_the_meter() -> None:
    model = shaking()
    own = model.with_given({"assembly[A].tire.rolling_mm": np.asarray(3000.0)})
    assert own.value("car.vibration.measured_hz") == model.value("car.vibration.measured_hz")
    assert own.value("car.vibration.wheel_hz") != model.value("car.vibration.wheel_hz")


def test_the_force_of_an_unbalance_is_the_published_one() -> None:
    book = case("force-centrifugal-5g-521rpm")
    hz = book["given"]["speed_rpm"] / 60
    radius_mm = book["given"]["rim_diameter_m"] * 1000 / 2
    model = shaking(mass_g=book["given"]["mass_g"], radius_mm=radius_mm)
    force_n = float(
        model.with_given({"car.vibration.wheel_hz": np.asarray(hz)}).value("car.vibration.force_n")
    )
    assert force_n == pytest.approx(book["expect"]["force_N"], abs=book["tolerance"]["N"])


# Permitted places

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


def test_each_student_gets_one_of_the_listed_sizes_the_same_in_both_unit_systems() -> None:
    scenario = small([], assembly(tire={"designation": {"one_of": [FRONT, REAR]}}))

    def sizes(units: UnitSystem) -> list[str]:
        drawn = (variant(scenario, seed=seed, units=units).truth.assemblies["A"] for seed in range(20))
        return [each.tire.designation for each in drawn]

    assert sizes(UnitSystem.METRIC) == sizes(UnitSystem.US)
    assert set(sizes(UnitSystem.US)) == {FRONT, REAR}


# What authors may leave out


@pytest.mark.parametrize("kind", ["vibration", "unbalance"])
def test_a_vibration_that_is_shown_but_not_there_is_a_fault(kind: str) -> None:
    parts = [{"title": "Part", "text": "Look.", "shows": [{"kind": kind}]}]
    [fault] = faults_of(small([], parts=parts))
    assert "vehicle has no vibration" in fault.message


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

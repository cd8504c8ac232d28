"""Quantities of pressure, pull and vibration."""

from typing import Any

import numpy as np
import pytest

from app.compute.units import convert
from app.domain.check import faults_of
from app.domain.model import Model
from tests.domain.writing import assembly, model_of, small, tire
from tests.published.cases import case


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


@pytest.mark.parametrize("kind", ["vibration", "unbalance"])
def test_a_vibration_that_is_shown_but_not_there_is_a_fault(kind: str) -> None:
    parts = [{"title": "Part", "text": "Look.", "shows": [{"kind": kind}]}]
    [fault] = faults_of(small([], parts=parts))
    assert "vehicle has no vibration" in fault.message

"""Tire pressure by the gas law and the warning threshold, against a textbook and the federal rule."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.compute.errors import NotFiniteError, OutOfRangeError
from app.compute.pressure import pressure_at_temperature, pressure_warning
from app.compute.units import convert
from tests.published.cases import case as published

celsius = st.floats(-60, 120)


def test_a_tire_that_cools_loses_pressure_as_in_the_textbook_problem() -> None:
    case = published("gas-openstax-car-tire")
    kpa = {name: case["given"][name] / 1000 for name in ("gauge_Pa", "atm_Pa")}

    gauge_kpa = pressure_at_temperature(
        kpa["gauge_Pa"], case["given"]["t1_C"], case["given"]["t2_C"], kpa["atm_Pa"]
    )

    assert gauge_kpa * 1000 == pytest.approx(case["expect"]["gauge_Pa"], abs=case["tolerance"]["Pa"])


def test_ten_degrees_fahrenheit_make_nearly_one_psi() -> None:
    case = published("gas-rule-1psi-per-10F")
    set_kpa = convert(case["given"]["gauge_psi"], "psi", "kPa")
    warm, cool = convert([case["given"]["t1_F"], case["given"]["t2_F"]], "F", "C")

    drop_kpa = set_kpa - pressure_at_temperature(set_kpa, warm, cool)

    drop_psi = convert(drop_kpa, "kPa", "psi")
    assert drop_psi == pytest.approx(case["expect"]["drop_psi"], abs=case["tolerance"]["psi"])


@given(st.floats(100, 900), celsius, celsius)
def test_a_tire_brought_back_to_its_temperature_has_its_pressure_again(
    kpa: float, one: float, other: float
) -> None:
    there = pressure_at_temperature(kpa, one, other)

    assert pressure_at_temperature(there, other, one) == pytest.approx(kpa, abs=1e-9)
    assert (there - kpa) * (other - one) >= -1e-9


def test_a_warning_is_due_a_quarter_below_the_placard() -> None:
    case = published("tpms-threshold-35psi")
    placard, minimum = convert(list(case["given"].values()), "psi", "kPa")

    warning_psi = convert(pressure_warning(placard, minimum), "kPa", "psi")

    assert warning_psi == pytest.approx(
        case["expect"]["telltale_at_or_below_psi"], abs=case["tolerance"]["psi"]
    )


def test_a_warning_is_never_due_below_the_minimum_of_the_table() -> None:
    assert pressure_warning([150, 400], 137.9).tolist() == [137.9, 300]
    assert pressure_warning(150) == pytest.approx(convert(20, "psi", "kPa"), abs=0.01)


def test_a_batch_answers_as_each_tire_alone() -> None:
    together = pressure_at_temperature([200, 250], 20, [[0], [40]])

    assert together.shape == (2, 2)
    assert together[1, 0] == pressure_at_temperature(200, 20, 40)


def test_numbers_that_cannot_be_are_refused_by_name() -> None:
    for field, call in {
        "set_kpa": lambda: pressure_at_temperature(-1, 20, 20),
        "set_c": lambda: pressure_at_temperature(200, -273.15, 20),
        "at_c": lambda: pressure_at_temperature(200, 20, [20, -300]),
        "ambient_kpa": lambda: pressure_at_temperature(200, 20, 20, 0),
        "placard_kpa": lambda: pressure_warning(0),
        "table_minimum_kpa": lambda: pressure_warning(200, -1),
    }.items():
        with pytest.raises(OutOfRangeError) as refused:
            call()
        assert refused.value.field == field
    with pytest.raises(NotFiniteError, match="at_c"):
        pressure_at_temperature(200, 20, np.nan)

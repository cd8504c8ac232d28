"""Which variants are refused: those whose answer is not determined with a margin."""

from typing import Any

import numpy as np
import pytest

from app.domain.draws import Draw
from app.domain.measures import Measure, UnitSystem
from app.domain.model import Model
from app.domain.scenario import Scenario
from app.domain.tasks import Tolerance
from app.domain.truth import draw_truth
from app.domain.well_posed import refusals, within
from tests.domain.writing import assembly, first, heavy_spot, number, placement, small

METRIC = UnitSystem.METRIC


def reasons(scenario: Scenario, units: UnitSystem = METRIC) -> list[str]:
    seed = np.uint64(0)
    model = Model(draw_truth(scenario, Draw(seed, seed), units))
    return [reason for reason, mask in refusals(scenario, model) if np.any(mask)]


def of_spots(task: dict[str, Any], *spots: dict[str, Any], **changes: Any) -> list[str]:
    return reasons(small([task], assembly(heavy_spots=list(spots)), **changes))


def of_trace(task: dict[str, Any], units: UnitSystem = METRIC, **parts: Any) -> list[str]:
    wheel = {"bead_seats": {plane: parts.get(plane, []) for plane in ("inboard", "outboard")}}
    tire = {"force": parts.get("force", []), "spring_rate_n_per_mm": 200}
    return reasons(small([task], assembly(wheel=wheel, tire=tire), **parts.get("scenario", {})), units)


@pytest.mark.parametrize(
    ("measure", "right", "given", "tolerance", "counts"),
    [
        (Measure.MASS, 30, 30.5, Tolerance(absolute=0.5), True),
        (Measure.MASS, 30, 30.51, Tolerance(absolute=0.5), False),
        (Measure.MASS, 0.1 + 0.2, 0.3, Tolerance(), True),
        (Measure.MASS, 100, 105, Tolerance(relative=0.05), True),
        (Measure.MASS, 100, 105.1, Tolerance(relative=0.05), False),
        (Measure.MASS, 10, 11, Tolerance(absolute=1, relative=0.05), True),
        (Measure.ANGLE, 359, 2, Tolerance(absolute=3), True),
        (Measure.ANGLE, 359, 3, Tolerance(absolute=3), False),
        (Measure.TURN, 179, -178, Tolerance(absolute=3), True),
        (Measure.TURN, 60, -60, Tolerance(absolute=3), False),
        (Measure.MASS, float("nan"), 30, Tolerance(absolute=1e6), False),
    ],
)
def test_what_counts_as_right(
    measure: Measure, right: float, given: float, tolerance: Tolerance, *, counts: bool
) -> None:
    assert bool(within(measure, tolerance, right, given)) is counts


def test_the_direction_of_spots_that_nearly_cancel_is_refused() -> None:
    task = number("at", "assembly[A].static.angle_deg", 5)
    near, far = heavy_spot(30, 0, -50), heavy_spot(24, 180, 50)
    assert of_spots(task, near, far) == ["at is of a vector too small to have a sure direction"]
    # 30 - 18 = 12 of 48 is a quarter, above the fifth that is needed.
    assert of_spots(task, near, heavy_spot(18, 180, 50)) == []


def test_a_direction_that_is_not_there_is_refused() -> None:
    task = number("at", "assembly[A].correction.outboard.angle_deg", 5)
    assert "at has no direction" in of_spots(task, heavy_spot(30, 0, -80))


def test_the_angle_of_a_weight_below_the_dead_band_is_refused() -> None:
    task = number("at", "assembly[A].correction.outboard.angle_deg", 5)
    spots = [heavy_spot(30, 0, -80), heavy_spot(4.9, 90, 80)]
    assert of_spots(task, *spots) == ["at is of a vector too small to have a sure direction"]
    assert of_spots(task, heavy_spot(30, 0, -80), heavy_spot(5.1, 90, 80)) == []


@pytest.mark.parametrize(("units", "enough_mm"), [(METRIC, 0.24), (UnitSystem.US, 0.6)])
def test_a_high_spot_needs_runout_that_the_dial_can_tell(units: UnitSystem, enough_mm: float) -> None:
    # One division (0.01 mm, 0.001 in) across half of the runout turns it by half of the 10 degrees:
    # 2 x 0.01 / tan 5 degrees = 0.23 mm, 2 x 0.0254 / tan 5 degrees = 0.58 mm.
    task = number("at", "assembly[A].runout.inboard.high_deg", 10)
    unsure = "at is of a vector too small to have a sure direction"
    assert unsure in of_trace(task, units, inboard=[first(enough_mm - 0.04, 100)])
    assert of_trace(task, units, inboard=[first(enough_mm + 0.04, 100)]) == []


def test_the_high_point_of_a_force_needs_size() -> None:
    # 1 N across half of it, within 4 of 8 degrees: 2 / tan 4 degrees = 28.6 N.
    task = number("at", "assembly[A].force.high_deg", 8)
    assert of_trace(task, force=[first(26, 100)]) != []
    assert of_trace(task, force=[first(32, 100)]) == []


def test_seats_whose_high_spots_face_each_other_have_no_sure_average() -> None:
    task = number("at", "assembly[A].runout.average.high_deg", 20)
    assert of_trace(task, inboard=[first(0.8, 0)], outboard=[first(0.7, 180)]) != []
    assert of_trace(task, inboard=[first(0.8, 0)], outboard=[first(0.7, 90)]) == []


@pytest.mark.parametrize("key", ["tire_force.high_deg", "match.turn_deg"])
def test_a_tire_that_shares_almost_nothing_has_no_sure_high_point(key: str) -> None:
    task = number("at", f"assembly[A].{key}", 12)
    seat = [first(0.5, 20)]
    assert of_trace(task, inboard=seat, outboard=seat, force=[first(15, 100)]) != []
    assert of_trace(task, inboard=seat, outboard=seat, force=[first(90, 100)]) == []


def test_a_wrong_turn_that_hits_the_right_value_is_refused() -> None:
    task = number("turn", "assembly[A].match.turn_deg", 10)
    seat = [first(0.5, 0)]
    # The high points are together, so half a turn is right and its way round can't be wrong.
    refused = of_trace(task, inboard=seat, outboard=seat, force=[first(90, 0)])
    assert refused == ["turn can't be told from turned-the-other-way"]


def test_a_weight_between_two_stock_weights_is_refused() -> None:
    task = number("stock", "assembly[A].stock.inboard.mass_g")
    assert of_spots(task, heavy_spot(32.3, 0, -80)) == ["stock lies between two stock weights"]
    assert of_spots(task, heavy_spot(32.7, 0, -80)) == ["stock lies between two stock weights"]
    assert of_spots(task, heavy_spot(33.1, 0, -80)) == []


def tire_of(week: int, year: int) -> dict[str, Any]:
    return assembly(tire={"tin": {"prefix": "1AB", "week": week, "year": year}})


@pytest.mark.parametrize(
    ("week", "year", "refused"),
    [
        (53, 2023, []),  # 49 CFR 574.5: 2023 has 53 weeks, 2022 has not
        (53, 2022, ["tire A has a week that its year doesn't have"]),
        (41, 2026, ["tire A is made after the day of service"]),
        (39, 2026, []),
        (40, 2020, ["tire A has its birthday in the week of service"]),  # 4 to 10 October 2020
        (39, 2020, []),
        (41, 2020, []),
    ],
)
def test_dates_of_tires_on_5_october_2026(week: int, year: int, refused: list[str]) -> None:
    assert reasons(small([], tire_of(week, year))) == refused


@pytest.mark.parametrize(
    ("tire_n", "wheel_mm", "refused"),
    [
        (78, 0.0, ["a first harmonic is too near the limit"]),
        (
            82,
            0.0,
            ["a first harmonic is too near the limit", "what match mounting leaves is too near the limit"],
        ),
        (60, 0.0, []),
        (140, 0.3, ["what match mounting leaves is too near the limit"]),  # 200 together, 80 apart
        (100, 0.3, []),
    ],
)
def test_a_force_near_the_limit_leaves_the_decision_open(
    tire_n: float, wheel_mm: float, refused: list[str]
) -> None:
    task = number("placed", "assembly[A].placed.first_n")
    seat = [first(wheel_mm, 0)]
    changes = {"vehicle": {"first_harmonic_limit_n": 80}}
    got = of_trace(task, inboard=seat, outboard=seat, force=[first(tire_n, 0)], scenario=changes)
    assert got == refused


def test_decisions_that_must_occur() -> None:
    changes = {
        "vehicle": {"first_harmonic_limit_n": 80},
        "well_posed": {"needs_decisions": ["fit", "match-mount", "replace"]},
    }
    seat = [first(0.1, 0)]
    got = of_trace(
        number("x", "assembly[A].force.first_n"),
        inboard=seat,
        outboard=seat,
        force=[first(40, 90)],
        scenario=changes,
    )
    assert got == ["there is no assembly to match-mount", "there is no assembly to replace"]


def four(forces: list[float], conicities: list[float], objective: str) -> list[str]:
    round_wheel = {"bead_seats": {"inboard": [], "outboard": []}}
    assemblies = [
        assembly(letter, wheel=round_wheel, tire={"force": [first(force, 0)], "conicity_n": conicity})
        for letter, force, conicity in zip("ABCD", forces, conicities, strict=True)
    ]
    return reasons(
        small([placement("place", f"car.{objective}")], *assemblies, vehicle={"first_harmonic_limit_n": 5000})
    )


def test_two_nearly_equal_assemblies_leave_the_placement_open() -> None:
    rivals = ["place has rivals for the best placement"]
    level = [0.0, 0.0, 0.0, 0.0]
    assert four([20, 21, 40, 60], level, "comfort") == rivals
    assert four([20, 30, 40, 60], level, "comfort") == []
    assert four([30, 30, 30, 30], level, "comfort") == [
        *rivals,
        "place can't be told from drive-side-mirrored",
    ]
    assert four([20, 30, 40, 60], [24, -15, 21, 3], "tracking") == []
    assert four([20, 30, 40, 60], [0, 10, 20, 30.1], "tracking") == rivals

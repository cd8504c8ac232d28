"""Known wrong turns: each is recognised on a student's own numbers, and none counts as right."""

from collections import Counter

import numpy as np
import pytest

from app.compute import angles
from app.domain.marking import Verdict, mark_all
from app.domain.measures import UnitSystem, show
from app.domain.model import quantity_of
from app.domain.tasks import NumberTask
from app.domain.variants import Variant
from app.domain.well_posed import within
from app.domain.wrong_turns import mirrored_costs, wrong_turns
from tests.domain.writing import assembly, first, heavy_spot, number, shipped, small, variant

EXPECTED = {
    "two-plane-balance": {
        "at-the-heavy-spot", "planes-swapped", "one-plane-for-two", "ounces-as-grams", "grams-as-ounces",
        "diameter-as-radius", "added-as-numbers", "counted-the-other-way",
    },
    "runout-and-match-mounting": {
        "peak-for-peak-to-peak", "total-for-first-harmonic", "low-for-high", "averaged-as-numbers",
        "subtracted-as-numbers", "turned-the-other-way", "high-on-high", "added-not-cancelled",
        "counted-the-other-way",
    },
    "four-assemblies": {
        "at-the-heavy-spot", "planes-swapped", "one-plane-for-two", "ounces-as-grams", "grams-as-ounces",
        "years-subtracted", "counted-the-other-way",
    },
    "reading-a-sidewall": {
        "aspect-as-height", "one-sidewall", "rim-alone", "index-as-load", "two-tires-for-one",
        "one-tire-for-two", "years-subtracted",
    },
    "dots-and-marks": {"turned-the-other-way", "other-dot", "dot-to-the-valve"},
    "mounting-in-order": {"turned-the-other-way"},
    "pressure-and-temperature": {
        "gauge-as-absolute", "absolute-for-gauge", "temperatures-swapped", "other-axle",
        "quarter-for-three-quarters",
    },
    "vibration-by-speed": {
        "one-sidewall", "rim-alone", "pi-times-diameter", "diameter-for-circumference", "hours-for-seconds",
        "turns-in-a-minute", "divided-by-the-ratio", "upside-down", "turns-for-radians", "not-squared",
        "diameter-as-radius",
    },
    "which-way-it-pulls": {
        "other-frame", "not-halved", "left-for-right", "conicities-added", "ply-steers-subtracted",
        "swap-turns-all", "swap-turns-nothing",
    },
    "comfort-and-tracking": {"drive-side-mirrored", "shares-forgotten", "conicities-added", "rear-in-full"},
    "mail-van-on-the-right": {"drive-side-mirrored", "shares-forgotten"},
    "cone-and-dimensions": {"one-flange-forgotten", "nothing-left", "left-as-asked", "grams-as-ounces"},
    "one-plane": {"nothing-left", "as-before-the-weight", "added-as-numbers", "diameter-as-radius"},
    "ounces-and-grams": {
        "not-converted", "converted-backward", "always-rounded-up", "always-rounded-down", "planes-swapped",
    },
    "behind-the-spokes": {
        "shared-in-halves", "shared-as-on-a-plank", "spokes-swapped", "nothing-left", "always-rounded-up",
    },
    "half-turn-test": {
        "not-halved", "parts-swapped", "first-spin-believed", "second-minus-first", "runout-for-off-centre",
        "one-plane-only", "radius-forgotten",
    },
    "trial-weight": {
        "sizes-subtracted", "second-reading-as-effect", "effect-turned-round", "ratio-upside-down",
        "at-the-heavy-spot",
    },
    "wheel-tire-or-mounting": {
        "not-halved", "parts-swapped", "wheel-not-taken-off", "subtracted-as-numbers", "low-for-high",
    },
    "first-harmonic-and-total": {"peak-for-peak-to-peak", "total-for-first-harmonic", "low-for-high"},
    "force-and-limit": {"peak-for-peak-to-peak", "total-for-first-harmonic", "low-for-high"},
    "match-mount-from-two": {
        "not-halved", "tire-and-wheel-swapped", "subtracted-as-numbers", "turned-the-other-way",
        "high-on-high", "added-not-cancelled",
    },
}  # fmt: skip


@pytest.mark.parametrize("scenario_id", EXPECTED)
@pytest.mark.parametrize("units", UnitSystem)
def test_every_wrong_turn_is_recognised_where_it_does_not_hit_the_right_value(
    scenario_id: str, units: UnitSystem
) -> None:
    recognised: Counter[str] = Counter()
    for seed in range(12):
        taken = variant(shipped(scenario_id), seed=seed, units=units)
        for task in taken.scenario.tasks:
            if isinstance(task, NumberTask):
                recognised.update(turns_recognised(taken, task))
    assert set(recognised) >= EXPECTED[scenario_id]


def turns_recognised(taken: Variant, task: NumberTask) -> list[str]:
    """Takes each wrong turn of a task, types its value, and sees it named in the mark."""
    found = []
    measure, right = quantity_of(task.key).measure, float(taken.model.value(task.key))
    turns = ((turn, float(value)) for turn, value in wrong_turns(taken.model, task.key))
    values = [(turn, value) for turn, value in turns if np.isfinite(value)]  # nan: there is no such slip here
    for turn, value in values:
        if within(measure, task.tolerance, right, value):
            assert not turn.always_differs, (taken.seed, task.id, turn.id)
            continue
        typed = show(value, measure, taken.units, decimals=4)
        mark = next(mark for mark in mark_all(taken, {task.id: typed}) if mark.task_id == task.id)
        assert mark.verdict is Verdict.WRONG
        # Two slips may give one value: then the first that is tried explains it.
        same = {other.id for other, at in values if within(measure, task.tolerance, at, value)}
        assert mark.wrong_turn in same, (taken.seed, task.id, turn.id)
        words = {other.words for other, _ in values if other.id == mark.wrong_turn}
        assert any(mark.reason.startswith(each) for each in words)
        found.append(turn.id)
    return found


def values_of(key: str, *, scenario_assembly: dict[str, object]) -> dict[str, float]:
    model = variant(small([], scenario_assembly)).model
    return {turn.id: float(value) for turn, value in wrong_turns(model, key)}


def test_the_wrong_values_of_a_wheel_worked_by_hand() -> None:
    # 30 g at 40 degrees in the inboard plane; 12 g at 100 in the outboard plane; all radii 200.
    spots = [heavy_spot(30, 40, -80), heavy_spot(12, 100, 80)]
    mass = values_of("assembly[A].correction.inboard.mass_g", scenario_assembly=assembly(heavy_spots=spots))
    one_plane = float(np.hypot(30 + 12 * np.cos(np.pi / 3), 12 * np.sin(np.pi / 3)))
    assert mass == pytest.approx(
        {
            "planes-swapped": 12,
            "one-plane-for-two": one_plane,
            "ounces-as-grams": 30 / 28.349523125,
            "grams-as-ounces": 30 * 28.349523125,
            "diameter-as-radius": 15,
        }
    )
    angle = values_of(
        "assembly[A].correction.inboard.angle_deg", scenario_assembly=assembly(heavy_spots=spots)
    )
    single = float(np.rad2deg(np.arctan2(12 * np.sin(np.pi / 3), 30 + 6))) + 40 + 180
    assert angle == pytest.approx(
        {
            "at-the-heavy-spot": 40,
            "planes-swapped": 280,
            "one-plane-for-two": single,
            "counted-the-other-way": 140,
        }
    )
    static = values_of("assembly[A].static.size_gmm", scenario_assembly=assembly(heavy_spots=spots))
    assert static == {"added-as-numbers": 42 * 200}


def test_one_plane_for_two_from_stock_is_rounded_to_the_shelf() -> None:
    # 18 g at 0 inboard and 24 g at 90 outboard are 30 g together, a 3-4-5 triangle. Two pieces of 7, 11 and
    # 16 g give 18 for 18 (7 + 11), 23 for 24 (7 + 16), and for 30 the sum 32 (16 + 16), not 27.
    spots = [heavy_spot(18, 0, -80), heavy_spot(24, 90, 80)]
    shelf = {"step": 1, "dead_band": 1, "pieces": [7, 11, 16]}
    tasks = [number(plane, f"assembly[A].stock.{plane}.mass_g") for plane in ("inboard", "outboard")]
    scenario = small(tasks, assembly(heavy_spots=spots), machine={"metric": shelf, "max_pieces": 2})
    taken = variant(scenario)
    for plane, right in (("inboard", 18), ("outboard", 23)):
        key = f"assembly[A].stock.{plane}.mass_g"
        assert float(taken.model.value(key)) == right
        turns = {turn.id: (float(value), turn) for turn, value in wrong_turns(taken.model, key)}
        value, turn = turns["one-plane-for-two"]
        assert value == 32
        assert not turn.always_differs
    marked = {mark.task_id: mark.wrong_turn for mark in mark_all(taken, {"inboard": "32", "outboard": "30"})}
    assert marked == {"inboard": "one-plane-for-two", "outboard": None}


def test_the_wrong_values_of_a_match_worked_by_hand() -> None:
    # Tire 100 N at 0, wheel 0.4 mm x 200 = 80 N at 90: the right turn is 270 - 0, the short way -90.
    seat = [first(0.4, 90)]
    sheet = assembly(
        wheel={"bead_seats": {"inboard": seat, "outboard": seat}},
        tire={"force": [first(100, 0)], "spring_rate_n_per_mm": 200},
    )
    turn = values_of("assembly[A].match.turn_deg", scenario_assembly=sheet)
    assert turn == pytest.approx({"turned-the-other-way": 90, "high-on-high": 90}, abs=1.5)
    left = values_of("assembly[A].match.left_n", scenario_assembly=sheet)
    assert left == pytest.approx({"added-not-cancelled": 180}, abs=2)
    share = values_of("assembly[A].tire_force.first_n", scenario_assembly=sheet)
    together = float(np.hypot(100, 80))
    assert share == pytest.approx(
        {"peak-for-peak-to-peak": 50, "subtracted-as-numbers": together - 80}, abs=2
    )


@pytest.mark.parametrize(
    ("week", "year", "by_the_rule", "by_iso"),
    [
        # Service on 5 October 2026. By 49 CFR 574.5 week 41 of 2016 begins on Sunday 9 October (the first
        # full week on 3 January): 9 full years. By ISO 8601 it begins on Monday 10 October: 9 as well.
        (41, 2016, 9, 9),
        # 2019: the first full week begins on 6 January, week 40 on 6 October: 6. By ISO on 30 September: 7.
        (40, 2019, 6, 7),
    ],
)
def test_the_iso_week_gives_another_age_only_where_the_calendars_part(
    week: int, year: int, by_the_rule: int, by_iso: int
) -> None:
    model = variant(small([], assembly(tire={"tin": {"prefix": "1AB", "week": week, "year": year}}))).model
    turns = {turn.id: float(value) for turn, value in wrong_turns(model, "assembly[A].tire.age_years")}
    assert float(model.value("assembly[A].tire.age_years")) == by_the_rule
    assert turns == {"iso-week": by_iso, "years-subtracted": 2026 - year}


def test_a_placement_right_for_the_other_driver_is_recognised() -> None:
    taken = variant(shipped("four-assemblies"), seed=3)
    turn, costs = mirrored_costs(taken.model, "car.comfort") or (None, None)
    assert turn is not None
    assert turn.id == "drive-side-mirrored"
    from_the_key = np.asarray(taken.model.value("car.comfort"))
    assert sorted(costs) == pytest.approx(sorted(from_the_key))
    assert costs.argmin() != from_the_key.argmin()
    assert mirrored_costs(taken.model, "car.tracking") is None
    assert mirrored_costs(taken.model, "assembly[A].static.size_gmm") is None


def test_a_quantity_of_the_car_has_no_wrong_turn_of_an_assembly() -> None:
    taken = variant(shipped("four-assemblies"))
    assert list(wrong_turns(taken.model, "car.comfort")) == []


def test_a_turn_and_its_opposite_are_told_apart_around_the_circle() -> None:
    task = number("turn", "assembly[A].match.turn_deg", 10)
    seat = [first(0.5, 200)]
    sheet = assembly(
        wheel={"bead_seats": {"inboard": seat, "outboard": seat}},
        tire={"force": [first(90, 300)], "spring_rate_n_per_mm": 200},
    )
    taken = variant(small([task], sheet))
    right = float(taken.model.value("assembly[A].match.turn_deg"))
    mark = mark_all(taken, {"turn": f"{-right + 360:.0f}" if right > 0 else f"{-right:.0f} cw"})[0]
    assert mark.wrong_turn == "turned-the-other-way"
    assert abs(float(angles.wrap_turn(right))) < 170

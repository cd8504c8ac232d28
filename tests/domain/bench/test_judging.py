"""The work at the bench is judged by what is left, with the student's own numbers in each reason."""

from dataclasses import replace
from typing import Any

import pytest

from app.domain.bench import BenchState, judging, start
from app.domain.bench.state import BrokenRule, TighteningPass
from app.domain.marking import Mark, Verdict, mark_all
from app.domain.measures import UnitSystem
from app.domain.tasks import BenchTask
from app.domain.variants import Variant, draw
from tests.domain.bench.mechanic import WORKS, Mechanic
from tests.domain.bench.workshop import Hand, heavy_spot, shop
from tests.domain.writing import shipped

ONE, FOUR = "bench-one-assembly", "bench-four-assemblies"


def task(judges: str, limit: float = 0.0) -> BenchTask:
    words: dict[str, Any] = {"id": judges, "title": judges, "prompt": judges, "points": 4.0}
    return BenchTask(kind="bench", judges=judges, limit=limit, **words)  # type: ignore[arg-type]


def worked(seed: int = 5, units: UnitSystem = UnitSystem.METRIC) -> tuple[Variant, Mechanic]:
    variant = draw(shipped(FOUR), seed, units)
    return variant, WORKS[FOUR](variant)


def marks(variant: Variant, state: BenchState | None) -> dict[str, Mark]:
    return {mark.task_id: mark for mark in mark_all(variant, {}, state)}


@pytest.mark.slow
@pytest.mark.parametrize("scenario_id", WORKS)
@pytest.mark.parametrize("units", UnitSystem)
def test_the_right_way_reaches_full_marks_on_300_variants(scenario_id: str, units: UnitSystem) -> None:
    short = []
    for seed in range(300):
        variant = draw(shipped(scenario_id), seed, units)
        state = WORKS[scenario_id](variant).state
        bench = {each.id for each in variant.scenario.tasks if isinstance(each, BenchTask)}
        found = marks(variant, state)
        short += [
            (seed, name, found[name].reason) for name in bench if found[name].verdict is not Verdict.RIGHT
        ]
    assert short == []


@pytest.mark.parametrize("scenario_id", WORKS)
def test_nothing_done_earns_nothing(scenario_id: str) -> None:
    variant = draw(shipped(scenario_id), 1, UnitSystem.METRIC)
    for state in (None, start(variant)):
        found = marks(variant, state)
        assert {mark.verdict for mark in found.values()} == {Verdict.BLANK}
        assert sum(mark.points for mark in found.values()) == 0


@pytest.mark.parametrize("scenario_id", WORKS)
def test_one_look_earns_no_points_for_saving_spins_and_minutes(scenario_id: str) -> None:
    variant = draw(shipped(scenario_id), 1, UnitSystem.METRIC)
    hand = Hand(variant)
    hand.do("look", assembly="A", at="valve")
    assert sum(mark.points for mark in marks(variant, hand.state).values()) == 0


def test_the_plane_that_is_left_is_named_with_its_grams() -> None:
    hand = Hand(shop(heavy_spot(8.2, 40, -80))).clamps()
    hand.spins()
    judged = judging.judge(hand.variant, hand.state, task("residual", 5))
    assert judged.reason == "The inboard plane of A still has 8.2 g; the limit is 5.0 g."
    assert (judged.share, judged.yours) == (0.5, "planes within the limit: 1 of 2")


def test_an_assembly_that_was_not_spun_after_its_last_change_counts_for_nothing() -> None:
    hand = Hand(shop(heavy_spot(20, 40, -80))).clamps()
    hand.spins()
    hand.fits("inboard", 220, 20)
    judged = judging.judge(hand.variant, hand.state, task("residual", 5))
    assert (judged.share, judged.reason) == (0, "Assembly A was not spun after its last change.")
    hand.spins()
    assert judging.judge(hand.variant, hand.state, task("residual", 5)).share == 1


@pytest.mark.parametrize(("spins", "share"), [(4, 1), (5, 0.75), (6, 0.5), (8, 0), (20, 0)])
def test_what_is_to_be_saved_falls_to_nothing_at_twice_its_limit(spins: int, share: float) -> None:
    variant, mechanic = worked()
    state = replace(mechanic.state, spins=spins)
    assert judging.judge(variant, state, task("spins", 4)).share == pytest.approx(share)


@pytest.mark.parametrize(("broken", "share"), [(0, 1), (1, 0.5), (2, 0), (5, 0)])
def test_each_broken_rule_takes_half(broken: int, share: float) -> None:
    variant, mechanic = worked()
    rules = ("over-torque", "mounted-dry", "clip-thrown", "in-one-step", "sensor-broken")[:broken]
    state = replace(mechanic.state, broken=tuple(BrokenRule(rule, "A", 1) for rule in rules))
    judged = judging.judge(variant, state, task("rules"))
    assert judged.share == share
    if broken:
        assert "A: The lugs were tightened past the torque of the vehicle’s maker." in judged.reason


def test_unsafe_work_that_was_stopped_is_counted() -> None:
    variant, mechanic = worked()
    state = replace(mechanic.state, cautions=("spinning",))
    judged = judging.judge(variant, state, task("cautions"))
    assert (judged.share, judged.reason) == (0.5, "Unsafe work was stopped: spinning.")


def test_a_worse_placement_earns_by_its_cost() -> None:
    variant, mechanic = worked()
    best = judging.judge(variant, mechanic.state, task("comfort"))
    assert best.share == 1
    shares = set()
    for one, other in (("LF", "RF"), ("LF", "RR"), ("LR", "RR")):
        swapped = {one: other, other: one}
        moved = tuple(
            replace(each, where=swapped.get(each.where, each.where)) for each in mechanic.state.assemblies
        )
        judged = judging.judge(variant, replace(mechanic.state, assemblies=moved), task("comfort"))
        assert 0 <= judged.share < 1
        assert "the best" in judged.reason
        shares.add(judged.share)
    assert len(shares) == 3
    away = replace(
        mechanic.state,
        assemblies=(replace(mechanic.state.assemblies[0], where="rack"), *mechanic.state.assemblies[1:]),
    )
    assert judging.judge(variant, away, task("comfort")).share == 0


def test_a_rear_tire_with_the_fronts_pressure_is_named() -> None:
    variant, mechanic = worked()
    state = mechanic.state
    rear = state.at("LR")
    assert rear
    wrong = tuple(replace(each, pressure_kpa=230.0) if each is rear else each for each in state.assemblies)
    judged = judging.judge(variant, replace(state, assemblies=wrong), task("pressure", 3))
    assert (judged.share, judged.reason) == (0.75, f"{rear.id} holds 230 kPa; the placard says 221 kPa.")


def test_torque_is_that_of_the_last_pass_and_the_retorque_is_noted() -> None:
    variant, mechanic = worked()
    state = mechanic.state
    weak = TighteningPass((1, 3, 5, 2, 4), 90.0)
    loose = tuple(
        replace(each, passes=(*each.passes, weak)) if each.where == "RF" else each
        for each in state.assemblies
    )
    judged = judging.judge(variant, replace(state, assemblies=loose), task("torque", 0.05))
    assert (judged.share, judged.reason) == (0.8, "RF was last tightened to 90 N·m, not to 110 N·m.")
    forgotten = replace(state, car=replace(state.car, retorque_km=None))
    assert judging.judge(variant, forgotten, task("torque", 0.05)).share == 0.8


def test_two_assemblies_with_one_number_are_both_named() -> None:
    variant, mechanic = worked()
    same = tuple(
        replace(each, number=1 if each.id in "AB" else each.number) for each in mechanic.state.assemblies
    )
    judged = judging.judge(variant, replace(mechanic.state, assemblies=same), task("numbers"))
    assert judged.share == 0.5
    assert "Assembly A shares its number 1" in judged.reason


@pytest.mark.parametrize("units", UnitSystem)
def test_what_a_criterion_asks_for_is_told_in_the_units_of_the_class(units: UnitSystem) -> None:
    variant, mechanic = worked(units=units)
    found = marks(variant, mechanic.state)
    assert found["residual"].right_answer.startswith(
        "at most 8.0 g" if units is UnitSystem.METRIC else "at most 0.28 oz"
    )
    assert found["force"].right_answer.endswith("80.0 N" if units is UnitSystem.METRIC else "17.98 lbf")
    judged = [each.id for each in variant.scenario.tasks if isinstance(each, BenchTask)]
    assert all(found[name].your_answer for name in judged)

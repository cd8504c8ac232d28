"""What an author may write about a bench, and what the check says to it."""

from typing import Any, get_args

import numpy as np
import pytest

from app.domain.bench import start
from app.domain.check import acceptance, faults_of
from app.domain.measures import UnitSystem
from app.domain.scenario import ScenarioFaults, parse
from app.domain.tasks import Criterion
from app.domain.variants import draw, draw_many
from tests.domain.bench.mechanic import WORKS
from tests.domain.bench.workshop import Hand, first, shop
from tests.domain.writing import FOLDER, assembly, heavy_spot, shipped, shipped_text, small


def test_the_guide_for_authors_names_every_criterion() -> None:
    guide = (FOLDER / "README.md").read_text(encoding="utf-8")
    assert "`bench`" in guide
    for criterion in get_args(Criterion):
        assert f"`{criterion}`" in guide


def bench_task(judges: str, **changes: Any) -> dict[str, Any]:
    return {
        "id": judges,
        "kind": "bench",
        "title": "x",
        "prompt": "x",
        "points": 1,
        "judges": judges,
        **changes,
    }


@pytest.mark.parametrize("scenario_id", WORKS)
def test_the_scenarios_of_the_bench_have_no_faults_and_most_draws_can_be_used(scenario_id: str) -> None:
    assert faults_of(shipped(scenario_id)) == []
    for units in UnitSystem:
        assert acceptance(shipped(scenario_id), units) > 0.5


@pytest.mark.parametrize(
    ("task", "changes", "place", "words"),
    [
        (bench_task("rules"), {}, "parts[0].tasks[0].kind", "add the table [bench]"),
        (
            bench_task("force", limit=80),
            {"bench": {"stations": ["rack"]}},
            "parts[0].tasks[0].judges",
            "roller",
        ),
        (bench_task("comfort"), {"bench": {}}, "parts[0].tasks[0].judges", "four assemblies"),
        (bench_task("spins"), {"bench": {}}, "parts[0].tasks[0].limit", "above 0"),
        (bench_task("rules"), {"bench": {"minutes": {"jump": 1}}}, "bench.minutes.jump", "is no action"),
    ],
)
def test_faults_of_a_bench_are_named_with_their_place(
    task: dict[str, Any], changes: dict[str, Any], place: str, words: str
) -> None:
    found = {fault.place: fault.message for fault in faults_of(small([task], **changes))}
    assert words in found[place]


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ('plane = "inboard"', 'plane = "middle"', "assemblies[0].bench.old_weights[0].plane"),
        ("repeatability_g = 0.2", "repeatability_g = -1", "bench.repeatability_g"),
        ('judges = "residual"', 'judges = "beauty"', "parts[0].tasks[0].judges"),
        ("bore_mm = 66.5", "bore_mm = 0", "assemblies[0].bench.bore_mm"),
    ],
)
def test_faults_of_shape_are_named_with_their_place(old: str, new: str, place: str) -> None:
    with pytest.raises(ScenarioFaults) as refused:
        parse(shipped_text("bench-one-assembly").replace(old, new, 1))
    assert place in [fault.place for fault in refused.value.faults]


def test_a_force_that_no_work_can_bring_within_the_limit_is_refused() -> None:
    force = {"force": [first(200, 0)], "spring_rate_n_per_mm": 200}
    seats = {"bead_seats": {"inboard": [first(0.2, 0)], "outboard": [first(0.2, 0)]}}
    hopeless = small([bench_task("force", limit=80)], assembly(tire=force, wheel=seats), bench={})
    assert any("nothing brings assembly A" in fault.message for fault in faults_of(hopeless))
    rescued = small(
        [bench_task("force", limit=80)],
        assembly(tire=force, wheel=seats, bench={"new_tire": {"first_n": 30}}),
        bench={},
    )
    assert faults_of(rescued) == []


def test_a_bench_changes_no_number_of_a_scenario_that_has_none() -> None:
    plain = small(
        [], assembly(heavy_spots=[heavy_spot({"low": 10, "high": 60}, {"low": 0, "high": 350}, 40)])
    )
    benched = small(
        [],
        assembly(
            heavy_spots=[heavy_spot({"low": 10, "high": 60}, {"low": 0, "high": 350}, 40)],
            bench={"dirt_mm": {"low": 0.1, "high": 0.5}, "flange_mm": {"one_of": [2.4, 3.0]}},
        ),
        bench={},
    )
    seeds = np.arange(50, dtype=np.uint64)
    name = "assembly[A].correction.inboard.mass_g"
    assert np.array_equal(
        draw_many(plain, seeds, UnitSystem.METRIC).value(name),
        draw_many(benched, seeds, UnitSystem.METRIC).value(name),
    )


def test_an_assembly_comes_as_it_was_authored() -> None:
    variant = draw(shipped("bench-four-assemblies"), 3, UnitSystem.METRIC)
    state = start(variant)
    assert [each.beads for each in state.assemblies] == ["seated", "off", "seated", "off"]
    assert 150 <= state.assembly("A").pressure_kpa <= 190
    assert [len(each.weights) for each in state.assemblies] == [2, 0, 2, 0]
    assert all(weight.old and weight.id < 0 for each in state.assemblies for weight in each.weights)


def test_minutes_of_an_action_may_be_set_and_what_the_balancer_asks_for_too() -> None:
    hand = Hand(shop(heavy_spot(20, 40, -80), settings={"minutes": {"spin": 4}, "asks": []}))
    hand.do("bring", assembly="A", to="balancer")
    hand.do("cone", cone="middle")
    hand.do("clamp", grip="firm")
    assert hand.do("spin", hood_down=True).minutes == 4
    assert hand.state.minutes == 1 + 0.5 + 0.5 + 4

"""Variants: the same for the same seed, one or many at once, always well-posed, and kept over releases."""

import json

import numpy as np
import pytest

from app.domain.draws import Draw
from app.domain.measures import UnitSystem
from app.domain.model import Model
from app.domain.scenario import Scenario
from app.domain.tasks import TextTask
from app.domain.truth import draw_truth
from app.domain.variants import (
    MOST_TRIES,
    NotWellPosed,
    UnknownDrawing,
    draw,
    draw_many,
    refused,
    tries_until_well_posed,
)
from app.domain.well_posed import refusals
from tests.domain.golden_variants import golden, golden_file, key_of
from tests.domain.writing import SHIPPED, answered_labs, assembly, heavy_spot, number, shipped, small

METRIC = UnitSystem.METRIC


def seeds(count: int) -> np.ndarray:
    return np.arange(count, dtype=np.uint64)


def keys_of(scenario: Scenario) -> list[str]:
    return [task.key for task in scenario.tasks if not isinstance(task, TextTask) and task.key is not None]


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_the_same_seed_gives_the_same_variant(scenario_id: str) -> None:
    scenario = shipped(scenario_id)
    for seed in range(5):
        assert key_of(draw(scenario, seed, METRIC)) == key_of(draw(scenario, seed, METRIC))


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_variants_drawn_at_once_equal_those_drawn_one_by_one(scenario_id: str) -> None:
    scenario = shipped(scenario_id)
    for units, count in ((METRIC, 200), (UnitSystem.US, 25)):
        many = draw_many(scenario, seeds(count), units)
        for seed in range(count):
            one = draw(scenario, seed, units)
            for key in keys_of(scenario):
                value, among = np.asarray(one.model.value(key)), np.asarray(many.value(key))[seed]
                if value.dtype.kind == "f":
                    np.testing.assert_allclose(among, value, rtol=1e-9, atol=1e-9, err_msg=f"{seed} {key}")
                else:
                    np.testing.assert_array_equal(among, value, err_msg=f"{seed} {key}")


@pytest.mark.parametrize("scenario_id", SHIPPED)
@pytest.mark.parametrize("units", UnitSystem)
def test_every_accepted_variant_is_well_posed(scenario_id: str, units: UnitSystem) -> None:
    scenario = shipped(scenario_id)
    tries = tries_until_well_posed(scenario, seeds(500), units)
    model = Model(draw_truth(scenario, Draw(seeds(500), tries), units))
    assert {reason: int(np.sum(mask)) for reason, mask in refusals(scenario, model) if np.any(mask)} == {}


def test_a_seed_gets_the_first_of_its_tries_that_is_well_posed() -> None:
    scenario = shipped("four-assemblies")
    tries = tries_until_well_posed(scenario, seeds(40), METRIC)
    assert tries.max() > 1
    for seed, accepted in enumerate(tries.tolist()):
        attempts = np.arange(accepted + 1, dtype=np.uint64)
        outcomes = refused(scenario, np.full(accepted + 1, seed, dtype=np.uint64), attempts, METRIC)
        assert outcomes.tolist() == [True] * accepted + [False]


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_students_get_different_numbers(scenario_id: str) -> None:
    keys = {json.dumps(key_of(draw(shipped(scenario_id), seed, METRIC))) for seed in range(30)}
    assert len(keys) == 30


def test_the_letter_of_an_assembly_says_nothing_about_its_decision() -> None:
    model = draw_many(shipped("four-assemblies"), seeds(2000), METRIC)
    decisions = model.each("decision")
    for decision in ("fit", "match-mount", "replace"):
        shares = (decisions == decision).mean(axis=0)
        # Standard error of a share of 2000 is at most 0.011.
        assert np.ptp(shares) < 0.05
        assert shares.min() > 0.1


@pytest.mark.parametrize("scenario_id", answered_labs())
def test_variants_are_those_of_the_release_that_brought_their_scenario(scenario_id: str) -> None:
    how = f"write {scenario_id} down: python -m tests.domain.golden_variants {scenario_id}"
    assert golden_file(scenario_id).exists(), how
    written = json.loads(golden_file(scenario_id).read_text(encoding="utf-8"))
    drawn = golden(scenario_id)
    for units, by_seed in written.items():
        for seed, expected in by_seed.items():
            got = drawn[units][seed]
            assert got["tries"] == expected["tries"], (units, seed)
            assert got["key"].keys() == expected["key"].keys()
            for task_id, right in expected["key"].items():
                if isinstance(right, float):
                    assert got["key"][task_id] == pytest.approx(right, abs=2e-6), (units, seed, task_id)
                else:
                    assert got["key"][task_id] == right, (units, seed, task_id)


def test_another_drawing_version_is_refused() -> None:
    with pytest.raises(UnknownDrawing, match="version 2"):
        draw(shipped("two-plane-balance"), 1, METRIC, version=2)


def test_a_scenario_without_well_posed_variants_is_given_up_with_its_name() -> None:
    # Two equal spots that face each other have no static unbalance, so no direction.
    spots = [heavy_spot(20, 0, -50), heavy_spot(20, 180, 50)]
    hopeless = small([number("at", "assembly[A].static.angle_deg", 5)], assembly(heavy_spots=spots))
    with pytest.raises(NotWellPosed, match="small"):
        draw(hopeless, 1, METRIC)
    assert MOST_TRIES >= 1000


def test_adding_a_range_changes_no_other_number() -> None:
    fixed = small([], assembly(heavy_spots=[heavy_spot({"low": 5, "high": 50}, 0, -50, name="old")]))
    more = small(
        [],
        assembly(
            heavy_spots=[
                heavy_spot({"low": 5, "high": 50}, 1, 20, name="new"),
                heavy_spot({"low": 5, "high": 50}, 0, -50, name="old"),
            ]
        ),
    )
    old = draw(fixed, 9, METRIC).truth.assemblies["A"].heavy_spots
    both = draw(more, 9, METRIC).truth.assemblies["A"].heavy_spots
    assert both.mass_g[1] == old.mass_g[0]
    assert both.mass_g[0] != old.mass_g[0]

"""A bench is its list of actions: the same list gives the same state and the same observations, always."""

import dataclasses
import math
import time
from random import Random
from typing import Any

import pytest

from app.domain.bench import ACTIONS, BenchState, apply, read_action, replay, start
from app.domain.measures import UnitSystem
from app.domain.variants import Variant, draw
from tests.domain.bench.mechanic import WORKS
from tests.domain.bench.workshop import Hand, arrow, asked, heavy_spot, shop
from tests.domain.writing import shipped

FOUR = "bench-four-assemblies"
LETTERS, CORNERS = "ABCD", ("LF", "RF", "LR", "RR")
STATIONS = ("rack", "stand", "balancer", "gauge", "roller")
LEAD_ON = (
    "bring", "clamp", "spin", "fit-weight", "take-off-weight", "core-out", "break-beads", "demount",
    "choose-tire", "mount", "inflate",
)  # fmt: skip
PLANES, KINDS, TORQUES = ("inboard", "outboard"), ("clip", "adhesive"), (40, 110, 130, 400)


def any_action(chance: Random, variant: Variant) -> dict[str, Any]:
    """An action that the bench knows, sensible or not. Half of them keep to what leads somewhere."""
    name = chance.choice(sorted(ACTIONS))
    if chance.random() < 0.5:
        name = chance.choice(LEAD_ON)
    order = chance.sample(range(1, 6), 5)
    fields: dict[str, dict[str, Any]] = {
        "look": {"at": chance.choice(("sidewall", "tread", "valve", "flange", "weights", "damage", "marks"))},
        "bring": {"to": chance.choice(STATIONS)},
        "write-number": {"number": chance.randint(1, 9), "side": chance.choice(PLANES)},
        "break-beads": {"shoe_deg": chance.uniform(0, 360)},
        "choose-tire": {"tire": chance.choice(("own", "new"))},
        "turn-tire": {"turn_deg": chance.uniform(-360, 360)},
        "mount": {"turned_over": chance.random() < 0.5},
        "inflate": {"kpa": chance.choice((0, 50, 200, 220, 260, 400))},
        "cone": {"cone": chance.choice(("small", "middle", "large"))},
        "clamp": {"grip": chance.choice(("firm", "firm", "light", "off"))},
        "clean": {"what": chance.choice(("face", "rim"))},
        "enter": {
            "distance_mm": chance.uniform(0, 1000), "width_in": chance.uniform(2, 20),
            "diameter_in": chance.uniform(8, 30),
        },
        "mode": {
            "planes": chance.choice(("one", "two")), "inboard": chance.choice(KINDS), "outboard": "clip",
        },
        "spin": {"hood_down": chance.random() < 0.9},
        "fit-weight": {
            "kind": "clip", "clip": chance.choice(("C", "P", "T", "MC")), "plane": chance.choice(PLANES),
            "angle_deg": chance.uniform(0, 360), "mass_g": chance.choice(variant.truth.machine.stock_g),
        },
        "take-off-weight": {"weight": chance.randint(-2, 30)},
        "split-weight": {
            "plane": chance.choice(PLANES), "first_deg": chance.uniform(0, 360),
            "second_deg": chance.uniform(0, 360),
        },
        "place-gauge": {"place": chance.choice(("tread", "inboard seat", "outboard seat", "lateral"))},
        "read-dial": {"at_deg": chance.uniform(0, 360)},
        "read-round": {"steps": chance.randint(8, 72)},
        "raise-car": {"at": chance.choice(("lift points", "sill"))},
        "place": {"corner": chance.choice(CORNERS)},
        "take-off": {"corner": chance.choice(CORNERS)},
        "tighten": {"corner": chance.choice(CORNERS), "order": order, "torque_nm": chance.choice(TORQUES)},
        "note-retorque": {"after_km": 100},
    }  # fmt: skip
    needs_letter = "assembly" in {each.name for each in dataclasses.fields(ACTIONS[name])}
    letter = {"assembly": chance.choice(LETTERS)} if needs_letter else {}
    return {"do": name} | fields.get(name, {}) | letter


def numbers_of(value: Any) -> list[float]:
    """Every number that a state or an observation holds."""
    if isinstance(value, bool) or value is None or isinstance(value, str):
        return []
    if isinstance(value, int | float):
        return [float(value)]
    if dataclasses.is_dataclass(value):
        value = [getattr(value, field.name) for field in dataclasses.fields(value)]
    return [number for each in value for number in numbers_of(each)]


@pytest.mark.slow
@pytest.mark.parametrize("units", UnitSystem)
def test_1000_random_lists_of_60_actions_half_in_each_unit_system_replay_identically(
    units: UnitSystem,
) -> None:
    variants, others = ([draw(shipped(FOUR), seed, units) for seed in range(10)] for _ in range(2))
    for seed in range(500):
        variant = variants[seed % 10]
        chance = Random(seed)  # noqa: S311
        bodies = [any_action(chance, variant) for _ in range(60)]
        state, seen = start(variant), []
        for body in bodies:
            before = state
            state, observation = apply(variant, state, read_action(body))
            seen.append(observation)
            assert state.number == before.number + 1
            if observation.refused:
                cautions = before.cautions + observation.cautions
                assert state == dataclasses.replace(before, number=state.number, cautions=cautions)
        assert all(math.isfinite(number) for number in numbers_of((state, seen)))
        assert replay(others[seed % 10], bodies) == (state, tuple(seen))


def test_random_work_reaches_every_kind_of_outcome() -> None:
    variant = draw(shipped(FOUR), 1, UnitSystem.METRIC)
    done, refused = set(), set()
    for seed in range(600):
        chance = Random(seed)  # noqa: S311
        state: BenchState = start(variant)
        for _ in range(60):
            body = any_action(chance, variant)
            state, observation = apply(variant, state, read_action(body))
            (refused if observation.refused else done).add(body["do"])
    # These need a whole chain of right work; the tests of mistakes do them.
    assert set(ACTIONS) - done <= {"lower-car", "split-weight"}
    assert len(refused) > 20


@pytest.mark.parametrize("scenario_id", WORKS)
def test_the_right_way_gives_the_same_when_it_is_replayed(scenario_id: str) -> None:
    mechanic = WORKS[scenario_id](draw(shipped(scenario_id), 5, UnitSystem.US))
    again = draw(shipped(scenario_id), 5, UnitSystem.US)
    assert replay(again, mechanic.log) == (mechanic.state, tuple(mechanic.seen))


def test_a_spin_is_never_off_by_more_than_the_balancers_repeatability_and_differs_from_spin_to_spin() -> None:

    hand = Hand(shop(heavy_spot(30, 40, -80), settings={"repeatability_g": 0.4})).clamps()
    spins = [hand.spins() for _ in range(200)]
    right = asked([(arrow(30 * 200, 40), -80.0)])
    off = [abs(spin[0] - right[0]) for spin in spins]
    assert len({spin[0] for spin in spins}) > 20
    assert max(off) < 0.4 * 2.5 + 0.3  # whole degrees of 30 g
    assert sum(off) / len(off) == pytest.approx(0.4 * math.sqrt(math.pi / 2), rel=0.25)


def test_sixty_actions_are_replayed_well_within_25_milliseconds() -> None:
    variant = draw(shipped(FOUR), 5, UnitSystem.METRIC)
    bodies = WORKS[FOUR](variant).log[:60]
    times = []
    for _ in range(9):
        begin = time.process_time()
        replay(variant, bodies)
        times.append(time.process_time() - begin)
    assert sorted(times)[4] < 0.025

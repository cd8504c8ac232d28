"""The wire form of actions: a closed registry, read strictly, refused with the field's name."""

import dataclasses
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.domain.bench import ACTIONS, BadAction, apply, check, read_action, start, stations, written
from app.domain.bench import wire as table
from tests.domain.bench.workshop import shop

SAMPLES: list[dict[str, Any]] = [
    {"do": "look", "assembly": "A", "at": "valve"},
    {"do": "bring", "assembly": "A", "to": "stand"},
    {"do": "write-number", "assembly": "A", "number": 1, "side": "inboard"},
    {"do": "peel-label", "assembly": "A"},
    {"do": "strip-weights", "assembly": "A"},
    *({"do": name} for name in ("core-out", "core-in", "cap-on", "demount", "check-mark", "lubricate")),
    {"do": "break-beads", "shoe_deg": 180.0},
    {"do": "choose-tire", "tire": "new"},
    {"do": "turn-tire", "turn_deg": -60.0},
    {"do": "mount", "turned_over": False},
    {"do": "inflate", "kpa": 220.0},
    {"do": "cone", "cone": "middle"},
    {"do": "clamp", "grip": "firm"},
    {"do": "clean", "what": "face"},
    {"do": "measure"},
    {"do": "enter", "distance_mm": 120.0, "width_in": 6.5, "diameter_in": 16.0},
    {"do": "mode", "planes": "two", "inboard": "clip", "outboard": "adhesive"},
    {"do": "spin", "hood_down": True},
    {"do": "fit-weight", "kind": "clip", "clip": "P", "plane": "inboard", "angle_deg": 30.0, "mass_g": 20.0},
    {"do": "split-weight", "plane": "outboard", "first_deg": 36.0, "second_deg": 108.0},
    {"do": "take-off-weight", "weight": 3},
    {"do": "take-off-weight", "weight": -1, "assembly": "A"},
    {"do": "half-turn"},
    {"do": "place-gauge", "place": "tread"},
    {"do": "read-dial", "at_deg": 90.0},
    {"do": "read-round", "steps": 12},
    {"do": "roll"},
    {"do": "raise-car", "at": "lift points"},
    {"do": "lower-car"},
    {"do": "place", "assembly": "A", "corner": "LF"},
    {"do": "take-off", "corner": "LF"},
    {"do": "tighten", "corner": "LF", "order": [1, 3, 5, 2, 4], "torque_nm": 110.0},
    {"do": "note-retorque", "after_km": 100.0},
]


def test_every_action_has_a_sample_a_time_and_a_row_in_the_table() -> None:
    assert {each["do"] for each in SAMPLES} == set(ACTIONS)
    assert all(action.MINUTES > 0 for action in ACTIONS.values())
    assert table.__doc__
    rows = [line for line in table.__doc__.splitlines() if line.startswith("| `")]
    assert set(ACTIONS) == {name for row in rows for name in re.findall(r"`([a-z-]+)`", row.split("|")[1])}


@pytest.mark.parametrize("body", SAMPLES, ids=lambda body: body["do"])
def test_an_action_reads_back_as_it_was_written(body: dict[str, Any]) -> None:
    assert written(read_action(body)) == body


@pytest.mark.parametrize("body", SAMPLES, ids=lambda body: body["do"])
def test_a_missing_or_an_unknown_field_is_named(body: dict[str, Any]) -> None:
    may_be_missing = {"assembly"} if body["do"] == "take-off-weight" else set()
    for field in set(body) - {"do"} - may_be_missing:
        with pytest.raises(BadAction) as refused:
            read_action({name: value for name, value in body.items() if name != field})
        assert refused.value.field == field
    with pytest.raises(BadAction) as refused:
        read_action(body | {"force": 1})
    assert refused.value.field == "force"


@pytest.mark.parametrize(
    ("body", "field"),
    [
        (None, "do"),
        ([], "do"),
        ({}, "do"),
        ({"do": "jump"}, "do"),
        ({"do": ["spin"]}, "do"),
        ({"do": "spin", "hood_down": 1}, "hood_down"),
        ({"do": "inflate", "kpa": "220"}, "kpa"),
        ({"do": "inflate", "kpa": True}, "kpa"),
        ({"do": "inflate", "kpa": float("nan")}, "kpa"),
        ({"do": "inflate", "kpa": float("inf")}, "kpa"),
        ({"do": "inflate", "kpa": 10**400}, "kpa"),
        ({"do": "inflate", "kpa": -1}, "kpa"),
        ({"do": "read-round", "steps": 12.5}, "steps"),
        ({"do": "look", "assembly": 3, "at": "valve"}, "assembly"),
        ({"do": "look", "assembly": "A" * 50, "at": "valve"}, "assembly"),
        ({"do": "tighten", "corner": "LF", "order": [1, 1, 2], "torque_nm": 50}, "order"),
        ({"do": "tighten", "corner": "LF", "order": "12345", "torque_nm": 50}, "order"),
        ({"do": "tighten", "corner": "XX", "order": [1, 2, 3], "torque_nm": 50}, "corner"),
    ],
)
def test_ill_formed_actions_are_refused_with_the_field_and_what_is_allowed(body: Any, field: str) -> None:
    with pytest.raises(BadAction) as refused:
        read_action(body)
    assert refused.value.field == field
    assert len(refused.value.message) > 10


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"do": "look", "assembly": "Z", "at": "valve"}, "assembly"),
        ({"do": "cone", "cone": "huge"}, "cone"),
        (
            {
                "do": "fit-weight",
                "kind": "clip",
                "clip": "P",
                "plane": "inboard",
                "angle_deg": 1,
                "mass_g": 7,
            },
            "mass_g",
        ),
        (
            {
                "do": "fit-weight",
                "kind": "clip",
                "clip": None,
                "plane": "inboard",
                "angle_deg": 1,
                "mass_g": 5,
            },
            "clip",
        ),
        (
            {
                "do": "fit-weight",
                "kind": "adhesive",
                "clip": "P",
                "plane": "inboard",
                "angle_deg": 1,
                "mass_g": 5,
            },
            "clip",
        ),
        ({"do": "tighten", "corner": "LF", "order": [1, 2, 3, 4], "torque_nm": 50}, "order"),
        ({"do": "roll"}, "do"),
        ({"do": "bring", "assembly": "A", "to": "roller"}, "to"),
    ],
)
def test_what_this_bench_does_not_have_is_refused_and_nothing_changes(body: Any, field: str) -> None:
    variant = shop(settings={"stations": ["rack", "stand", "balancer", "gauge", "car"]})
    state = start(variant)
    with pytest.raises(BadAction) as refused:
        apply(variant, state, read_action(body))
    assert refused.value.field == field
    assert state == start(variant)


def test_every_stations_actions_exist() -> None:
    at = {station for action in ACTIONS.values() for station in action.AT}
    assert at <= set(stations())
    assert all(dataclasses.is_dataclass(action) for action in ACTIONS.values())


ANYTHING = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(sorted(ACTIONS)),
    lambda inner: st.lists(inner, max_size=5) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=8,
)


@given(st.sampled_from(SAMPLES), st.data())
def test_a_changed_action_is_either_good_or_refused(body: dict[str, Any], data: st.DataObject) -> None:
    variant = _SHOP
    changed = dict(body)
    changed[data.draw(st.sampled_from([*body, "more"]))] = data.draw(ANYTHING)
    try:
        action = read_action(changed)
        check(variant, action)
    except BadAction:
        return
    after, _ = apply(variant, start(variant), action)
    assert after.number == 1


_SHOP = shop()

"""The wire form of every action of the bench, and the reading of it.

On the wire an action is an object `{"do": NAME, FIELD: VALUE, ...}` with exactly the fields of its row; only a
field that has a meaning of its own when it is missing may be left out:

| do | fields | at |
| --- | --- | --- |
| `look` | `assembly`, `at`: sidewall, tread, valve, flange, weights, damage, marks | anywhere |
| `bring` | `assembly`, `to`: rack, stand, balancer, gauge, roller | anywhere |
| `write-number` | `assembly`, `number` 1 to 99, `side`: inboard, outboard | anywhere |
| `peel-label` | `assembly` | anywhere |
| `strip-weights` | `assembly` | stand, balancer |
| `core-out`, `core-in`, `cap-on` | | stand |
| `break-beads` | `shoe_deg` | stand |
| `demount`, `check-mark`, `lubricate` | | stand |
| `choose-tire` | `tire`: own, new | stand |
| `turn-tire` | `turn_deg` -360 to 360, positive clockwise | stand |
| `mount` | `turned_over` true or false: the sidewall that faced out when it came faces in | stand |
| `inflate` | `kpa` 0 to 1000: to this pressure, up or down | stand |
| `cone` | `cone`: an id of the scenario's cones | balancer |
| `clamp` | `grip`: firm, light, off | balancer |
| `clean` | `what`: face, rim | balancer |
| `measure` | | balancer |
| `enter` | `distance_mm`, `width_in`, `diameter_in` | balancer |
| `mode` | `planes`: one, two; `inboard`, `outboard`: clip, adhesive | balancer |
| `spin` | `hood_down` true or false | balancer |
| `fit-weight` | `kind`: clip, adhesive; `clip`: C, P, T, MC (adhesive: none); `plane`: inboard, outboard; `angle_deg`; `mass_g`: of the stock | balancer |
| `take-off-weight` | `weight`: its id, below 0 for one that came with the wheel; `assembly`: without it, the one on the balancer | stand, balancer |
| `split-weight` | `plane`: inboard, outboard; `first_deg`, `second_deg`: where two weights go in place of the one asked for | balancer |
| `half-turn` | | balancer |
| `place-gauge` | `place`: tread, inboard seat, outboard seat, lateral | gauge |
| `read-dial` | `at_deg`: the wheel is turned so that this stands under the dial | gauge |
| `read-round` | `steps` 8 to 72 | gauge |
| `roll` | | roller |
| `raise-car` | `at`: lift points, sill | car |
| `lower-car` | | car |
| `place` | `assembly`, `corner`: LF, RF, LR, RR | car |
| `take-off` | `corner` | car |
| `tighten` | `corner`, `order`: every lug once, `torque_nm` up to 1000 | car |
| `note-retorque` | `after_km` up to 10000 | car |
"""  # noqa: E501 -- a table

import dataclasses
from collections.abc import Mapping
from typing import Any

from app.domain.bench import actions
from app.domain.bench.actions import Action
from app.domain.bench.fields import BadAction

ACTIONS: dict[str, type[Action]] = {
    each.DO: each
    for each in vars(actions).values()
    if isinstance(each, type) and issubclass(each, Action) and hasattr(each, "DO")
}
"""The closed registry: action by its name on the wire."""


def read_action(body: Any) -> Action:
    """The action that a wire form stands for. Raises BadAction, which names the field."""
    if not isinstance(body, Mapping):
        raise BadAction("do", "an action must be an object with a field do.")
    name = body.get("do")
    kind = ACTIONS.get(name) if isinstance(name, str) else None
    if kind is None:
        raise BadAction("do", f"must be one of {', '.join(ACTIONS)}.")
    fields = {each.name: each.metadata["reader"] for each in dataclasses.fields(kind)}
    may_miss = {each.name for each in dataclasses.fields(kind) if each.default is not dataclasses.MISSING}
    for sent in body:
        if sent != "do" and sent not in fields:
            raise BadAction(str(sent)[:40], f"is no field of {name}; remove it.")
    if missing := next((field for field in fields if field not in body and field not in may_miss), None):
        raise BadAction(missing, f"is missing; {name} needs it.")
    return kind(**{field: reader(field, body[field]) for field, reader in fields.items() if field in body})


def written(action: Action) -> dict[str, Any]:
    """The wire form of an action, as `read_action` reads it."""
    values = {
        each.name: value
        for each in dataclasses.fields(action)
        if (value := getattr(action, each.name)) != each.default
    }
    return {"do": action.DO} | {
        name: list(value) if isinstance(value, tuple) else value for name, value in values.items()
    }

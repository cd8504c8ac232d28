"""Whether an answer about pressure, pull or vibration hangs on a hair; rules as in `app.domain.near_ties`.

The margins are our own. Teaching model.
"""

from collections.abc import Callable
from typing import Any

import numpy as np

from app.domain.model import pressure, vibration

NEAR_N = 8.0
"""A pull smaller than this has no sure side; two parts this near have no larger one."""
NEAR_KPA = 3.0
"""From the pressure at which a warning is due."""
FIRST_RIVAL = 0.04
"""Share of its own frequency by which the next source lies farther off than the nearest."""


def _pull_too_small(name: str) -> Callable[[Any, float], Any]:
    return lambda model, _margin_n: np.abs(model.value(name)) < NEAR_N


def _equal_parts(model: Any, _margin_n: float) -> Any:
    conicity, ply_steer = (np.abs(model.value(f"car.pull.{part}_n")) for part in ("conicity", "ply_steer"))
    return np.abs(conicity - ply_steer) < NEAR_N


def _near_the_warning(model: Any, _margin_n: float) -> Any:
    near = [
        np.abs(
            model.assembly(letter).value("pressure.cold_kpa")
            - model.value(f"car.warning.{pressure.axle_of(model, letter)}_kpa")
        )
        < NEAR_KPA
        for letter in model.truth.assemblies
    ]
    return np.any(near, axis=0)


def _two_sources(model: Any, _margin_n: float) -> Any:
    ordered = np.sort(np.stack(list(vibration.offs(model).values()), axis=-1), axis=-1)
    return ordered[..., 1] - ordered[..., 0] < FIRST_RIVAL


ROAD_TIES: tuple[tuple[str, str, Callable[[Any, float], Any]], ...] = (
    (r"pull\.side", "the pull is too small to have a sure side", _pull_too_small("car.pull.total_n")),
    (
        r"pull\.swapped_side",
        "the pull with the sides changed is too small to have a sure side",
        _pull_too_small("car.pull.swapped_n"),
    ),
    (r"pull\.cause", "conicity and ply steer pull nearly alike", _equal_parts),
    (r"warned", "a pressure is too near the warning", _near_the_warning),
    (r"vibration\.source", "two sources are nearly as near", _two_sources),
)

"""Whether what a task asks for hangs on a hair: a size at its limit, two parts that are nearly equal.

Each rule belongs to some quantities and says, over a batch, where the answer isn't determined with a margin.
The margins are our own. Teaching model.
"""

import re
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

from app.compute import weight_clips
from app.domain.model import Model
from app.domain.model.limits import limits_n
from app.domain.model.shelf import SIDES
from app.domain.model.tread import shares_mm
from app.domain.references import is_reference, split_reference
from app.domain.road_ties import ROAD_TIES
from app.domain.truth import PLANES

NEAR = 0.15
"""Share of the dead band within which a mass counts as at it."""
RIVALS = 0.08
"""Share of the largest within which the next one is its rival."""
NEAR_AN_EDGE_MM = 0.05
"""Of a clip's or a cone's range: nearer, a caliper can't tell."""
LEAST_SHARE = 0.12
"""Of a weight: with less of it behind one spoke, all of it goes behind the other."""


def near_ties(model: Model, key: str, limit_margin_n: float) -> Iterator[tuple[str, Any]]:
    """A reason and a mask (...) for each rule of the quantity: true where its value is not sure."""
    if not is_reference(key):
        return
    letter, name = split_reference(key)
    asked = model if letter is None else model.assembly(letter)
    for names, reason, is_near in _RULES:
        if re.fullmatch(names, name):
            at = "" if letter is None else f" of assembly {letter}"
            yield reason + at, is_near(asked, limit_margin_n)


def _at_the_dead_band(names: str) -> Callable[[Any, float], Any]:
    def is_near(view: Any, _margin_n: float) -> Any:
        dead_band_g = view.model.truth.machine.dead_band_g
        sizes_g = [np.asarray(view.value(names.format(plane=plane))) for plane in PLANES]
        return np.abs(np.maximum(*sizes_g) - dead_band_g) < NEAR * dead_band_g

    return is_near


def _share_rivals(view: Any, _margin_n: float) -> Any:
    return _has_rivals(shares_mm(view))


def _rivals(name: str) -> Callable[[Any, float], Any]:
    return lambda model, _margin_n: _has_rivals(model.each(name))


def _has_rivals(sizes: Any) -> Any:
    ordered = np.sort(sizes, axis=-1)
    return ordered[..., -1] - ordered[..., -2] < RIVALS * ordered[..., -1]


def _same_assembly(model: Any, _margin_n: float) -> Any:
    """Where one assembly has the most of both, the lesson that they differ is lost."""
    pairs = (model.value(f"car.{name}") for name in ("most_total_runout", "most_first_runout"))
    total, first = pairs
    return (total & first).any(axis=-1)


def _at_a_force_limit(view: Any, margin_n: float) -> Any:
    sizes_n = (np.asarray(view.value(name)) for name in ("force.total_n", "force.first_n"))
    gaps = [np.abs(size - limit) for size, limit in zip(sizes_n, limits_n(view), strict=True)]
    return np.minimum(*gaps) < margin_n


def _any_at_a_force_limit(model: Any, margin_n: float) -> Any:
    letters = model.truth.assemblies
    return np.any([_at_a_force_limit(model.assembly(letter), margin_n) for letter in letters], axis=0)


def _at_a_clips_edge(view: Any, _margin_n: float) -> Any:
    flange_mm = np.asarray(view.truth.bench.flange_mm)[..., np.newaxis]
    edges_mm = np.array([(clip.thinnest_mm, clip.thickest_mm) for clip in weight_clips.CLIPS]).ravel()
    return (np.abs(flange_mm - edges_mm) < NEAR_AN_EDGE_MM).any(axis=-1)


def _between_cones(view: Any, _margin_n: float) -> Any:
    """A bore at the edge of a cone's range, or in the ranges of two cones."""
    bore_mm = np.asarray(view.truth.bench.bore_mm)[..., np.newaxis]
    low_mm, high_mm = np.array([(cone.min_mm, cone.max_mm) for cone in view.model.truth.machine.cones]).T
    at_an_edge = (np.minimum(np.abs(bore_mm - low_mm), np.abs(bore_mm - high_mm)) < NEAR_AN_EDGE_MM).any(
        axis=-1
    )
    return at_an_edge | (((low_mm <= bore_mm) & (bore_mm <= high_mm)).sum(axis=-1) > 1)


def _beside_a_spoke(view: Any, _margin_n: float) -> Any:
    shares_g = [np.asarray(view.value(f"spoke.{side}.mass_g")) for side in SIDES]
    return np.minimum(*shares_g) < LEAST_SHARE * (shares_g[0] + shares_g[1])


_RULES: tuple[tuple[str, str, Callable[[Any, float], Any]], ...] = (
    (
        r"single_enough",
        "what one weight leaves is too near the dead band",
        _at_the_dead_band("after_single.{plane}.mass_g"),
    ),
    (
        r"half_turn\.cause",
        "what the mounting makes is too near the dead band",
        _at_the_dead_band("half_turn.mounting.{plane}.mass_g"),
    ),
    (r"tread_share\.largest", "two shares of the runout are nearly equal", _share_rivals),
    (r"most_total_runout", "two total runouts are nearly equal", _rivals("tread.total_mm")),
    (r"most_first_runout", "two first harmonics are nearly equal", _rivals("tread.first_mm")),
    (r"most_first_runout", "one assembly has the most of both", _same_assembly),
    (r"force\.verdict", "the force is too near a limit", _at_a_force_limit),
    (r"over_total_limit", "a force is too near a limit", _any_at_a_force_limit),
    (r"clip", "the flange is at the edge of a clip's range", _at_a_clips_edge),
    (r"cone", "the bore is at the edge of a cone's range", _between_cones),
    (r"spoke\.\w+\.(mass_g|angle_deg)", "the weight is too near a spoke", _beside_a_spoke),
    *ROAD_TIES,
)

"""Whether a drawn variant determines each of its answers, with a margin that the tolerance respects."""

from typing import Any

import numpy as np

from app.compute import angles, stock, tire_dates
from app.domain.draws import Numbers
from app.domain.measures import Measure
from app.domain.model import Model, quantity_of
from app.domain.scenario import Scenario
from app.domain.tasks import NumberTask, PlacementTask, Tolerance
from app.domain.wrong_turns import mirrored_costs, wrong_turns

_ROUNDING = 1e-9
"""Share by which a value may miss a tolerance's edge through floating-point rounding alone."""


def within(measure: Measure, tolerance: Tolerance, right: Any, given: Any) -> Any:
    """Whether `given` counts as `right`, angles around the circle. Shapes broadcast; nan is never right."""
    right, given = np.asarray(right, dtype=float), np.asarray(given, dtype=float)
    off = np.abs(
        angles.difference(given, right) if measure in (Measure.ANGLE, Measure.TURN) else given - right
    )
    allowed = np.maximum(tolerance.absolute, tolerance.relative * np.abs(right))
    return off <= allowed + _ROUNDING * np.maximum(1.0, np.abs(right))


def refusals(scenario: Scenario, model: Model) -> dict[str, Numbers]:
    """Reasons to refuse a variant, each with a mask (...) over the batch: true where it is refused."""
    refused: dict[str, Any] = {}
    for letter, assembly in model.truth.assemblies.items():
        if assembly.tire.week is not None:
            refused[f"tire {letter} has no such week"] = ~_is_built_before_service(model, letter)
    for task in scenario.tasks:
        if isinstance(task, NumberTask):
            refused |= _number_refusals(scenario, model, task)
        elif isinstance(task, PlacementTask):
            refused |= _placement_refusals(scenario, model, task)
    limit = scenario.vehicle.first_harmonic_limit_n
    if limit is not None and any("decision" in (getattr(task, "key", None) or "") for task in scenario.tasks):
        for name in ("force.first_n", "match.left_n"):
            near = np.abs(model.each(name) - limit) < scenario.well_posed.limit_margin_n
            refused[f"{name} is too near the limit"] = near.any(axis=-1)
    for needed in scenario.well_posed.needs_decisions:
        refused[f"no assembly to {needed}"] = ~(model.each("decision") == needed).any(axis=-1)
    return refused


def _is_built_before_service(model: Model, letter: str) -> Any:
    tire = model.truth.assemblies[letter].tire
    weeks, years = np.asarray(tire.week).astype(int), np.asarray(tire.year).astype(int)
    exists = (weeks >= 1) & (weeks <= tire_dates.weeks_in_years(years))
    built = tire_dates.build_weeks(np.where(exists, weeks, 1), years)
    return exists & (built < np.datetime64(model.truth.vehicle.service_date))


def _number_refusals(scenario: Scenario, model: Model, task: NumberTask) -> dict[str, Any]:
    measure = quantity_of(task.key).measure
    right = np.asarray(model.value(task.key), dtype=float)
    refused = {f"{task.id} has no direction": ~np.isfinite(right)}
    for turn, wrong in wrong_turns(model, task.key):
        if turn.always_differs:
            refused[f"{task.id} can't be told from {turn.id}"] = within(measure, task.tolerance, right, wrong)
    if ".stock." in task.key:
        needed = np.asarray(model.value(task.key.replace(".stock.", ".correction.")))
        margin, machine = scenario.well_posed.stock_margin_g, model.truth.machine
        below, above = (
            stock.nearest_stock_sum(np.maximum(needed + off, 0.0), machine.stock_g, machine.max_pieces)
            for off in (-margin, margin)
        )
        refused[f"{task.id} lies between two stock weights"] = np.abs(above - below) > _ROUNDING
    return refused


def _placement_refusals(scenario: Scenario, model: Model, task: PlacementTask) -> dict[str, Any]:
    costs = np.asarray(model.value(task.key))
    span = costs.max(axis=-1) - costs.min(axis=-1)
    gap = scenario.well_posed.placement_share * span
    best = costs.min(axis=-1)
    tied = costs <= best[..., None] + _ROUNDING * np.abs(costs).max(axis=-1)[..., None]
    next_best = np.where(tied, np.inf, costs).min(axis=-1)
    refused = {f"{task.id} has rivals for the best placement": ~((span > 0) & (next_best - best >= gap))}
    if (mirrored := mirrored_costs(model, task.key)) is not None:
        refused[f"{task.id} can't be told from {mirrored[0].id}"] = mirrored[1].argmin(
            axis=-1
        ) == costs.argmin(axis=-1)
    return refused

"""Whether a drawn variant determines each of its answers, with a margin that the tolerance respects."""

from collections.abc import Iterator
from typing import Any

import numpy as np

from app.compute import angles, placement, stock, tire_dates
from app.domain.arithmetic import references_in
from app.domain.directions import is_unsure
from app.domain.measures import MAY_BE_NEGATIVE, Measure
from app.domain.model import Model, quantity_of
from app.domain.near_ties import near_ties
from app.domain.references import is_reference, split_reference
from app.domain.scenario import Scenario
from app.domain.tasks import BenchTask, NumberTask, PlacementTask, SpotsTask, Tolerance, keys_of
from app.domain.wrong_turns import mirrored_costs, wrong_turns

_ROUNDING = 1e-9
"""Share by which a value may miss an edge through floating-point rounding alone."""

Refusal = tuple[str, Any]
"""A reason, and a mask (...) over the batch: true where the variant is refused for it."""


def within(measure: Measure, tolerance: Tolerance, right: Any, given: Any) -> Any:
    """Whether `given` counts as `right`, angles around the circle. Shapes broadcast; nan is never right."""
    off = abs(angles.difference(given, right) if measure in (Measure.ANGLE, Measure.TURN) else given - right)
    return off <= reach(tolerance, right)


def reach(tolerance: Tolerance, right: Any) -> Any:
    """How far off a value may be at most: what is allowed, and what rounding may add. Any shape."""
    return tolerance.around(right) + _ROUNDING * np.maximum(1.0, abs(right))


def refusals(scenario: Scenario, model: Model) -> Iterator[Refusal]:
    """The reasons to refuse a variant, those that are quick to find out first."""
    yield from _date_refusals(model)
    yield from _limit_refusals(scenario, model)
    for task in scenario.tasks:
        for key in keys_of(task):
            yield from near_ties(model, key, scenario.well_posed.limit_margin_n)
        if isinstance(task, NumberTask | SpotsTask):
            yield from _value_refusals(scenario, model, task)
            if isinstance(task, SpotsTask):
                yield f"{task.id} has two spots in one place", _is_crowded(model, task)
        elif isinstance(task, PlacementTask):
            yield from _placement_refusals(scenario, model, task)
        elif isinstance(task, BenchTask) and task.judges == "force":
            yield from _force_refusals(scenario, model, task)


def _date_refusals(model: Model) -> Iterator[Refusal]:
    service_date = model.truth.vehicle.service_date
    for letter, assembly in model.truth.assemblies.items():
        if assembly.tire.week is None or assembly.tire.year is None:
            continue
        weeks, years = assembly.tire.week.astype(int), assembly.tire.year.astype(int)
        exists = (weeks >= 1) & (weeks <= tire_dates.weeks_in_year(years))
        yield f"tire {letter} has a week that its year doesn't have", ~exists
        sunday = tire_dates.build_week(np.where(exists, weeks, 1), years)
        yield f"tire {letter} is made after the day of service", sunday >= np.datetime64(service_date)
        ages = (tire_dates.age_years(day, service_date) for day in (sunday, tire_dates.week_end(sunday)))
        one_age = np.equal(*ages)
        yield f"tire {letter} has its birthday in the week of service", ~one_age


def _limit_refusals(scenario: Scenario, model: Model) -> Iterator[Refusal]:
    limit, margin = scenario.vehicle.first_harmonic_limit_n, scenario.well_posed.limit_margin_n
    asked = {
        split_reference(reference)[1]
        for task in scenario.tasks
        for key in keys_of(task)
        for reference in references_in(key)
    }
    if limit is not None and asked & (_BY_DECISION | {"over_limit"}):
        first = model.each("force.first_n")
        yield "a first harmonic is too near the limit", (np.abs(first - limit) < margin).any(axis=-1)
        if asked & _BY_DECISION:
            near = (first > limit) & (np.abs(model.each("match.left_n") - limit) < margin)
            yield "what match mounting leaves is too near the limit", near.any(axis=-1)
    for needed in scenario.well_posed.needs_decisions:
        yield f"there is no assembly to {needed}", ~(model.each("decision") == needed).any(axis=-1)
    for need in scenario.well_posed.needs:
        values = model.each(need.quantity)
        for value in need.values:
            yield f"no assembly’s {need.quantity} is {value}", ~(values == value).any(axis=-1)


_BY_DECISION = {"decision", "placed.first_n", "placed.conicity_n", "comfort", "tracking"}


def _value_refusals(scenario: Scenario, model: Model, task: NumberTask | SpotsTask) -> Iterator[Refusal]:
    for key in keys_of(task):
        measure = quantity_of(key).measure
        right = np.asarray(model.value(key), dtype=float)
        if measure in (Measure.ANGLE, Measure.TURN):
            yield f"{task.id} has no direction", ~np.isfinite(right)
            for reference in references_in(key):
                unsure = is_unsure(model, reference, task.tolerance.absolute)
                yield f"{task.id} is of a vector too small to have a sure direction", unsure
        else:
            yield f"{task.id} has no value: it divides by zero", ~np.isfinite(right)
        if not is_reference(key) and measure not in MAY_BE_NEGATIVE:
            yield f"{task.id} comes to less than nothing, which nobody may type", right < 0
        for turn, wrong in wrong_turns(model, key) if is_reference(key) else ():
            if turn.always_differs:
                yield f"{task.id} can't be told from {turn.id}", within(measure, task.tolerance, right, wrong)
        for reference in references_in(key):
            for rounded, exact in _FROM_STOCK.items():
                if rounded in reference:
                    between = _is_between_stock(scenario, model, reference.replace(rounded, exact))
                    yield f"{task.id} lies between two stock weights", between


_FROM_STOCK = {".stock.": ".correction.", ".spoke_stock.": ".spoke."}
"""What comes from the shelf, and the mass that it is nearest to."""


def _is_between_stock(scenario: Scenario, model: Model, exact: str) -> Any:
    needed = np.asarray(model.value(exact))
    margin, machine = scenario.well_posed.stock_margin_g, model.truth.machine
    nearest = stock.nearest_stock_sum(
        np.maximum(np.stack([needed - margin, needed + margin]), 0.0), machine.stock_g, machine.max_pieces
    )
    return nearest[1] - nearest[0] > _ROUNDING


def _force_refusals(scenario: Scenario, model: Model, task: BenchTask) -> Iterator[Refusal]:
    """Whether no work at the bench can bring an assembly within the limit: not as it is, matched or new."""
    allowed_n = task.limit - scenario.well_posed.limit_margin_n
    for letter, truth in model.truth.assemblies.items():
        view = model.assembly(letter)
        left_n = np.minimum(view.value("force.first_n"), view.value("match.left_n"))
        if (new := truth.bench.new_tire) is not None:
            left_n = np.minimum(left_n, np.abs(new.first_n - view.value("wheel_force.first_n")))
        yield f"nothing brings assembly {letter} within the limit of {task.id}", left_n > allowed_n


def _is_crowded(model: Model, task: SpotsTask) -> Any:
    """Whether one mark could count for two of the spots."""
    spots = np.stack([np.asarray(model.value(key), dtype=float) for key in task.keys], axis=-1)
    apart = np.abs(angles.difference(spots[..., :, np.newaxis], spots[..., np.newaxis, :]))
    first, second = np.triu_indices(len(task.keys), k=1)
    return (apart[..., first, second] <= 2 * task.tolerance.absolute).any(axis=-1)


def _placement_refusals(scenario: Scenario, model: Model, task: PlacementTask) -> Iterator[Refusal]:
    costs = np.asarray(model.value(task.key))
    impossible = ~np.isfinite(costs).any(axis=-1)
    yield f"{task.id} has no arrangement that is permitted", impossible
    costs = np.where(impossible[..., np.newaxis], 0.0, costs)
    best, worst = costs.min(axis=-1), placement.worst_cost(costs)
    equal = _ROUNDING * np.maximum(np.abs(best), np.abs(worst))
    next_best = np.where(placement.is_best(costs), np.inf, costs).min(axis=-1)
    gap = scenario.well_posed.placement_share * (worst - best)
    sure = (worst - best > equal) & (next_best - best >= gap - equal)
    yield f"{task.id} has rivals for the best placement", ~sure
    if (mirrored := mirrored_costs(model, task.key)) is not None:
        same = (placement.is_best(mirrored[1]) & placement.is_best(costs)).any(axis=-1)
        yield f"{task.id} can't be told from {mirrored[0].id}", same

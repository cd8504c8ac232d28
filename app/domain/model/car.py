"""Quantities of deciding: what is done with each assembly, and what goes on the car."""

from typing import Any

import numpy as np

from app.domain.measures import Measure
from app.domain.model.registry import of_assembly, of_car

FIT, MATCH_MOUNT, REPLACE = "fit", "match-mount", "replace"
YES, NO = "yes", "no"


@of_assembly("over_limit", Measure.CHOICE, "whether the first harmonic is above the limit")
def over_limit(assembly: Any) -> Any:
    return np.where(np.asarray(assembly.value("force.first_n")) > _limit_n(assembly), YES, NO)


@of_assembly("decision", Measure.CHOICE, "fit as it is, match mount, or replace the tire")
def decision(assembly: Any) -> Any:
    """`replace` where match mounting can't bring it to the limit or the tire is older than allowed."""
    limit, oldest = _limit_n(assembly), assembly.model.truth.vehicle.oldest_tire_years
    chosen = np.where(
        np.asarray(assembly.value("force.first_n")) <= limit,
        FIT,
        np.where(np.asarray(assembly.value("match.left_n")) <= limit, MATCH_MOUNT, REPLACE),
    )
    if oldest is None:
        return chosen
    return np.where(np.asarray(assembly.value("tire.age_years")) > oldest, REPLACE, chosen)


def _limit_n(assembly: Any) -> float:
    limit = assembly.model.truth.vehicle.first_harmonic_limit_n
    if limit is None:
        raise LookupError("vehicle has no first_harmonic_limit_n")
    return float(limit)


@of_assembly("placed.first_n", Measure.FORCE, "first harmonic of the assembly as it goes on the car")
def placed_first(assembly: Any) -> Any:
    """As it was measured where the vehicle sets no limit, by which something would have to be done."""
    if assembly.model.truth.vehicle.first_harmonic_limit_n is None:
        return assembly.value("force.first_n")
    chosen = np.asarray(assembly.value("decision"))
    replaced = assembly.truth.replacement_first_n
    kept = np.where(chosen == MATCH_MOUNT, assembly.value("match.left_n"), assembly.value("force.first_n"))
    return np.where(chosen == REPLACE, replaced, kept)


@of_assembly("placed.conicity_n", Measure.FORCE, "conicity of the assembly as it goes on the car")
def placed_conicity(assembly: Any) -> Any:
    if assembly.model.truth.vehicle.first_harmonic_limit_n is None:
        return assembly.truth.tire.conicity_n
    replaced = np.asarray(assembly.value("decision")) == REPLACE
    return np.where(replaced, assembly.truth.replacement_conicity_n, assembly.truth.tire.conicity_n)


@of_car("over_limit", Measure.SEVERAL, "the assemblies above the limit")
def all_over_limit(model: Any) -> Any:
    """shape (..., n) of true and false, in the order of the letters."""
    return model.each("over_limit") == YES

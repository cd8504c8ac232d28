"""Quantities of judging a force trace: its second harmonic, its limits, and what can cure it."""

from typing import Any

import numpy as np

from app.compute import force, runout
from app.domain.measures import Measure
from app.domain.model.registry import of_assembly, of_car
from app.domain.model.runout import force_readings_n

WITHIN, ONCE, OFTENER = "within", "once-per-turn", "more-often"


@of_assembly("force.second_n", Measure.FORCE, "second harmonic of radial force variation, peak to peak")
def second(assembly: Any) -> Any:
    return runout.harmonics(force_readings_n(assembly)).peak_to_peak[..., 1]


def limits_n(assembly: Any) -> tuple[float, float]:
    """The limits on the total and on the first harmonic. Raises LookupError where the vehicle lacks one."""
    vehicle = assembly.model.truth.vehicle
    total, first = vehicle.total_force_limit_n, vehicle.first_harmonic_limit_n
    if total is None or first is None:
        raise LookupError("vehicle needs total_force_limit_n and first_harmonic_limit_n")
    return total, first


@of_assembly(
    "force.verdict",
    Measure.CHOICE,
    "within both limits, above that on the first harmonic, or only above that on the total",
)
def verdict(assembly: Any) -> Any:
    total, first = limits_n(assembly)
    within = force.within_limits(force_readings_n(assembly), total, first)
    above_first = np.asarray(assembly.value("force.first_n")) > first
    return np.where(within, WITHIN, np.where(above_first, ONCE, OFTENER))


@of_car("over_total_limit", Measure.SEVERAL, "the assemblies whose total force variation is above its limit")
def over_total(model: Any) -> Any:
    """shape (..., n) of true and false, in the order of the letters."""
    limit, _ = limits_n(model.assembly(next(iter(model.truth.assemblies))))
    return model.each("force.total_n") > limit

"""Quantities of tire pressure: what a cold morning makes of it, and when a warning is due.

The first two assemblies stand on the front axle, all others on the rear axle.
"""

from typing import Any

import numpy as np

from app.compute import pressure
from app.domain.measures import Measure
from app.domain.model.car import NO, YES
from app.domain.model.registry import of_assembly, of_car
from app.domain.road_truth import TemperatureTruth

AXLES = ("front", "rear")
ON_THE_FRONT_AXLE = 2


def temperature(model: Any) -> TemperatureTruth:
    """Raises LookupError for a scenario without temperatures."""
    found: TemperatureTruth | None = model.truth.vehicle.temperature
    if found is None:
        raise LookupError("vehicle has no temperature")
    return found


def axle_of(model: Any, letter: str) -> str:
    """The axle on which an assembly came in."""
    return AXLES[list(model.truth.assemblies).index(letter) >= ON_THE_FRONT_AXLE]


def placard_kpa(model: Any, axle: str) -> float:
    """axle: one of AXLES. Cold, gauge [kPa]."""
    placard = model.truth.vehicle.placard
    return float(placard.front_kpa if axle == "front" else placard.rear_kpa)


@of_assembly("pressure.found_kpa", Measure.PRESSURE, "pressure that the gauge shows as the assembly comes in")
def found(assembly: Any) -> Any:
    found_kpa = assembly.truth.bench.pressure_kpa
    if found_kpa is None:
        raise LookupError(f"assembly {assembly.truth.id} has no bench.pressure_kpa")
    return found_kpa


@of_assembly("pressure.cold_kpa", Measure.PRESSURE, "pressure at the other temperature, no air let in or out")
def cold(assembly: Any) -> Any:
    air = temperature(assembly.model)
    return pressure.pressure_at_temperature(
        assembly.value("pressure.found_kpa"), air.set_c, air.at_c, air.ambient_kpa
    )


@of_assembly("pressure.above_kpa", Measure.PRESSURE, "how far the pressure found is above its placard")
def above(assembly: Any) -> Any:
    placard = placard_kpa(assembly.model, axle_of(assembly.model, assembly.truth.id))
    return np.asarray(assembly.value("pressure.found_kpa")) - placard


@of_car("warning.front_kpa", Measure.PRESSURE, "pressure at which a warning is due, front axle")
def warning_front(model: Any) -> Any:
    return pressure.pressure_warning(placard_kpa(model, "front"))


@of_car("warning.rear_kpa", Measure.PRESSURE, "pressure at which a warning is due, rear axle")
def warning_rear(model: Any) -> Any:
    return pressure.pressure_warning(placard_kpa(model, "rear"))


@of_assembly(
    "pressure.warned", Measure.CHOICE, "whether a warning is due at the other temperature: yes or no"
)
def is_warned(assembly: Any) -> Any:
    due_kpa = assembly.model.value(f"car.warning.{axle_of(assembly.model, assembly.truth.id)}_kpa")
    return np.where(np.less_equal(assembly.value("pressure.cold_kpa"), due_kpa), YES, NO)


@of_car("warned", Measure.SEVERAL, "the assemblies for which a warning is due at the other temperature")
def warned(model: Any) -> Any:
    """shape (..., n) of true and false, in the order of the letters."""
    return model.each("pressure.warned") == YES


def _to_set(model: Any, axle: str) -> Any:
    air = temperature(model)
    return pressure.pressure_at_temperature(placard_kpa(model, axle), air.at_c, air.set_c, air.ambient_kpa)


@of_car("to_set.front_kpa", Measure.PRESSURE, "what to set now, so that the front placard holds then")
def to_set_front(model: Any) -> Any:
    return _to_set(model, "front")


@of_car("to_set.rear_kpa", Measure.PRESSURE, "what to set now, so that the rear placard holds then")
def to_set_rear(model: Any) -> Any:
    return _to_set(model, "rear")

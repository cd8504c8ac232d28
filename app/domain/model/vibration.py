"""Quantities of a vibration on a test drive: what turns how fast, and what the vibration comes from.

The wheel is that of the first assembly. The frequency is the one that the instrument shows, so what it comes
from is found by a student's own way: the nearest of all that turns.
"""

from typing import Any

import numpy as np

from app.compute import vibration
from app.compute.constants import SECONDS_PER_MINUTE
from app.domain.measures import Measure
from app.domain.model.registry import of_car
from app.domain.model.runout import rounded_to_step
from app.domain.model.sidewall import size_of
from app.domain.road_sheets import ORDER_NAMES, order_name
from app.domain.road_truth import VibrationTruth

STEP_HZ = 0.1


def measured(model: Any) -> VibrationTruth:
    """Raises LookupError for a scenario without a vibration."""
    found: VibrationTruth | None = model.truth.vehicle.vibration
    if found is None:
        raise LookupError("vehicle has no vibration")
    return found


def _wheel(model: Any) -> Any:
    return model.assembly(next(iter(model.truth.assemblies)))


def _frequencies(model: Any, wheel_hz: Any) -> dict[str, Any]:
    truth = measured(model)
    by_order = vibration.order_frequencies(wheel_hz, truth.axle_ratio, truth.engine_rpm)
    return {order_name(source, order): hz for (source, order), hz in by_order.items()}


@of_car("vibration.measured_hz", Measure.FREQUENCY, "frequency of the vibration, as the instrument shows it")
def measured_frequency(model: Any) -> Any:
    truth = measured(model)
    # From the truth alone: a student's own circumference changes no reading of the instrument.
    exact_hz = vibration.wheel_frequency(truth.speed_kmh, size_of(_wheel(model), "rolling_circumference_mm"))
    return shown_hz(truth, _frequencies(model, exact_hz))


def shown_hz(truth: VibrationTruth, by_order: dict[str, Any]) -> Any:
    """What the instrument shows of the true source. Raises LookupError for a source that the car lacks."""
    if missing := set(np.unique(truth.source).tolist()) - set(by_order):
        raise LookupError(f"vehicle.vibration has what {min(missing)} turns with: axle_ratio or engine_rpm")
    true_hz = np.select([truth.source == name for name in by_order], list(by_order.values()))
    return rounded_to_step(true_hz * (1 + np.asarray(truth.off_percent) / 100), STEP_HZ)


@of_car("vibration.wheel_hz", Measure.FREQUENCY, "turns of the wheel in a second")
def wheel_hz(model: Any) -> Any:
    return vibration.wheel_frequency(measured(model).speed_kmh, _wheel(model).value("tire.rolling_mm"))


@of_car("vibration.driveline_hz", Measure.FREQUENCY, "turns of the driveshaft in a second")
def driveline_hz(model: Any) -> Any:
    truth = measured(model)
    if truth.axle_ratio is None:
        raise LookupError("vehicle.vibration has no axle_ratio")
    return np.multiply(model.value("car.vibration.wheel_hz"), truth.axle_ratio)


@of_car("vibration.engine_hz", Measure.FREQUENCY, "turns of the engine in a second")
def engine_hz(model: Any) -> Any:
    truth = measured(model)
    if truth.engine_rpm is None:
        raise LookupError("vehicle.vibration has no engine_rpm")
    return np.divide(truth.engine_rpm, SECONDS_PER_MINUTE)


@of_car(
    "vibration.wheel_order", Measure.NUMBER, "how many times the vibration comes in one turn of the wheel"
)
def wheel_order(model: Any) -> Any:
    return model.value("car.vibration.measured_hz") / np.asarray(model.value("car.vibration.wheel_hz"))


@of_car("vibration.source", Measure.CHOICE, "what the vibration comes from, such as wheel-1 or driveline-1")
def source(model: Any) -> Any:
    off = offs(model)
    names = np.asarray(list(off))
    return names[np.argmin(np.stack(list(off.values()), axis=-1), axis=-1)]


def offs(model: Any) -> dict[str, Any]:
    """How far the vibration lies from each source's frequency, as a share of that: by name, each (...)."""
    felt_hz = np.asarray(model.value("car.vibration.measured_hz"))
    by_order = _frequencies(model, model.value("car.vibration.wheel_hz"))
    return {
        name: np.abs(felt_hz - by_order[name]) / by_order[name] for name in ORDER_NAMES if name in by_order
    }


@of_car("vibration.force_n", Measure.FORCE, "force with which the unbalance pulls at that speed")
def unbalance_force(model: Any) -> Any:
    truth = measured(model)
    return vibration.unbalance_force(truth.mass_g, truth.radius_mm, model.value("car.vibration.wheel_hz"))

"""Quantities of pull: conicity and ply steer of each tire, and what two on the front axle do to the car.

The frame is fixed to the tire: a force is positive toward the assembly's own outboard sidewall. "Clockwise"
is seen from outboard, as a wheel on the right turns when the car drives forward; one on the left turns
counterclockwise. On the car a force is positive to the right. The first assembly stands left front, the
second right front.
"""

from typing import Any

import numpy as np

from app.compute import force
from app.domain.measures import Measure
from app.domain.model.registry import computed_once, of_assembly, of_car
from app.domain.model.runout import FORCE_STEP_N, rounded_to_step

LEFT, RIGHT = "left", "right"
CONICITY, PLY_STEER = "conicity", "ply-steer"


def _reading_n(assembly: Any, turning: int) -> Any:
    tire = assembly.truth.tire
    step = FORCE_STEP_N[assembly.model.truth.units]
    return rounded_to_step(np.asarray(tire.conicity_n) + turning * np.asarray(tire.ply_steer_n), step)


def clockwise_n(assembly: Any) -> Any:
    """Mean lateral force with the wheel turning clockwise, as the machine shows it: (...) [N]."""
    return _reading_n(assembly, 1)


def counterclockwise_n(assembly: Any) -> Any:
    """The same with the wheel turning counterclockwise: (...) [N]."""
    return _reading_n(assembly, -1)


@computed_once
def _parts(assembly: Any) -> force.LateralForce:
    return force.conicity_and_ply_steer(clockwise_n(assembly), counterclockwise_n(assembly))


@of_assembly("lateral.conicity_n", Measure.FORCE, "conicity, from the lateral forces in both directions")
def conicity(assembly: Any) -> Any:
    return _parts(assembly).conicity_n


@of_assembly("lateral.ply_steer_n", Measure.FORCE, "ply steer, from the lateral forces in both directions")
def ply_steer(assembly: Any) -> Any:
    return _parts(assembly).ply_steer_n


def front_pair(model: Any, name: str) -> tuple[Any, Any]:
    """A quantity of the left and the right front assembly. Raises LookupError for fewer than two."""
    letters = list(model.truth.assemblies)
    if len(letters) < 2:
        raise LookupError("a front axle needs two assemblies")
    left, right = (np.asarray(model.assembly(letter).value(name)) for letter in letters[:2])
    return left, right


@of_car("pull.conicity_n", Measure.FORCE, "pull to the right that conicity makes on the front axle")
def pull_of_conicity(model: Any) -> Any:
    left, right = front_pair(model, "lateral.conicity_n")
    return right - left


@of_car("pull.ply_steer_n", Measure.FORCE, "pull to the right that ply steer makes on the front axle")
def pull_of_ply_steer(model: Any) -> Any:
    left, right = front_pair(model, "lateral.ply_steer_n")
    return right + left


@of_car("pull.total_n", Measure.FORCE, "pull to the right of both front tires")
def pull(model: Any) -> Any:
    return model.value("car.pull.conicity_n") + model.value("car.pull.ply_steer_n")


@of_car("pull.swapped_n", Measure.FORCE, "pull to the right once the front assemblies have changed sides")
def pull_swapped(model: Any) -> Any:
    return model.value("car.pull.ply_steer_n") - model.value("car.pull.conicity_n")


def _side(pull_n: Any) -> Any:
    return np.where(np.asarray(pull_n) > 0, RIGHT, LEFT)


@of_car("pull.side", Measure.CHOICE, "the side to which the front tires pull: left or right")
def pull_side(model: Any) -> Any:
    return _side(model.value("car.pull.total_n"))


@of_car("pull.swapped_side", Measure.CHOICE, "the side to which they pull once they have changed sides")
def pull_swapped_side(model: Any) -> Any:
    return _side(model.value("car.pull.swapped_n"))


@of_car("pull.cause", Measure.CHOICE, "the larger part of the pull: conicity or ply-steer")
def pull_cause(model: Any) -> Any:
    sizes = [np.abs(model.value(f"car.pull.{part}_n")) for part in ("conicity", "ply_steer")]
    return np.where(sizes[0] > sizes[1], CONICITY, PLY_STEER)

"""Slips with marks on the sidewall, with lateral force, and with the sides of the car."""

from typing import Any

import numpy as np

from app.compute import placement
from app.domain.model import marks, placing
from app.domain.model.lateral import front_pair
from app.domain.wrong_turns.rule import rule

_OTHER_PART = {"conicity": "ply_steer", "ply_steer": "conicity"}
_OTHER_FRAME = (
    "This is the other of the two. On the tire, conicity keeps its sign when the rotation reverses: it is "
    "half the sum. Ply steer flips: it is half the difference."
)
_LEFT_FOR_RIGHT = "The size is right but the sign is not: it pulls to the other side."


def _other_part(view: Any, name: str) -> Any:
    part = name.removeprefix("lateral.").removesuffix("_n")
    return view.value(f"lateral.{_OTHER_PART[part]}_n")


def _negative(view: Any, name: str) -> Any:
    return -np.asarray(view.value(name))


def _twice(view: Any, name: str) -> Any:
    return 2 * np.asarray(view.value(name))


def _added_conicities(model: Any, _name: str) -> Any:
    return sum(front_pair(model, "lateral.conicity_n"))


def _subtracted_ply_steers(model: Any, _name: str) -> Any:
    left, right = front_pair(model, "lateral.ply_steer_n")
    return right - left


def _added_on_each_axle(model: Any, _name: str) -> Any:
    conicity_n = model.each("placed.conicity_n")
    front, rear = (np.abs(conicity_n[..., i] + conicity_n[..., i + 1]) for i in (0, 2))
    return front + model.truth.vehicle.rear_share * rear


def _rear_in_full(model: Any, _name: str) -> Any:
    return placement.tracking_costs(model.each("placed.conicity_n"), 1.0)[..., placing.AS_IT_CAME]


def _mirrored(model: Any, _name: str) -> Any:
    return placing.free_comfort(model, placing.side_without_driver(model))[..., placing.AS_IT_CAME]


def _other_dot(view: Any, _name: str) -> Any:
    """The dot that doesn't count, turned to where the other belongs; nan where there is none."""
    of = view.truth.marks
    both = marks.has_both_points(view)
    return marks.turn_to(
        np.where(both, of.light_spot_deg, of.high_point_deg),
        np.where(both, of.low_point_deg, marks.VALVE_DEG),
    )


def _to_the_valve(view: Any, _name: str) -> Any:
    """A high-point dot at the valve although there is a low-point mark; nan where the valve is right."""
    of = view.truth.marks
    return np.where(marks.has_both_points(view), marks.turn_to(of.high_point_deg, marks.VALVE_DEG), np.nan)


RULES = (
    rule(
        "turned-the-other-way",
        r"marks\.turn_deg",
        _negative,
        "The size of the turn is right but the tire goes the other way round.",
    ),
    rule(
        "other-dot",
        r"marks\.turn_deg",
        _other_dot,
        "This turns the other dot there. See which of the two counts on this wheel.",
    ),
    rule(
        "dot-to-the-valve",
        r"marks\.turn_deg",
        _to_the_valve,
        "This brings the high-point dot to the valve. This wheel has a low-point mark, and there it belongs.",
    ),
    rule("other-frame", r"lateral\.(conicity|ply_steer)_n", _other_part, _OTHER_FRAME),
    rule(
        "not-halved",
        r"lateral\.(conicity|ply_steer)_n",
        _twice,
        "This is the whole sum or difference. Each part is half of it.",
    ),
    rule(
        "left-for-right",
        r"lateral\.ply_steer_n|car\.pull\.(conicity|ply_steer|total)_n",
        _negative,
        _LEFT_FOR_RIGHT,
    ),
    rule(
        "conicities-added",
        r"car\.pull\.conicity_n",
        _added_conicities,
        "This adds the two conicities. Each pushes toward its own side, so one is taken from the other.",
    ),
    rule(
        "ply-steers-subtracted",
        r"car\.pull\.ply_steer_n",
        _subtracted_ply_steers,
        "This subtracts. Ply steer of both front tires pushes to the same side of the car, so it adds.",
    ),
    rule(
        "swap-turns-all",
        r"car\.pull\.swapped_n",
        lambda model, _name: -model.value("car.pull.total_n"),
        "This turns the whole pull round. Changing sides turns only the conicity's part; ply steer stays.",
    ),
    rule(
        "swap-turns-nothing",
        r"car\.pull\.swapped_n",
        lambda model, _name: model.value("car.pull.total_n"),
        "This is the pull as before. With the sides changed, the conicity's part turns round.",
    ),
    rule(
        "drive-side-mirrored",
        r"car\.as_it_came\.felt_n",
        _mirrored,
        "This is what a driver on the other side feels. Look again at where the driver sits.",
    ),
    rule(
        "shares-forgotten",
        r"car\.as_it_came\.felt_n",
        lambda model, _name: model.each("placed.first_n").sum(axis=-1),
        "This adds the forces in full. The driver feels only a share of each, by its place.",
    ),
    rule(
        "conicities-added",
        r"car\.as_it_came\.pull_n",
        _added_on_each_axle,
        "This adds the conicities on each axle. They push against each other: take their difference.",
    ),
    rule(
        "rear-in-full",
        r"car\.as_it_came\.pull_n",
        _rear_in_full,
        "This counts the rear axle in full. Only a share of its difference is felt as pull.",
    ),
)

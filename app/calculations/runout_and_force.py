"""Calculations on traces taken around the wheel, and on matching a tire to its wheel."""

from typing import Annotated, Any

import numpy as np
from pydantic import Field

from app.calculations.registry import calculation
from app.calculations.wire import Answer, Given, Number, Positive, Vector, angle_or_null, vector_answer
from app.compute import matching, runout
from app.compute.force import conicity_and_ply_steer, within_limits
from app.compute.phasors import size

RunoutReadings = Annotated[list[Number], Field(min_length=8, max_length=360)]
ForceReadings = Annotated[list[Number], Field(min_length=16, max_length=720)]


class RunoutGiven(Given):
    readings_mm: RunoutReadings
    start_deg: Number = 0.0


@calculation(
    "runout", "Total indicated runout and harmonics of a runout trace", fields={"readings": "readings_mm"}
)
def runout_answer(given: RunoutGiven) -> Answer:
    """Section 2.9 of the wheel model."""
    return {
        "total_mm": float(runout.total_indicated(given.readings_mm)),
        "mean_mm": float(np.mean(given.readings_mm)),
        "high_deg": float(runout.high_spot_deg(given.readings_mm, given.start_deg)),
        "low_deg": float(runout.low_spot_deg(given.readings_mm, given.start_deg)),
        "harmonics": _harmonics(given.readings_mm, given.start_deg, "peak_to_peak_mm"),
    }


class AverageRunoutGiven(Given):
    inboard_mm: RunoutReadings
    outboard_mm: RunoutReadings
    start_deg: Number = 0.0


@calculation(
    "average-runout",
    "First harmonic of a rim as the tire feels it: both bead seats together",
    fields={"inboard": "inboard_mm", "outboard": "outboard_mm"},
)
def average_runout(given: AverageRunoutGiven) -> Answer:
    """Section 2.10 of the wheel model."""
    average = runout.average_runout(given.inboard_mm, given.outboard_mm, given.start_deg)
    scale = max(np.max(np.abs(given.inboard_mm)), np.max(np.abs(given.outboard_mm)))
    return {
        "inboard": _first_harmonic(given.inboard_mm, given.start_deg),
        "outboard": _first_harmonic(given.outboard_mm, given.start_deg),
        "average": vector_answer(complex(average), float(scale)),
    }


class ForceVariationGiven(Given):
    readings_n: ForceReadings
    start_deg: Number = 0.0
    limit_n: Positive
    harmonic_limit_n: Positive | None = None


@calculation(
    "force-variation",
    "Total force variation and harmonics of a force trace, against its limits",
    fields={"readings": "readings_n"},
)
def force_variation(given: ForceVariationGiven) -> Answer:
    """Section 2.13 of the wheel model."""
    return {
        "total_n": float(runout.total_indicated(given.readings_n)),
        "harmonics": _harmonics(given.readings_n, given.start_deg, "peak_to_peak_n"),
        "within": bool(within_limits(given.readings_n, given.limit_n, given.harmonic_limit_n)),
    }


class MatchMountGiven(Given):
    tire: Vector
    wheel: Vector
    spring_rate_n_per_mm: Positive


@calculation("match-mount", "The turn of a tire on its wheel that leaves the least force variation")
def match_mount(given: MatchMountGiven) -> Answer:
    """Section 2.11 of the wheel model."""
    wheel_n = matching.wheel_force(given.wheel.phasor(), given.spring_rate_n_per_mm)
    match = matching.match_mount(given.tire.phasor(), wheel_n)
    return {
        "before_n": float(match.before_n),
        "after_n": float(match.after_n),
        "turn_deg": float(match.turn_deg),
        "wheel_n": vector_answer(complex(wheel_n)),
    }


class SeparateGiven(Given):
    first: Vector
    second: Vector
    turned_deg: Number


@calculation(
    "separate-tire-and-wheel", "Tire and wheel told apart by two measurements with a turn between them"
)
def separate_tire_and_wheel(given: SeparateGiven) -> Answer:
    """Section 2.12 of the wheel model."""
    first, second = given.first.phasor(), given.second.phasor()
    parts = matching.separate_tire_and_wheel(first, second, given.turned_deg)
    scale = float(max(size(first), size(second)))
    return {
        "tire": vector_answer(complex(parts.tire_n), scale),
        "wheel": vector_answer(complex(parts.wheel_n), scale),
        "best_turn_deg": float(parts.best_turn_deg),
        "best_n": float(parts.best_n),
    }


class LateralForceGiven(Given):
    clockwise_n: Number
    counterclockwise_n: Number


@calculation(
    "conicity-and-ply-steer", "Conicity and ply steer from the lateral forces in both directions of rotation"
)
def lateral_force(given: LateralForceGiven) -> Answer:
    """Section 2.23 of the wheel model."""
    lateral = conicity_and_ply_steer(given.clockwise_n, given.counterclockwise_n)
    return {"conicity_n": float(lateral.conicity_n), "ply_steer_n": float(lateral.ply_steer_n)}


def _first_harmonic(readings: list[float], start_deg: float) -> Answer:
    first = runout.first_harmonic(readings, start_deg)
    return vector_answer(complex(first), float(np.max(np.abs(readings))))


def _harmonics(readings: list[float], start_deg: float, size_name: str) -> list[dict[str, Any]]:
    found = runout.harmonics(readings, start_deg)
    return [
        {"order": int(order), size_name: float(peak_to_peak), "high_deg": angle_or_null(float(high_deg))}
        for order, peak_to_peak, high_deg in zip(found.order, found.peak_to_peak, found.high_deg, strict=True)
    ]

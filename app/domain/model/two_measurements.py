"""Quantities of match mounting from two measurements, the tire turned on its wheel between them."""

from typing import Any

from app.compute import matching, phasors
from app.domain.measures import Measure
from app.domain.model.registry import computed_once, of_assembly
from app.domain.model.runout import true_first, wheel_force_n

PARTS = ("tire", "wheel")
_OF_PARTS = {part: part for part in PARTS}


@computed_once
def _second_n(assembly: Any) -> Any:
    """The first harmonic once the tire is turned, as a phasor."""
    turned = phasors.phasor(1.0, assembly.truth.tire.turned_deg)
    return true_first(assembly.truth.tire.force) * turned + wheel_force_n(assembly)


@of_assembly("turned.first_n", Measure.FORCE, "first harmonic of force after the tire is turned")
def second_size(assembly: Any) -> Any:
    return phasors.size(_second_n(assembly))


@of_assembly("turned.high_deg", Measure.ANGLE, "its high point after the tire is turned")
def second_high(assembly: Any) -> Any:
    return phasors.angle_deg(_second_n(assembly), scale=1.0)


@computed_once
def _separated(assembly: Any) -> matching.Separated:
    return matching.separate_tire_and_wheel(
        assembly.phasor("force.first_n", "force.high_deg"),
        assembly.phasor("turned.first_n", "turned.high_deg"),
        assembly.truth.tire.turned_deg,
    )


def _part_n(assembly: Any, part: str) -> Any:
    return _separated(assembly)[PARTS.index(part)]


@of_assembly(
    "separated.{part}.first_n", Measure.FORCE, "share of the {part}, from two measurements", parts=_OF_PARTS
)
def part_size(assembly: Any, part: str) -> Any:
    return phasors.size(_part_n(assembly, part))


@of_assembly(
    "separated.{part}.high_deg",
    Measure.ANGLE,
    "high point of that share of the {part}, as in the first measurement",
    parts=_OF_PARTS,
)
def part_high(assembly: Any, part: str) -> Any:
    return phasors.angle_deg(_part_n(assembly, part), scale=1.0)


@computed_once
def _matched(assembly: Any) -> matching.Match:
    tire, wheel = (
        assembly.phasor(f"separated.{part}.first_n", f"separated.{part}.high_deg") for part in PARTS
    )
    return matching.match_mount(tire, wheel)


@of_assembly("separated.turn_deg", Measure.TURN, "how far to turn the tire from its first place")
def best_turn(assembly: Any) -> Any:
    return _matched(assembly).turn_deg


@of_assembly("separated.left_n", Measure.FORCE, "first harmonic that remains after that turn")
def left(assembly: Any) -> Any:
    return _matched(assembly).after_n

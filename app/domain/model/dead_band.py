"""Quantities of what a balancer shows: rounded to its step, and nothing below its dead band."""

from typing import Any

from app.compute import unbalance
from app.domain.measures import Measure
from app.domain.model.registry import of_assembly


@of_assembly("shown.{plane}.mass_g", Measure.MASS, "weight that the balancer shows for the {plane} plane")
def shown(assembly: Any, plane: str) -> Any:
    machine = assembly.model.truth.machine
    return unbalance.round_to_step(
        assembly.value(f"correction.{plane}.mass_g"), machine.step_g, machine.dead_band_g
    )

"""How much unbalance a standard permits, what it does on the road, and where a vibration may come from."""

from dataclasses import asdict
from typing import Annotated

import numpy as np
from pydantic import Field

from app.calculations.registry import calculation
from app.calculations.wire import Answer, Given, NotNegative, Number, Positive
from app.compute import unbalance, vibration
from app.compute.errors import ComputeError


class PlacePlane(Given):
    """Where a tolerance plane stands."""

    z_mm: Number


class PermissibleGiven(Given):
    """A balance quality grade, a rotor, and where its tolerance planes stand, if they are asked for."""

    grade_mm_s: NotNegative
    rotor_kg: NotNegative
    speed_rpm: Positive
    planes: Annotated[list[PlacePlane], Field(min_length=2, max_length=2)] | None = None
    centre_of_mass_z_mm: Number | None = None


class ForceGiven(Given):
    """An unbalance mass on a rolling wheel."""

    mass_g: NotNegative
    radius_mm: NotNegative
    speed_kmh: NotNegative
    rolling_circumference_mm: Positive


class OrderGiven(Given):
    """A vibration felt at a speed."""

    speed_kmh: Positive
    frequency_hz: Positive
    rolling_circumference_mm: Positive
    axle_ratio: Positive | None = None
    engine_rpm: Positive | None = None


@calculation(
    "permissible-unbalance",
    "The unbalance that a balance quality grade of ISO 21940-11 permits",
    fields={"plane_z_mm": "planes[1].z_mm"},
)
def permissible_unbalance(given: PermissibleGiven) -> Answer:
    """The permissible unbalance for each kilogram, in total and, where planes are given, by plane."""
    specific = float(unbalance.specific_unbalance(given.grade_mm_s, given.speed_rpm))
    total = specific * given.rotor_kg
    return {"specific_um": specific, "total_gmm": total, "by_plane_gmm": _by_plane(given, total)}


def _by_plane(given: PermissibleGiven, total_gmm: float) -> list[float] | None:
    planes, centre_z = given.planes, given.centre_of_mass_z_mm
    if planes is None and centre_z is None:
        return None
    if planes is None:
        raise ComputeError("planes", "Give the two planes that the center of mass lies between.")
    if centre_z is None:
        raise ComputeError("centre_of_mass_z_mm", "Give where the center of mass lies between the planes.")
    plane_z = np.array([plane.z_mm for plane in planes])
    return [float(share) for share in unbalance.share_between_planes(total_gmm, plane_z, centre_z)]


@calculation("unbalance-force", "The force of an unbalance mass at a road speed")
def unbalance_force(given: ForceGiven) -> Answer:
    """The wheel's turns in a second and the peak force."""
    frequency = vibration.wheel_frequency(given.speed_kmh, given.rolling_circumference_mm)
    force = vibration.unbalance_force(given.mass_g, given.radius_mm, frequency)
    return {"frequency_hz": float(frequency), "force_n": float(force)}


@calculation("vibration-order", "The turning parts that a felt vibration may come from")
def vibration_order(given: OrderGiven) -> Answer:
    """The wheel's turns in a second and the sources and orders, nearest first."""
    wheel_hz = float(vibration.wheel_frequency(given.speed_kmh, given.rolling_circumference_mm))
    matches = vibration.vibration_orders(
        given.frequency_hz, wheel_hz, axle_ratio=given.axle_ratio, engine_rpm=given.engine_rpm
    )
    return {"wheel_hz": wheel_hz, "orders": [asdict(match) for match in matches]}

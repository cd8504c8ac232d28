"""The job card of a lab: the vehicle, what its driver says, what its maker asks, and what came in."""

from dataclasses import dataclass

from app.domain.measures import Measure
from app.domain.variants import Variant
from app.drawings.measured.parts import Table, amount, words


@dataclass(frozen=True)
class JobCard:
    """facts: label and value, in order."""

    concern: str
    facts: tuple[tuple[str, str], ...]
    assemblies: Table


def job_card(variant: Variant) -> JobCard:
    """What a technician is told before anything is measured."""
    vehicle = variant.scenario.vehicle
    placard, day = vehicle.placard, vehicle.service_date
    facts = [
        ("Vehicle", vehicle.description),
        ("Driver sits", vehicle.drive_side),
        (
            "Day of service",
            f"{day:%B} {day.day}, {day.year}",
        ),
        ("Placard, size" if placard.rear_size is None else "Placard, size in front", placard.size),
        *([] if placard.rear_size is None else [("Placard, size behind", placard.rear_size)]),
        ("Placard, front", amount(placard.front_kpa, Measure.PRESSURE, variant)),
        ("Placard, rear", amount(placard.rear_kpa, Measure.PRESSURE, variant)),
        ("Wheel torque", amount(vehicle.wheel_torque_nm, Measure.TORQUE, variant)),
    ]
    if vehicle.first_harmonic_limit_n is not None:
        limit = amount(vehicle.first_harmonic_limit_n, Measure.FORCE, variant)
        facts.append(("Limit, first harmonic", limit))
    if vehicle.oldest_tire_years is not None:
        facts.append(("Oldest tire to fit", amount(vehicle.oldest_tire_years, Measure.YEARS, variant)))
    return JobCard(vehicle.concern, tuple(facts), _assemblies(variant))


def _assemblies(variant: Variant) -> Table:
    rows = [
        (
            letter,
            truth.tire.designation,
            f"{truth.wheel.material}, {truth.wheel.diameter_in:g} × {truth.wheel.width_in:g} in",
        )
        for letter, truth in variant.truth.assemblies.items()
    ]
    return Table("Assemblies that came in", (words("Assembly"), words("Tire"), words("Wheel")), tuple(rows))

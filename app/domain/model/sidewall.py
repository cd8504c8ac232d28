"""Quantities that the sidewall says: size, load and speed, and how the tire stands against the placard."""

from typing import Any

import numpy as np

from app.compute import tires
from app.compute.errors import UnreadableError
from app.domain.measures import Measure
from app.domain.model.registry import of_assembly

FITS, SIZE, LOAD, SPEED, AGE = "fits", "wrong-size", "too-little-load", "too-slow", "too-old"
SERVICES = {"P": "passenger", "LT": "light-truck", "metric": "metric"}


def size_of(assembly: Any, field: str) -> Any:
    """One field of `tires.TireSize` for each variant (...). Raises LookupError where a size lacks it."""
    designations = np.asarray(assembly.truth.tire.designations)
    texts, which = np.unique(designations, return_inverse=True)
    values = [getattr(tires.parse_designation(text), field) for text in texts.tolist()]
    if None in values:
        raise LookupError(f"a designation of assembly {assembly.truth.id} has no {field}")
    return np.asarray(values)[which].reshape(designations.shape)


@of_assembly("tire.section_height_mm", Measure.LENGTH, "height of one sidewall, from rim to tread")
def section_height(assembly: Any) -> Any:
    return size_of(assembly, "section_height_mm")


@of_assembly("tire.overall_diameter_mm", Measure.LENGTH, "diameter of the tire, tread to tread")
def overall_diameter(assembly: Any) -> Any:
    return tires.overall_diameter(size_of(assembly, "rim_in"), assembly.value("tire.section_height_mm"))


@of_assembly("tire.rolling_mm", Measure.LENGTH, "how far the tire rolls in one turn")
def rolling_circumference(assembly: Any) -> Any:
    return tires.rolling_circumference(assembly.value("tire.overall_diameter_mm"))


@of_assembly("tire.load_index", Measure.COUNT, "load index")
def load_index(assembly: Any) -> Any:
    return size_of(assembly, "load_index").astype(float)


@of_assembly("tire.load_kg", Measure.LOAD, "load that one tire may carry, by its load index")
def load(assembly: Any) -> Any:
    return size_of(assembly, "load_kg").astype(float)


@of_assembly("tire.axle_load_kg", Measure.LOAD, "load that two such tires on one axle may carry")
def axle_load(assembly: Any) -> Any:
    return 2 * np.asarray(assembly.value("tire.load_kg"))


@of_assembly("tire.speed_kmh", Measure.SPEED, "speed that the tire is made for, by its symbol")
def speed(assembly: Any) -> Any:
    return size_of(assembly, "speed_kmh").astype(float)


@of_assembly(
    "tire.service", Measure.CHOICE, "what service the tire is made for: passenger, light-truck, metric"
)
def service(assembly: Any) -> Any:
    letters = size_of(assembly, "service")
    return np.vectorize(SERVICES.get, otypes=[np.str_])(letters)


@of_assembly(
    "tire.judgement",
    Measure.CHOICE,
    "whether the tire fits the placard, or the first thing against it: size, load, speed, age",
)
def judgement(assembly: Any) -> Any:
    """Against the front axle's placard; a tire older than the vehicle's limit is too old."""
    vehicle = assembly.model.truth.vehicle
    placard = placard_size(vehicle.placard.size)
    load_kg, speed_kmh = placard.load_kg, placard.speed_kmh
    if load_kg is None or speed_kmh is None or vehicle.oldest_tire_years is None:
        raise LookupError(
            "vehicle needs oldest_tire_years, and a placard size with load index and speed symbol"
        )
    against = (
        (~same_size(assembly, placard), SIZE),
        (np.asarray(assembly.value("tire.load_kg")) < load_kg, LOAD),
        (np.asarray(assembly.value("tire.speed_kmh")) < speed_kmh, SPEED),
        (np.asarray(assembly.value("tire.age_years")) > vehicle.oldest_tire_years, AGE),
    )
    return np.select([mask for mask, _ in against], [word for _, word in against], default=FITS)


def placard_size(text: str) -> tires.TireSize:
    """A size on the placard, read. Raises LookupError for one that can't be read."""
    try:
        return tires.parse_designation(text)
    except UnreadableError as error:
        raise LookupError(f"vehicle.placard: {error.message}") from error


def same_size(assembly: Any, size: tires.TireSize) -> Any:
    """Whether width, aspect ratio, rim and service are those of a size: (...) of bool."""
    alike = [
        np.equal(size_of(assembly, field), getattr(size, field))
        for field in ("section_mm", "aspect", "rim_in", "service")
    ]
    return np.logical_and.reduce(alike)

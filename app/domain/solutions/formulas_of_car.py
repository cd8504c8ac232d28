"""Formulas of tire size, pressure and vibration, and what they take from the job. See `formulas`."""

from collections.abc import Callable
from typing import Any

from app.compute.pressure import TABLE_MINIMUM_KPA
from app.compute.units import convert
from app.domain.measures import Measure, UnitSystem
from app.domain.model.lateral import clockwise_n, counterclockwise_n
from app.domain.model.pressure import axle_of, placard_kpa, temperature
from app.domain.model.sidewall import size_of
from app.domain.model.vibration import measured
from app.domain.solutions.given import Given, shown

FORMULAS_OF_CAR = (
    (r"tire\.section_height_mm", "{section} × {aspect}"),
    (r"tire\.overall_diameter_mm", "2 × {tire.section_height_mm} + {rim}"),
    (r"tire\.rolling_mm", "3.05 × {tire.overall_diameter_mm}"),
    (
        r"pressure\.cold_kpa",
        "({pressure.found_kpa} + {air}) × {absolute.then} ÷ {absolute.now} − {air}",
    ),
    (r"tire\.axle_load_kg", "2 × {tire.load_kg}"),
    (r"tire\.judgement", "{tire.designation} against {placard.size}; the tire is {tire.age_years} old"),
    (r"suits_rear", "{tire.designation} against {placard.rear_size}"),
    (r"pressure\.above_kpa", "{pressure.found_kpa} − {placard.own}"),
    (r"pressure\.warned", "{pressure.cold_kpa} against {warning.own}"),
    (r"car\.warning\.(front|rear)_kpa", r"0.75 × {placard.\1}, but not below {least_warning}"),
    (
        r"car\.to_set\.(front|rear)_kpa",
        r"({placard.\1} + {air}) × {absolute.now} ÷ {absolute.then} − {air}",
    ),
    (r"lateral\.conicity_n", "half of the sum of {lateral.clockwise} and {lateral.counterclockwise}"),
    (r"lateral\.ply_steer_n", "half of the difference {lateral.clockwise} − {lateral.counterclockwise}"),
    (r"car\.pull\.conicity_n", "{assembly[2].lateral.conicity_n} − {assembly[1].lateral.conicity_n}"),
    (r"car\.pull\.ply_steer_n", "{assembly[2].lateral.ply_steer_n} + {assembly[1].lateral.ply_steer_n}"),
    (r"car\.pull\.total_n", "{car.pull.conicity_n} + {car.pull.ply_steer_n}"),
    (r"car\.pull\.swapped_n", "{car.pull.ply_steer_n} − {car.pull.conicity_n}"),
    (r"car\.pull\.side", "the right where {car.pull.total_n} is above zero, else the left"),
    (r"car\.pull\.swapped_side", "the right where {car.pull.swapped_n} is above zero, else the left"),
    (r"car\.pull\.cause", "the larger of {car.pull.conicity_n} and {car.pull.ply_steer_n}, signs aside"),
    (r"car\.vibration\.wheel_hz", "{speed} ÷ {rolling}"),
    (r"car\.vibration\.driveline_hz", "{car.vibration.wheel_hz} × {axle_ratio}"),
    (r"car\.vibration\.engine_hz", "{engine_rpm} ÷ 60 seconds in a minute"),
    (r"car\.vibration\.source", "the part and the order nearest to {car.vibration.measured_hz}: {parts}"),
    (r"car\.vibration\.force_n", "{unbalance.kg} × {unbalance.m} × (2 × 3.14 × {car.vibration.wheel_hz})²"),
    (r"car\.vibration\.wheel_order", "{car.vibration.measured_hz} ÷ {car.vibration.wheel_hz}"),
)

_KELVIN_AT_0_C = 273.15
_RANKINE_PER_KELVIN = 1.8


def _section(view: Any) -> Given:
    return Given("section width of the tire", shown(view, size_of(view, "section_mm"), Measure.LENGTH))


def _aspect(view: Any) -> Given:
    return Given("aspect ratio", f"{float(size_of(view, 'aspect')):g}")


def _rim(view: Any) -> Given:
    return Given("rim diameter", shown(view, convert(size_of(view, "rim_in"), "in", "mm"), Measure.LENGTH))


def _air(view: Any) -> Given:
    return Given(
        "pressure of the air around", shown(view, temperature(view.model).ambient_kpa, Measure.PRESSURE)
    )


def _placard(view: Any, axle: str) -> Given:
    axle = axle_of(view.model, view.truth.id) if axle == "own" else axle
    return Given(f"{axle} placard pressure", shown(view, placard_kpa(view.model, axle), Measure.PRESSURE))


def _warning(view: Any) -> Given:
    axle = axle_of(view.model, view.truth.id)
    due_kpa = view.model.value(f"car.warning.{axle}_kpa")
    return Given(f"the warning of the {axle} axle", shown(view, due_kpa, Measure.PRESSURE))


def _least_warning(view: Any) -> Given:
    return Given("the least that the rule allows", shown(view, TABLE_MINIMUM_KPA, Measure.PRESSURE))


def _lateral(view: Any, turning: str) -> Given:
    force_n = (clockwise_n if turning == "clockwise" else counterclockwise_n)(view)
    return Given(f"lateral force turning {turning}", shown(view, force_n, Measure.FORCE))


def _absolute(view: Any, when: str) -> Given:
    air = temperature(view.model)
    celsius = air.set_c if when == "now" else air.at_c
    words = {"now": "absolute temperature now", "then": "the other absolute temperature"}[when]
    kelvin = float(celsius) + _KELVIN_AT_0_C
    if view.model.truth.units is UnitSystem.US:
        return Given(words, f"{kelvin * _RANKINE_PER_KELVIN:.0f} °R")
    return Given(words, f"{kelvin:.1f} K")


def _speed(view: Any) -> Given:
    metres = float(measured(view.model).speed_kmh) / 3.6
    if view.model.truth.units is UnitSystem.US:
        inches = float(convert(metres, "m", "in"))
        return Given("speed in inches a second", f"{inches:.0f} in/s")
    return Given("speed in millimeters a second", f"{metres * 1000:.0f} mm/s")


def _rolling(view: Any) -> Given:
    return Given(
        "how far the tire rolls in one turn", shown(view, view.value("tire.rolling_mm"), Measure.LENGTH)
    )


def _axle_ratio(view: Any) -> Given:
    return Given("axle ratio", f"{float(measured(view.model).axle_ratio or 0):g}")


def _designation(view: Any) -> Given:
    return Given("size and service description of the tire", view.truth.tire.designation)


def _placard_size(view: Any, of: str) -> Given:
    placard = view.model.truth.vehicle.placard
    if of == "rear_size" and placard.rear_size is not None:
        return Given("size and load index behind, by the placard", placard.rear_size)
    return Given("the placard", placard.size)


def _parts(view: Any) -> Given:
    """What turns on this vehicle, and how often."""
    found = measured(view.model)
    names = {"wheel": "wheel", "driveline": "driveshaft", "engine": "engine"}
    if found.axle_ratio is None:
        del names["driveline"]
    if found.engine_rpm is None:
        del names["engine"]
    turns = {name: view.model.value(f"car.vibration.{part}_hz") for part, name in names.items()}
    return Given(
        ", ".join(f"turns of the {name}" for name in turns),
        ", ".join(f"{name} {shown(view, hz, Measure.FREQUENCY)}" for name, hz in turns.items()),
    )


def _unbalance(view: Any, what: str) -> Given:
    found = measured(view.model)
    if what == "kg":
        return Given("mass in kilograms", f"{float(found.mass_g or 0) / 1000:.4f} kg")
    return Given("radius in meters", f"{float(found.radius_mm or 0) / 1000:.3f} m")


def _engine_rpm(view: Any) -> Given:
    return Given(
        "turns of the engine in a minute", f"{float(measured(view.model).engine_rpm or 0):.0f} a minute"
    )


GIVENS_OF_CAR: tuple[tuple[str, Callable[..., Given]], ...] = (
    (r"section", _section),
    (r"aspect", _aspect),
    (r"rim", _rim),
    (r"air", _air),
    (r"placard\.(front|rear|own)", _placard),
    (r"warning\.own", _warning),
    (r"least_warning", _least_warning),
    (r"lateral\.(clockwise|counterclockwise)", _lateral),
    (r"absolute\.(now|then)", _absolute),
    (r"speed", _speed),
    (r"rolling", _rolling),
    (r"axle_ratio", _axle_ratio),
    (r"engine_rpm", _engine_rpm),
    (r"tire\.designation", _designation),
    (r"placard\.(size|rear_size)", _placard_size),
    (r"parts", _parts),
    (r"unbalance\.(kg|m)", _unbalance),
)

"""Slips with pressure and temperature, and with what turns how fast."""

from typing import Any

import numpy as np

from app.compute import pressure
from app.compute.constants import RADIANS_PER_TURN, SECONDS_PER_MINUTE
from app.compute.units import UNITS
from app.domain.model.pressure import placard_kpa, temperature
from app.domain.road_truth import TemperatureTruth
from app.domain.wrong_turns.rule import rule

_KMH_PER_M_S = UNITS["m/s"].factor
_BY_THE_GAS_LAW = r"pressure\.cold_kpa|car\.to_set\.\w+_kpa"
_OTHER_AXLE = {"front": "rear", "rear": "front"}
_GAUGE = (
    "The gauge's pressure was put into the gas law as it reads. Put the absolute one in: add the air's "
    "pressure outside, and take it off again at the end."
)
_ABSOLUTE = "This is the absolute pressure. A gauge shows how far it is above the air outside: take that off."
_SWAPPED = "The two temperatures changed places. Cold air presses less, warm air more."


def _axle(name: str) -> str:
    return name.split(".")[-1].removesuffix("_kpa")


def _known_kpa(asked: Any, name: str) -> Any:
    """The pressure that the gas law starts from: as found warm, or the placard's, wanted cold."""
    if name == "pressure.cold_kpa":
        return asked.value("pressure.found_kpa")
    return placard_kpa(asked, _axle(name))


def _temperatures_c(asked: Any, name: str) -> tuple[TemperatureTruth, Any, Any]:
    """The air's temperatures, that of the known pressure first."""
    air = temperature(getattr(asked, "model", asked))
    return (air, air.set_c, air.at_c) if name == "pressure.cold_kpa" else (air, air.at_c, air.set_c)


def _without_outside(asked: Any, name: str) -> Any:
    _, from_c, to_c = _temperatures_c(asked, name)
    return pressure.pressure_at_temperature(_known_kpa(asked, name), from_c, to_c, _NEARLY_NOTHING_KPA)


def _temperatures_swapped(asked: Any, name: str) -> Any:
    air, from_c, to_c = _temperatures_c(asked, name)
    return pressure.pressure_at_temperature(_known_kpa(asked, name), to_c, from_c, air.ambient_kpa)


def _absolute(asked: Any, name: str) -> Any:
    return asked.value(name) + _temperatures_c(asked, name)[0].ambient_kpa


_NEARLY_NOTHING_KPA = 1e-9
"""Outside pressure of who forgets it: the gauge's pressure stands for the absolute one."""

RULES = (
    rule("gauge-as-absolute", _BY_THE_GAS_LAW, _without_outside, _GAUGE),
    rule("absolute-for-gauge", _BY_THE_GAS_LAW, _absolute, _ABSOLUTE),
    rule("temperatures-swapped", _BY_THE_GAS_LAW, _temperatures_swapped, _SWAPPED),
    rule(
        "other-axle",
        r"car\.(warning|to_set)\.\w+_kpa",
        lambda model, name: model.value(name.replace(_axle(name), _OTHER_AXLE[_axle(name)])),
        "This is the other axle's value. Front and rear have placard pressures of their own.",
    ),
    rule(
        "quarter-for-three-quarters",
        r"car\.warning\.\w+_kpa",
        lambda model, name: placard_kpa(model, _axle(name)) - model.value(name),
        "This is the quarter that is missing. The warning comes when three quarters are left.",
    ),
    rule(
        "hours-for-seconds",
        r"car\.vibration\.wheel_hz",
        lambda model, name: model.value(name) * _KMH_PER_M_S,
        "The speed was put in as kilometers in an hour. In a second the car goes 3.6 times less in meters.",
    ),
    rule(
        "turns-in-a-minute",
        r"car\.vibration\.(wheel|driveline|engine)_hz",
        lambda model, name: model.value(name) * SECONDS_PER_MINUTE,
        "This is how often it turns in a minute. A frequency in Hz is turns in a second.",
    ),
    rule(
        "divided-by-the-ratio",
        r"car\.vibration\.driveline_hz",
        lambda model, name: model.value("car.vibration.wheel_hz") ** 2 / model.value(name),
        "The wheel's frequency was divided by the axle ratio. The driveshaft turns faster than the wheel.",
    ),
    rule(
        "upside-down",
        r"car\.vibration\.wheel_order",
        lambda model, name: 1 / np.asarray(model.value(name)),
        "This is the wheel's frequency divided by the vibration's. Divide the vibration's by the wheel's.",
        differs=False,  # once in one turn it is the same
    ),
    rule(
        "turns-for-radians",
        r"car\.vibration\.force_n",
        lambda model, name: model.value(name) / RADIANS_PER_TURN**2,
        "The frequency was squared as it is. The formula wants 2 pi times the frequency, squared.",
    ),
    rule(
        "not-squared",
        r"car\.vibration\.force_n",
        lambda model, name: (
            model.value(name) / (RADIANS_PER_TURN * np.asarray(model.value("car.vibration.wheel_hz")))
        ),
        "The speed of turning was not squared. Twice as fast makes four times the force.",
    ),
    rule(
        "diameter-as-radius",
        r"car\.vibration\.force_n",
        lambda model, name: 2 * np.asarray(model.value(name)),
        "This is twice the force: the diameter was used where the radius belongs.",
    ),
)

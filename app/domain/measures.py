"""Kinds of quantity: how one is shown to a person and how a typed one is read.

Inside, every quantity has the unit of `app.compute` (g, mm, N, degree, kPa). A class sees metric or US
customary units; a student may type any unit of the right kind. The load that a tire may carry is a mass
too, but in kg or lb and never in ounces.
"""

import math
import re
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from app.compute import angles, units


class UnitSystem(StrEnum):
    METRIC = "metric"
    US = "us"


class Measure(StrEnum):
    """What sort of quantity a reference of the model stands for."""

    MASS = "mass"
    UNBALANCE = "unbalance"
    LENGTH = "length"
    RUNOUT = "runout"
    FORCE = "force"
    PRESSURE = "pressure"
    TORQUE = "torque"
    LOAD = "load"
    SPEED = "speed"
    FREQUENCY = "frequency"
    ANGLE = "angle"
    TURN = "turn"
    YEARS = "years"
    COUNT = "count"
    NUMBER = "number"
    CHOICE = "choice"
    SEVERAL = "several"
    PLACEMENT = "placement"

    @property
    def named(self) -> str:
        """With its article: `a mass`, `an angle`."""
        return f"{'an' if self[0] in 'aeiou' else 'a'} {self}"


class UnreadableMeasure(ValueError):  # noqa: N818 -- says what is so
    """A typed quantity that can't be read; the message tells the person what to type instead."""


@dataclass(frozen=True)
class Shown:
    """How one measure is written in one unit system: `factor` inside units make one shown unit."""

    unit: str
    factor: float
    decimals: int
    example: str


def _inside(unit: str) -> float:
    """How many inside units make one of this unit."""
    return float(units.convert(1.0, unit, units.units_of_kind(units.unit_named(unit).kind)[0]))


_OUNCE_INCH_GMM = _inside("oz") * _inside("in")
_POUND_KG = float(units.convert(1.0, "lb", "kg"))
_DEGREE = Shown("°", 1.0, 0, "135, or 4:30 as a clock position")
_TURN = Shown("°", 1.0, 0, "60 cw or 60 ccw")

_SHOWN: dict[Measure, dict[UnitSystem, Shown]] = {
    Measure.MASS: {
        UnitSystem.METRIC: Shown("g", 1.0, 1, "35 g"),
        UnitSystem.US: Shown("oz", _inside("oz"), 2, "1.25 oz"),
    },
    Measure.UNBALANCE: {
        UnitSystem.METRIC: Shown("g·mm", 1.0, 0, "6400 g.mm"),
        UnitSystem.US: Shown("oz·in", _OUNCE_INCH_GMM, 2, "8.9 oz.in"),
    },
    Measure.LENGTH: {
        UnitSystem.METRIC: Shown("mm", 1.0, 0, "165 mm"),
        UnitSystem.US: Shown("in", _inside("in"), 2, "6.5 in"),
    },
    Measure.RUNOUT: {
        UnitSystem.METRIC: Shown("mm", 1.0, 2, "0.45 mm"),
        UnitSystem.US: Shown("in", _inside("in"), 3, "0.018 in"),
    },
    Measure.FORCE: {
        UnitSystem.METRIC: Shown("N", 1.0, 1, "62 N"),
        UnitSystem.US: Shown("lbf", _inside("lbf"), 2, "14 lbf"),
    },
    Measure.PRESSURE: {
        UnitSystem.METRIC: Shown("kPa", 1.0, 0, "230 kPa"),
        UnitSystem.US: Shown("psi", _inside("psi"), 1, "33 psi"),
    },
    Measure.TORQUE: {
        UnitSystem.METRIC: Shown("N·m", 1.0, 0, "110 N.m"),
        UnitSystem.US: Shown("lbf·ft", _inside("lbf.ft"), 0, "80 lbf.ft"),
    },
    Measure.LOAD: {
        UnitSystem.METRIC: Shown("kg", 1.0, 0, "615 kg"),
        UnitSystem.US: Shown("lb", _POUND_KG, 0, "1356 lb"),
    },
    Measure.SPEED: {
        UnitSystem.METRIC: Shown("km/h", 1.0, 0, "100 km/h"),
        UnitSystem.US: Shown("mph", _inside("mph"), 0, "62 mph"),
    },
    Measure.FREQUENCY: dict.fromkeys(UnitSystem, Shown("Hz", 1.0, 1, "13.5 Hz")),
    Measure.ANGLE: {UnitSystem.METRIC: _DEGREE, UnitSystem.US: _DEGREE},
    Measure.TURN: {UnitSystem.METRIC: _TURN, UnitSystem.US: _TURN},
    Measure.YEARS: dict.fromkeys(UnitSystem, Shown("years", 1.0, 0, "7")),
    Measure.COUNT: dict.fromkeys(UnitSystem, Shown("", 1.0, 0, "4")),
    Measure.NUMBER: dict.fromkeys(UnitSystem, Shown("", 1.0, 2, "0.75")),
}

_TYPED_UNITS: dict[Measure, dict[str, float]] = {
    Measure.MASS: {name: _inside(name) for name in ("g", "kg", "oz", "lb")},
    Measure.UNBALANCE: {"g.mm": 1.0, "g.cm": 10.0, "oz.in": _OUNCE_INCH_GMM},
    Measure.LENGTH: {name: _inside(name) for name in ("mm", "cm", "m", "in")},
    Measure.RUNOUT: {name: _inside(name) for name in ("mm", "cm", "in")},
    Measure.FORCE: {name: _inside(name) for name in ("N", "lbf", "kgf")}
    | {"lb": _inside("lbf"), "kg": _inside("kgf")},
    Measure.PRESSURE: {name: _inside(name) for name in ("kPa", "bar", "psi")},
    Measure.TORQUE: {name: _inside(name) for name in ("N.m", "lbf.ft")},
    Measure.LOAD: {"kg": 1.0, "lb": _POUND_KG},
    Measure.SPEED: {name: _inside(name) for name in ("km/h", "mph", "m/s")},
    Measure.FREQUENCY: {"Hz": 1.0},
    Measure.ANGLE: {"deg": 1.0},
    Measure.TURN: {"deg": 1.0},
    Measure.YEARS: {"years": 1.0},
    Measure.COUNT: {},
    Measure.NUMBER: {},
}

_SPELLINGS = {
    "gram": "g", "grams": "g", "ounce": "oz", "ounces": "oz", "lbs": "lb", "pound": "lb", "pounds": "lb",
    "inch": "in", "inches": "in", '"': "in", "newton": "n", "newtons": "n", "gmm": "g.mm", "nm": "n.m",
    "°": "deg", "degree": "deg", "degrees": "deg", "year": "years", "yr": "years", "yrs": "years",
}  # fmt: skip
_AS_TYPED_BY_KEYBOARDS = str.maketrans({"’": "'", "‘": "'", "“": '"', "”": '"', "″": '"', "−": "-", "–": "-"})
"""Signs that a tablet puts in the place of plain ones."""
_CLOCKWISE = {"cw": 1, "clockwise": 1, "ccw": -1, "counterclockwise": -1, "anticlockwise": -1}
_AMOUNT = re.compile(
    r"(?P<sign>[+-]?)\s*(?:(?P<whole>\d{1,6})\s+)?(?:(?P<over>\d{1,4})\s*/\s*(?P<under>\d{1,4})|(?P<plain>\d{1,12}(?:\.\d{0,12})?|\.\d{1,12}))"
    r"(?P<rest>.*)",
    re.ASCII | re.DOTALL,
)
_CLOCK = re.compile(
    r"(?P<hours>\d{1,2})(?::(?P<minutes>\d{2}))?\s*(?P<word>o'?\s?clock)?", re.ASCII | re.IGNORECASE
)
_BETWEEN_UNITS = re.compile(r"\s*[·*.\s-]\s*")
LONGEST_TYPED = 60
MAY_BE_NEGATIVE = {Measure.ANGLE, Measure.TURN, Measure.FORCE, Measure.NUMBER}
"""A force has a sign as conicity: positive toward the assembly's own outboard side."""


def shown_as(measure: Measure, system: UnitSystem) -> Shown:
    """Unit, factor, decimals and an example of how `measure` is written for a class."""
    return _SHOWN[measure][system]


def measure_of_unit(unit: str) -> tuple[Measure, float] | None:
    """What an amount in this unit is a measure of, and how many inside units make one; degrees are a turn."""
    for measure, units_typed in _TYPED_UNITS.items():
        if unit in units_typed and measure is not Measure.ANGLE:
            return measure, units_typed[unit]
    return None


@lru_cache(maxsize=1024)  # a mark names the same values several times
def show(value: float, measure: Measure, system: UnitSystem, *, decimals: int | None = None) -> str:
    """A quantity in words for people, such as `34.2 g`, `1.21 oz`, `143°` or `60° clockwise`.

    value in the measure's inside unit; nan reads "no direction". Rounding happens here and nowhere earlier.
    """
    if math.isnan(value):
        return "no direction"
    shown = shown_as(measure, system)
    places = shown.decimals if decimals is None else decimals
    if measure is Measure.ANGLE:
        return f"{_digits(_on_circle(value, places), places)}°"
    if measure is Measure.TURN:
        return _show_turn(value, places)
    digits = _digits(value / shown.factor, places)
    if measure is Measure.YEARS and digits == "1":
        return "1 year"
    return f"{digits} {shown.unit}".rstrip()


def show_clock(angle_deg: float) -> str:
    """An angle as the nearest clock position, valve at 12: `4:30` for 135, "no direction" for nan."""
    if math.isnan(angle_deg):
        return "no direction"
    minutes = round(float(angles.wrap(angle_deg)) * 2) % 720
    return f"{minutes // 60 or 12}:{minutes % 60:02d}"


def _on_circle(value: float, places: int) -> float:
    rounded = round(float(angles.wrap(value)), places)
    return 0.0 if rounded >= 360 else rounded


def _show_turn(value: float, places: int) -> str:
    size = _digits(abs(value), places)
    if float(size) == 0:
        return "0° (no turn)"
    if float(size) == 180:
        return "180°"
    return f"{size}° {'clockwise' if value > 0 else 'counterclockwise'}"


def _digits(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    return text.lstrip("-") if float(text) == 0 else text


def read(text: str, measure: Measure, system: UnitSystem) -> float:
    """The quantity that a person typed, in the measure's inside unit.

    Reads `35`, `35 g`, `1.25 oz`, `1 1/4 oz`, `135°`, `4:30`, `60 ccw`: one number by a bounded grammar,
    never an expression. A bare number is in the class's unit. Raises UnreadableMeasure with what to type
    instead.
    """
    typed = text.translate(_AS_TYPED_BY_KEYBOARDS).strip()
    if len(typed) > LONGEST_TYPED:
        example = shown_as(measure, system).example
        raise UnreadableMeasure(f"This is too long for one value. Type it like {example}.")
    return _read(typed, measure, system)


@lru_cache(maxsize=1024)  # a class types the same few numbers
def _read(typed: str, measure: Measure, system: UnitSystem) -> float:
    example = shown_as(measure, system).example
    if measure is Measure.ANGLE and (clock := _read_clock(typed)) is not None:
        return clock
    found = _AMOUNT.fullmatch(typed)
    if found is None or (found["whole"] and found["plain"]):
        raise UnreadableMeasure(f"“{_quoted(typed)}” is not a number. Type it like {example}.")
    amount = _amount(found, example)
    rest = found["rest"].strip()
    if rest.startswith(","):
        raise UnreadableMeasure(f"Write the decimals after a point, like {example}.")
    if measure is Measure.TURN:
        return _read_turn(amount, rest, signed=bool(found["sign"]), example=example)
    if amount < 0 and measure not in MAY_BE_NEGATIVE:
        raise UnreadableMeasure(f"A value below zero makes no sense here. Type it like {example}.")
    inside = amount * _unit_factor(rest, measure, system, example)
    return float(angles.wrap(inside)) if measure is Measure.ANGLE else inside


def _amount(found: re.Match[str], example: str) -> float:
    if found["over"]:
        if int(found["under"]) == 0:
            raise UnreadableMeasure(f"A fraction can't have 0 below the line. Type it like {example}.")
        amount = int(found["whole"] or 0) + int(found["over"]) / int(found["under"])
    else:
        amount = float(found["plain"])
    return -amount if found["sign"] == "-" else amount


def _unit_factor(rest: str, measure: Measure, system: UnitSystem, example: str) -> float:
    if not rest:
        return shown_as(measure, system).factor
    name = _unit_name(rest)
    for unit, factor in _TYPED_UNITS[measure].items():
        if unit.lower() == name:
            return factor
    known = ", ".join(unit for unit in _TYPED_UNITS[measure])
    allowed = f"Use {known}" if known else "Give a plain number"
    raise UnreadableMeasure(f"“{_quoted(rest)}” is no unit for this answer. {allowed}, like {example}.")


def _unit_name(rest: str) -> str:
    name = _BETWEEN_UNITS.sub(".", rest.strip().lower())
    return ".".join(_SPELLINGS.get(part, part) for part in name.split("."))


def _read_turn(amount: float, rest: str, *, signed: bool, example: str) -> float:
    spelled = re.split(r"[\s°]+", rest.lower().replace("-", ""))
    words = [word for word in spelled if word and word not in ("deg", "degrees", "degree")]
    if abs(amount) > 360:
        raise UnreadableMeasure(f"A turn is at most once around (360°). Type it like {example}.")
    if not words:
        return float(angles.wrap_turn(amount))
    if len(words) > 1 or words[0] not in _CLOCKWISE or signed:
        raise UnreadableMeasure(
            f"Say which way once: cw (clockwise, seen from outboard) or ccw. Type it like {example}."
        )
    return float(angles.wrap_turn(amount * _CLOCKWISE[words[0]]))


def _read_clock(typed: str) -> float | None:
    found = _CLOCK.fullmatch(typed)
    if found is None or (found["minutes"] is None and found["word"] is None):
        return None
    hours, minutes = int(found["hours"]), int(found["minutes"] or 0)
    if hours > 12 or minutes > 59:
        raise UnreadableMeasure("A clock position runs from 12:00 at the valve to 11:59, like 4:30.")
    return (hours % 12) * 30 + minutes / 2


def _quoted(text: str) -> str:
    return text if len(text) <= 20 else text[:20] + "…"

"""Kinds of entries: how each is typed, and how its value is shown in metric and in US units.

Quantities that the labs ask for are read and written by `app.domain.measures`; the few that only a
calculator needs stand here. A value is in the unit that the calculations want: g, mm, N, kPa, km/h, °C.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol, runtime_checkable

from app.compute import units
from app.domain import measures
from app.domain.measures import Measure, UnitSystem, UnreadableMeasure
from app.web.fields import fault_in_text

LONGEST_LIST = 6000
MINUS = "\N{MINUS SIGN}"


class Kind(Protocol):
    """control: what the page draws for it: text, area, choice or date."""

    @property
    def control(self) -> str: ...

    def read(self, text: str, system: UnitSystem) -> Any:
        """The value that was typed. Raises UnreadableMeasure with what to type instead."""

    def show(self, value: Any, system: UnitSystem) -> str:
        """The value for people."""


@runtime_checkable
class Amount(Kind, Protocol):
    """A kind that is one number: it can stand on an axis and on a slider."""

    def number(self, value: float, system: UnitSystem) -> float:
        """The value in the unit that is shown."""

    def unit(self, system: UnitSystem) -> str:
        """That unit; empty for a plain number."""


@dataclass(frozen=True)
class Measured:
    """A quantity of `app.domain.measures`. signed: may lie below zero, like a place along the axle."""

    measure: Measure
    signed: bool = False
    decimals: int | None = None
    control: str = "text"

    def read(self, text: str, system: UnitSystem) -> float:
        typed = text.strip().replace(MINUS, "-")
        if self.signed and typed.startswith("-"):
            return -measures.read(typed[1:], self.measure, system)
        return measures.read(typed, self.measure, system)

    def show(self, value: float, system: UnitSystem) -> str:
        shown = measures.show(value, self.measure, system, decimals=self.decimals)
        return shown.replace("-", MINUS)

    def number(self, value: float, system: UnitSystem) -> float:
        return value / measures.shown_as(self.measure, system).factor

    def unit(self, system: UnitSystem) -> str:
        return measures.shown_as(self.measure, system).unit


_NUMBER_AND_UNIT = re.compile(
    r"(?P<number>[+-]?\s*(?:[0-9]{1,12}(?:\.[0-9]{0,12})?|\.[0-9]{1,12}))\s*(?P<unit>\D.{0,20})?", re.ASCII
)


@dataclass(frozen=True)
class Unit:
    """How a unit is written and typed: inside value = (typed + offset) x factor.

    decimals: None for as many as it takes.
    """

    sign: str
    factor: float = 1.0
    decimals: int | None = 0
    offset: float = 0.0
    spellings: tuple[str, ...] = ()

    def is_called(self, typed: str) -> bool:
        return typed.lower() in {self.sign.lower(), *self.spellings}


@dataclass(frozen=True)
class Quantity:
    """A quantity with its unit in each system, and others that may be typed."""

    metric: Unit
    us: Unit
    others: tuple[Unit, ...] = ()
    signed: bool = False
    control: str = "text"

    def shown_in(self, system: UnitSystem) -> Unit:
        return self.metric if system is UnitSystem.METRIC else self.us

    def read(self, text: str, system: UnitSystem) -> float:
        found = _NUMBER_AND_UNIT.fullmatch(text.strip().replace(MINUS, "-"))
        example = self.show(self.shown_in(system).factor * 10, system)
        if found is None:
            raise UnreadableMeasure(f"“{text.strip()[:20]}” is not a number. Type it like {example}.")
        number = float("".join(found["number"].split()))
        if number < 0 and not self.signed:
            raise UnreadableMeasure(f"A value below zero makes no sense here. Type it like {example}.")
        unit = self._unit(found["unit"], system, example)
        return (number + unit.offset) * unit.factor

    def _unit(self, typed: str | None, system: UnitSystem, example: str) -> Unit:
        if typed is None:
            return self.shown_in(system)
        for unit in (self.metric, self.us, *self.others):
            if unit.is_called(typed.strip()):
                return unit
        known = dict.fromkeys(unit.sign for unit in (self.metric, self.us, *self.others) if unit.sign)
        allowed = f"Use {', '.join(known)}" if known else "Give a plain number"
        raise UnreadableMeasure(f"“{typed.strip()[:20]}” is no unit for this. {allowed}, like {example}.")

    def show(self, value: float, system: UnitSystem) -> str:
        unit, number = self.shown_in(system), self.number(value, system)
        digits = f"{number:.10g}" if unit.decimals is None else f"{number:.{unit.decimals}f}"
        digits = digits.lstrip("-") if float(digits) == 0 else digits.replace("-", MINUS)
        return f"{digits} {unit.sign}".rstrip()

    def number(self, value: float, system: UnitSystem) -> float:
        unit = self.shown_in(system)
        return value / unit.factor - unit.offset

    def unit(self, system: UnitSystem) -> str:
        return self.shown_in(system).sign


def _own(name: str, sign: str | None = None, decimals: int = 0, spellings: Sequence[str] = ()) -> Unit:
    """A unit of `app.compute.units`."""
    known = units.unit_named(name)
    return Unit(sign or name, known.factor, decimals, known.offset, (name.lower(), *spellings))


_OUNCE_INCH_2 = units.unit_named("oz").factor * units.unit_named("in").factor ** 2
_POUND_PER_INCH = units.unit_named("lbf").factor / units.unit_named("in").factor

ANGLE = Measured(Measure.ANGLE)
TURN = Measured(Measure.TURN)
MASS = Measured(Measure.MASS)
UNBALANCE = Measured(Measure.UNBALANCE)
LENGTH = Measured(Measure.LENGTH)
PLACE = Measured(Measure.LENGTH, signed=True)
RUNOUT = Measured(Measure.RUNOUT)
FORCE = Measured(Measure.FORCE)
SIGNED_FORCE = Measured(Measure.FORCE, signed=True)
PRESSURE = Measured(Measure.PRESSURE)
PRESSURE_CHANGE = Measured(Measure.PRESSURE, signed=True)
COUPLE = Quantity(Unit("kg·mm²", 1000.0, 1), Unit("oz·in²", _OUNCE_INCH_2, 1))
SPEED = Quantity(_own("km/h", spellings=("kmh", "kph")), _own("mph", spellings=("mi/h",)), (_own("m/s"),))
TEMPERATURE = Quantity(
    _own("C", "°C", spellings=("deg c",)), _own("F", "°F", spellings=("deg f",)), signed=True
)
FREQUENCY = Quantity(Unit("Hz", decimals=2), Unit("Hz", decimals=2), (Unit("rpm", 1 / 60),))
TURNING = Quantity(Unit("rpm"), Unit("rpm"))
SPRING_RATE = Quantity(Unit("N/mm"), Unit("lbf/in", _POUND_PER_INCH, spellings=("lb/in", "lbs/in")))
FINE_LENGTH = Quantity(_own("mm", decimals=2), _own("in", decimals=2))
FINE_RUNOUT = Quantity(_own("mm", decimals=3), _own("in", decimals=4))
LOAD = Quantity(Unit("kg"), Unit("lb", units.unit_named("lb").factor / units.unit_named("kg").factor))
TURNS_PER_DISTANCE = Quantity(
    Unit("turns/km", decimals=1), Unit("turns/mi", 1 / units.unit_named("mph").factor, 1)
)
RATIO = Quantity(Unit("", decimals=2), Unit("", decimals=2))
NUMBER = Quantity(Unit("", decimals=None), Unit("", decimals=None), signed=True)


@dataclass(frozen=True)
class Whole:
    """A whole number."""

    example: str
    control: str = "text"

    def read(self, text: str, _system: UnitSystem) -> int:
        if not re.fullmatch(r"[0-9]{1,6}", text.strip(), re.ASCII):
            raise UnreadableMeasure(
                f"“{text.strip()[:20]}” is not a whole number. Type it like {self.example}."
            )
        return int(text)

    def show(self, value: int, _system: UnitSystem) -> str:
        return str(value)

    def number(self, value: int, _system: UnitSystem) -> float:
        return value

    def unit(self, _system: UnitSystem) -> str:
        return ""


@dataclass(frozen=True)
class Words:
    """One line of text; the calculation says what it must be."""

    longest: int = 60
    control: str = "text"

    def read(self, text: str, _system: UnitSystem) -> str:
        tidy = " ".join(text.split())
        if fault := fault_in_text(tidy, self.longest):
            raise UnreadableMeasure(fault)
        return tidy

    def show(self, value: str, _system: UnitSystem) -> str:
        return value


@dataclass(frozen=True)
class Day(Words):
    """A day as YYYY-MM-DD, which is how browsers send one."""

    control: str = "date"


@dataclass(frozen=True)
class Choice:
    """One of several, by value; `options` are values with their labels."""

    options: Mapping[str, str]
    control: str = "choice"

    def read(self, text: str, _system: UnitSystem) -> str:
        if text not in self.options:
            raise UnreadableMeasure(f"Choose one of: {', '.join(self.options.values())}.")
        return text

    def show(self, value: str, _system: UnitSystem) -> str:
        return self.options[value]


@dataclass(frozen=True)
class Several:
    """A list of amounts parted by commas, semicolons or line ends. spaced: by spaces too."""

    of: Amount
    spaced: bool = False
    control: str = "area"

    def read(self, text: str, system: UnitSystem) -> list[float]:
        if len(text) > LONGEST_LIST:
            raise UnreadableMeasure(f"Shorten this to {LONGEST_LIST} characters.")
        # A fraction such as 1 1/4 oz has a space within it.
        items = re.split(r"[,;\s]+" if self.spaced else r"[,;\n\t]+", text)
        typed = [item for item in items if item.strip()]
        return [self._one(number, item, system) for number, item in enumerate(typed, 1)]

    def _one(self, number: int, item: str, system: UnitSystem) -> float:
        try:
            return float(self.of.read(item, system))
        except UnreadableMeasure as fault:
            raise UnreadableMeasure(f"Number {number}: {fault}") from fault

    def show(self, value: Sequence[float], system: UnitSystem) -> str:
        return ", ".join(self.of.show(each, system) for each in value)

"""The forms of the bench as data, and how what was typed into one becomes the wire form of an action.

A number is typed in the class's units, or with any unit of its kind; the wire form has inside units.
"""

import dataclasses
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from app.compute import units as factors
from app.domain.bench import ACTIONS, BadAction
from app.domain.measures import Measure, UnitSystem, UnreadableMeasure, read, shown_as
from app.web.bench_words import distance_unit
from app.web.fields import NUMBER

LONGEST_ENTRY = 80
Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Entry:
    """One control of a form. kind: hidden, text or choice. unit: of a number that is typed without one."""

    name: str
    label: str
    kind: str = "text"
    value: str = ""
    options: Options = ()
    unit: str = ""
    hint: str = ""


@dataclass(frozen=True)
class ActionForm:
    """How one action is asked for. buttons: value and label; with one button its value is not sent.

    choice: the field that the pressed button fills in. notes: what to know before it is pressed, a line each.
    """

    do: str
    title: str
    buttons: Options
    entries: tuple[Entry, ...] = ()
    choice: str = ""
    main: bool = False
    notes: tuple[str, ...] = ()
    problems: Mapping[str, str] = dataclasses.field(default_factory=dict)

    @property
    def is_plain(self) -> bool:
        """Only a button: several of them share a row."""
        return not any(entry.kind != "hidden" for entry in self.entries) and not self.problems

    @property
    def problem(self) -> str:
        """What is wrong with no control of its own to stand at."""
        own = {entry.name for entry in self.entries if entry.kind != "hidden"}
        return " ".join(text for name, text in self.problems.items() if name not in own)

    def as_sent(self, sent: Mapping[str, str], problem: "Problem") -> "ActionForm":
        """The form with what was typed still in it, and why it can't be read."""
        entries = tuple(
            dataclasses.replace(entry, value=sent.get(entry.name, entry.value)[:LONGEST_ENTRY])
            for entry in self.entries
        )
        return dataclasses.replace(self, entries=entries, problems={problem.field: problem.message})


@dataclass(frozen=True)
class Problem:
    """Why an action that was sent can't be read: at which form and control, and what to do."""

    do: str
    field: str
    message: str


def _measured(measure: Measure) -> Callable[[str, UnitSystem], Any]:
    def reader(text: str, units: UnitSystem) -> float:
        if not text.strip():
            raise UnreadableMeasure(f"Enter a value, like {shown_as(measure, units).example}.")
        return read(text, measure, units)

    return reader


def _plain_number(example: str) -> Callable[[str, UnitSystem], Any]:
    def reader(text: str, _: UnitSystem) -> float:
        if not NUMBER.fullmatch(text.strip()):
            raise UnreadableMeasure(f"Enter a number, like {example}.")
        return float(text)

    return reader


def _whole(example: str) -> Callable[[str, UnitSystem], Any]:
    def reader(text: str, _: UnitSystem) -> int:
        digits = text.strip().removeprefix("-")
        if not (digits.isascii() and digits.isdigit() and len(digits) < 9):
            raise UnreadableMeasure(f"Enter a whole number, like {example}.")
        return int(text)

    return reader


def _lugs(text: str, _: UnitSystem) -> list[int]:
    parts = text.replace(",", " ").split()
    if not parts or not all(part.isascii() and part.isdigit() and len(part) < 4 for part in parts):
        raise UnreadableMeasure(
            "Tap the lugs in the order of tightening, or type their numbers, like 1 3 5 2 4."
        )
    return [int(part) for part in parts]


def _distance(text: str, units: UnitSystem) -> float:
    unit = distance_unit(units)
    typed = text.lower().removesuffix(unit).strip()
    if not NUMBER.fullmatch(typed):
        raise UnreadableMeasure(f"Enter the way in {unit}, like {'100' if unit == 'km' else '60'}.")
    return float(factors.convert(float(typed), unit, "km"))


_READERS: dict[str, Callable[[str, UnitSystem], Any]] = {
    "angle_deg": _measured(Measure.ANGLE),
    "shoe_deg": _measured(Measure.ANGLE),
    "first_deg": _measured(Measure.ANGLE),
    "second_deg": _measured(Measure.ANGLE),
    "at_deg": _measured(Measure.ANGLE),
    "turn_deg": _measured(Measure.TURN),
    "kpa": _measured(Measure.PRESSURE),
    "distance_mm": _measured(Measure.LENGTH),
    "torque_nm": _measured(Measure.TORQUE),
    "width_in": _plain_number("6.5"),
    "diameter_in": _plain_number("16"),
    "mass_g": _plain_number("20"),
    "number": _whole("1"),
    "weight": _whole("12"),
    "steps": _whole("12"),
    "order": _lugs,
    "after_km": _distance,
    "turned_over": lambda text, _: text == "yes",
    "hood_down": lambda text, _: text == "yes",
}
"""How a field is read; any other is a choice and stays text."""


def wire_form(sent: Mapping[str, str], units: UnitSystem) -> dict[str, Any]:
    """The action that a sent form stands for, as it goes to the bench. Raises BadAction, naming the field."""
    name = sent.get("do", "")
    if name not in ACTIONS:
        raise BadAction("do", "Reload the page and try again.")
    wire: dict[str, Any] = {"do": name}
    for field in dataclasses.fields(ACTIONS[name]):
        if field.default is not dataclasses.MISSING and field.name not in sent:
            continue
        wire[field.name] = _value(field.name, sent, units)
    if name == "fit-weight":
        # One control asks for both: a clip weight has the name of its clip, an adhesive one has none.
        wire["kind"], _, clip = str(sent.get("kind", "")).partition(" ")
        wire["clip"] = clip or None
    return wire


def _value(name: str, sent: Mapping[str, str], units: UnitSystem) -> Any:
    text = sent.get(name, "")
    if len(text) > LONGEST_ENTRY:
        raise BadAction(name, "This is too long.")
    try:
        return _READERS[name](text, units) if name in _READERS else text
    except UnreadableMeasure as fault:
        raise BadAction(name, str(fault)) from fault

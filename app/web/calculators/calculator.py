"""What a calculator is: entries, formula, source of the rule, and what it makes of what was entered."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from app.calculations import registry
from app.domain.measures import UnitSystem
from app.domain.scenario import Caution
from app.drawings.drawing import Drawing
from app.web.calculators.kinds import ANGLE, Amount, Kind


class EntryFault(Exception):  # noqa: N818 -- says what is so
    """What was entered has no answer. entry: its name, or None where it is no single one."""

    def __init__(self, entry: str | None, message: str) -> None:
        super().__init__(message)
        self.entry = entry
        self.message = message


@dataclass(frozen=True)
class Slider:
    """Least, most and step of a slider, in the unit that is shown in each system."""

    metric: tuple[float, float, float]
    us: tuple[float, float, float]


@dataclass(frozen=True)
class Entry:
    """One thing to enter. example: what stands in it at first, the same or one for each system.

    symbol: its letter in the formula. group: the heading that it stands under with its neighbours.
    """

    name: str
    label: str
    kind: Kind
    example: str | Mapping[UnitSystem, str]
    symbol: str = ""
    group: str = ""
    optional: bool = False
    slider: Slider | None = None
    hint: str = ""

    def first(self, system: UnitSystem) -> str:
        return self.example if isinstance(self.example, str) else self.example[system]


@dataclass(frozen=True)
class Entered:
    """The values of all entries by name, None for an optional one left empty."""

    system: UnitSystem
    values: Mapping[str, Any]

    def __getitem__(self, name: str) -> Any:
        return self.values[name]

    def but(self, **values: Any) -> "Entered":
        """The same with other values for some entries."""
        return replace(self, values={**self.values, **values})


@dataclass(frozen=True)
class Result:
    """One line of the answer in both systems; us is None where it reads the same."""

    label: str
    metric: str
    us: str | None = None


@dataclass(frozen=True)
class Table:
    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Outcome:
    """headline: the answer in one sentence. worked: the formula with the numbers in it."""

    headline: str
    results: tuple[Result, ...]
    worked: tuple[str, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    tables: tuple[Table, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Calculator:
    """calculations: their wire names. formula: lines for `lettering.lettered`. source: of the rule.

    models: what is a simplification of our own, each in a sentence.
    """

    slug: str
    title: str
    lead: str
    calculations: tuple[str, ...]
    entries: tuple[Entry, ...]
    formula: tuple[str, ...]
    source: str
    work: Callable[[Entered], Outcome]
    models: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()


def ask(
    calculation: str, entered: Entered, places: Mapping[str, str], fixed: Mapping[str, Any] | None = None
) -> dict[str, Any]:
    """The answer of a calculation. Raises EntryFault at the entry that it refuses.

    places: which entry goes to which place of its input, such as {"planes[0].z_mm": "inboard_z"}.
    fixed: more of the input that nobody enters.
    """
    given = {place: entered[name] for place, name in places.items() if entered[name] is not None}
    answer = registry.answer(calculation, nested({**given, **(fixed or {})}))
    if "error" in answer:
        raise EntryFault(_entry_at(answer["error"]["field"], places), answer["error"]["message"])
    return answer


def nested(flat: Mapping[str, Any]) -> dict[str, Any]:
    """Values by place as one object: {"planes[0].z_mm": 1.0} is {"planes": [{"z_mm": 1.0}]}.

    The items of a list come in order.
    """
    whole: dict[str, Any] = {}
    for place, value in flat.items():
        *way, last = [int(step) if step.isdigit() else step for step in re.findall(r"\w+", place)]
        inside: Any = whole
        for step, following in zip(way, [*way, last][1:], strict=True):
            inside = _inner(inside, step, [] if isinstance(following, int) else {})
        _inner(inside, last, value)
    return whole


def _inner(inside: Any, step: str | int, new: Any) -> Any:
    if isinstance(step, str):
        return inside.setdefault(step, new)
    if step == len(inside):
        inside.append(new)
    return inside[step]


def _entry_at(place: str, places: Mapping[str, str]) -> str | None:
    """The entry at a refused place, at the list around it, or the first one inside it."""
    around = re.sub(r"\[\d+\]$", "", place)
    inside = [name for known, name in places.items() if known.startswith((f"{place}.", f"{place}["))]
    return places.get(place) or places.get(around) or next(iter(inside), None)


def result(label: str, value: float, kind: Kind) -> Result:
    metric, us = kind.show(value, UnitSystem.METRIC), kind.show(value, UnitSystem.US)
    return Result(label, metric, None if us == metric else us)


def vector_result(label: str, vector: Mapping[str, Any], kind: Kind, size: str = "size") -> Result:
    metric, us = (vector_text(vector, kind, system, size) for system in (UnitSystem.METRIC, UnitSystem.US))
    return Result(label, metric, None if us == metric else us)


def vector_text(vector: Mapping[str, Any], kind: Kind, system: UnitSystem, size: str = "size") -> str:
    """`34.2 g at 143°`; without a direction only its size."""
    shown = kind.show(vector[size], system)
    if vector["angle_deg"] is None:
        return f"{shown}, no direction"
    return f"{shown} at {ANGLE.show(vector['angle_deg'], system)}"


def sweep(kind: Amount, slider: Slider, system: UnitSystem, steps: int = 60) -> list[tuple[float, float]]:
    """Equally spaced values along a slider: as shown, and as the calculations want them."""
    least, most, _ = slider.metric if system is UnitSystem.METRIC else slider.us
    shown = [least + (most - least) * step / steps for step in range(steps + 1)]
    return [(each, kind.read(f"{each:.6f}", system)) for each in shown]


def typed_examples(metric: Sequence[str], us: Sequence[str]) -> tuple[dict[UnitSystem, str], ...]:
    """Examples for several entries at once."""
    return tuple({UnitSystem.METRIC: m, UnitSystem.US: u} for m, u in zip(metric, us, strict=True))

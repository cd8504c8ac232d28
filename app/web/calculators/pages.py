"""What the templates of the calculators receive as `page`."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from flask import url_for
from markupsafe import Markup

from app.domain.cautions import ALWAYS, CAUTION_WORDS, CautionWords
from app.domain.measures import UnitSystem, UnreadableMeasure
from app.domain.scenario import Caution
from app.web.calculators.calculator import Calculator, Entered, Entry, EntryFault, Outcome
from app.web.calculators.kinds import Amount
from app.web.calculators.left_out import LEFT_OUT, LeftOut
from app.web.calculators.lettering import lettered
from app.web.fields import made_visible

SYSTEMS = {UnitSystem.US: "US customary", UnitSystem.METRIC: "metric"}
PROJECTOR = "projector"


@dataclass(frozen=True)
class SliderControl:
    """A slider beside a typed entry; it types its value and the suffix: the unit, after a space where due."""

    least: float
    most: float
    step: float
    value: float
    suffix: str


@dataclass(frozen=True)
class Control:
    """One entry as it is drawn: what stands in it and what is wrong with that."""

    entry: Entry
    typed: str
    error: str | None
    slider: SliderControl | None

    @property
    def id(self) -> str:
        return f"entry-{self.entry.name}"

    @property
    def label(self) -> str:
        may_be_empty = self.entry.optional and not self.entry.group  # a heading says it for its group
        return f"{self.entry.label} (may be empty)" if may_be_empty else self.entry.label

    @property
    def options(self) -> list[tuple[str, str]]:
        return list(getattr(self.entry.kind, "options", {}).items())


@dataclass(frozen=True)
class PutIn:
    """A line of the table of the numbers put in; us is None where it reads the same."""

    symbol: Markup
    label: str
    metric: str
    us: str | None


@dataclass(frozen=True)
class CalculatorPage:
    """outcome: None while an entry is at fault; fault: what concerns no single entry."""

    calculator: Calculator
    system: UnitSystem
    projector: bool
    controls: tuple[Control, ...]
    put_in: tuple[PutIn, ...]
    outcome: Outcome | None
    fault: str | None

    @property
    def groups(self) -> list[tuple[str, list[Control]]]:
        """Neighbouring controls under one heading; an empty heading for those without."""
        return [
            (heading, list(members))
            for heading, members in groupby(self.controls, key=lambda control: control.entry.group)
        ]

    @property
    def faulty(self) -> list[Control]:
        return [control for control in self.controls if control.error]

    @property
    def formula(self) -> list[Markup]:
        return [lettered(line) for line in self.calculator.formula]

    @property
    def worked(self) -> list[Markup]:
        return [lettered(line) for line in self.outcome.worked] if self.outcome else []

    @property
    def cautions(self) -> list[CautionWords]:
        return [CAUTION_WORDS[caution] for caution in self.calculator.cautions]

    @property
    def systems(self) -> list[tuple[str, str]]:
        return [(str(system), label) for system, label in SYSTEMS.items()]

    @property
    def other_view(self) -> str:
        """The address of the projector view with these entries, or back from it."""
        entries = {control.entry.name: control.typed for control in self.controls}
        view = {} if self.projector else {"view": PROJECTOR}
        address: dict[str, Any] = {"slug": self.calculator.slug, "units": str(self.system), **entries, **view}
        return url_for("calculators.show", **address)


@dataclass(frozen=True)
class CalculatorsPage:
    groups: Mapping[str, Sequence[Calculator]]
    for_instructor: bool


@dataclass(frozen=True)
class SwitchedOffPage:
    class_names: Sequence[str]


@dataclass(frozen=True)
class LeftOutPage:
    left_out: Mapping[str, Sequence[LeftOut]]
    cautions: Sequence[CautionWords]
    always: str


def calculator_page(
    calculator: Calculator, query: Mapping[str, str], usual_units: UnitSystem, today: str
) -> CalculatorPage:
    """The page for what an address asks: its entries, and the examples where it names none."""
    system = UnitSystem(query["units"]) if query.get("units") in set(UnitSystem) else usual_units
    typed = {
        entry.name: made_visible(query[entry.name]) if entry.name in query else _first(entry, system, today)
        for entry in calculator.entries
    }
    values, errors = _read(calculator, typed, system)
    outcome, fault = None, None
    if not errors:
        try:
            outcome = calculator.work(Entered(system, values))
        except EntryFault as refused:
            errors = {refused.entry: refused.message} if refused.entry else {}
            fault = None if refused.entry else refused.message
    return CalculatorPage(
        calculator=calculator,
        system=system,
        projector=query.get("view") == PROJECTOR,
        controls=tuple(
            _control(entry, typed[entry.name], errors.get(entry.name), values.get(entry.name), system)
            for entry in calculator.entries
        ),
        put_in=tuple(
            _put_in(entry, values[entry.name])
            for entry in calculator.entries
            if values.get(entry.name) is not None
        ),
        outcome=outcome,
        fault=fault,
    )


def _first(entry: Entry, system: UnitSystem, today: str) -> str:
    return today if entry.kind.control == "date" else entry.first(system)


def _read(
    calculator: Calculator, typed: Mapping[str, str], system: UnitSystem
) -> tuple[dict[str, object], dict[str, str]]:
    """The values by entry, and by entry what is wrong with the others."""
    values: dict[str, object] = {}
    errors: dict[str, str] = {}
    for entry in calculator.entries:
        text = typed[entry.name]
        if not text.strip():
            values[entry.name] = None
            if not entry.optional:
                errors[entry.name] = _missing(entry, system)
            continue
        try:
            values[entry.name] = entry.kind.read(text, system)
        except UnreadableMeasure as fault:
            errors[entry.name] = str(fault)
    return values, errors


def _missing(entry: Entry, system: UnitSystem) -> str:
    example = entry.first(system)
    return f"Enter this, like {example}." if example else "Enter this."


def _control(entry: Entry, typed: str, error: str | None, value: object, system: UnitSystem) -> Control:
    return Control(entry, typed, error, _slider(entry, value, system))


def _slider(entry: Entry, value: object, system: UnitSystem) -> SliderControl | None:
    if entry.slider is None or not isinstance(entry.kind, Amount):
        return None
    least, most, step = entry.slider.metric if system is UnitSystem.METRIC else entry.slider.us
    shown = entry.kind.number(value, system) if isinstance(value, int | float) else least
    return SliderControl(
        least, most, step, round(min(max(shown, least), most), 4), _suffix(entry.kind.unit(system))
    )


def _suffix(unit: str) -> str:
    return unit if unit in ("", "°") else f" {unit}"


def _put_in(entry: Entry, value: object) -> PutIn:
    metric, us = (entry.kind.show(value, system) for system in (UnitSystem.METRIC, UnitSystem.US))
    symbol = lettered(f"{{{entry.symbol}}}") if entry.symbol else Markup("")
    label = f"{entry.group}: {entry.label[0].lower()}{entry.label[1:]}" if entry.group else entry.label
    return PutIn(symbol, label, metric, None if us == metric else us)


def left_out_page() -> LeftOutPage:
    return LeftOutPage(LEFT_OUT, [CAUTION_WORDS[caution] for caution in Caution], ALWAYS)

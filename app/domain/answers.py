"""Answers: what a student may send for each kind of task, and what it means.

An answer is kept as it was sent (text, a list of options, positions). Reading it gives a typed answer,
nothing when it is blank, or a message that says what to type instead.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from app.compute.placement import ARRANGEMENTS, POSITIONS
from app.domain.measures import LONGEST_TYPED, Measure, UnitSystem, UnreadableMeasure, read
from app.domain.model import quantity_of
from app.domain.scenario import Scenario
from app.domain.tasks import (
    AnyTask,
    BenchTask,
    ChoiceTask,
    NumberTask,
    OrderTask,
    PlacementTask,
    SeveralTask,
    SpotsTask,
    TextTask,
)
from app.domain.texts import as_shown

Raw = str | list[str] | dict[str, str] | None
"""An answer as sent: text, ticked options, a letter for each position, or a place number for each step."""


class UnreadableAnswer(ValueError):  # noqa: N818 -- says what is so
    """An answer that can't be read; the message tells the student what to do."""


@dataclass(frozen=True)
class NumberAnswer:
    value: float
    typed: str


@dataclass(frozen=True)
class ChoiceAnswer:
    option: str


@dataclass(frozen=True)
class SeveralAnswer:
    """The ids of what is ticked: letters of assemblies, or own options."""

    ticked: frozenset[str]


@dataclass(frozen=True)
class SpotsAnswer:
    """The angles marked [°, 0 <= a < 360), in the order in which they were marked."""

    angles_deg: tuple[float, ...]
    typed: str


@dataclass(frozen=True)
class OrderAnswer:
    """The ids of the steps, the first one first."""

    order: tuple[str, ...]


@dataclass(frozen=True)
class PlacementAnswer:
    """positions: letter by position; arrangement: its row in `app.compute.placement.ARRANGEMENTS`."""

    positions: Mapping[str, str]
    arrangement: int


@dataclass(frozen=True)
class TextAnswer:
    text: str


Answer = (
    NumberAnswer | SpotsAnswer | ChoiceAnswer | SeveralAnswer | OrderAnswer | PlacementAnswer | TextAnswer
)


def read_answer(task: AnyTask, raw: Raw, scenario: Scenario, units: UnitSystem) -> Answer | None:
    """The typed answer, or None when it is blank. Raises UnreadableAnswer; never for a blank."""
    if is_blank(raw):
        return None
    match task:
        case NumberTask():
            return _number(task, raw, units)
        case SpotsTask():
            return _spots(raw, units)
        case ChoiceTask():
            return _choice(task, raw)
        case SeveralTask():
            return _several(task, raw, scenario)
        case OrderTask():
            return _order(task, raw)
        case PlacementTask():
            return _placement(raw, scenario)
        case TextTask():
            return _text(task, raw)
        case BenchTask():
            return None  # what is done at the bench is the answer


def answer_as_shown(raw: Raw) -> Raw:
    """An answer without the signs that can't be shown, of the same shape."""
    match raw:
        case str():
            return as_shown(raw)
        case list():
            return [as_shown(ticked) for ticked in raw]
        case dict():
            return {as_shown(position): as_shown(letter) for position, letter in raw.items()}
        case _:
            return None


def is_blank(raw: Raw) -> bool:
    """Whether nothing is answered: no sign that a page can show, nothing ticked, no place filled."""
    if isinstance(raw, str):
        return not as_shown(raw).strip()
    if isinstance(raw, Mapping):
        return all(is_blank(value) for value in raw.values())
    return not raw


def _number(task: NumberTask, raw: Raw, units: UnitSystem) -> NumberAnswer:
    typed = _plain_text(raw, LONGEST_TYPED)
    try:
        return NumberAnswer(read(typed, quantity_of(task.key).measure, units), typed.strip())
    except UnreadableMeasure as error:
        raise UnreadableAnswer(str(error)) from error


def _choice(task: ChoiceTask, raw: Raw) -> ChoiceAnswer:
    if not isinstance(raw, str) or raw not in {option.id for option in task.options}:
        raise UnreadableAnswer("Choose one of the options shown.")
    return ChoiceAnswer(raw)


def _spots(raw: Raw, units: UnitSystem) -> SpotsAnswer:
    typed = _plain_text(raw, LONGEST_SPOTS)
    parts = [part.strip() for part in re.split(r"[,;\n]", typed) if part.strip()]
    if len(parts) > MOST_SPOTS:
        raise UnreadableAnswer(f"These are {len(parts)} places; mark at most {MOST_SPOTS}.")
    try:
        angles_deg = tuple(read(part, Measure.ANGLE, units) for part in parts)
    except UnreadableMeasure as error:
        raise UnreadableAnswer(f"{error} Write a comma between two places.") from error
    return SpotsAnswer(angles_deg, typed.strip())


LONGEST_SPOTS = 240
MOST_SPOTS = 16


def tickable(task: SeveralTask, scenario: Scenario) -> tuple[tuple[str, str], ...]:
    """What a student may tick: id and words of each own option, or of each assembly and of none."""
    if task.options:
        return tuple((option.id, option.text) for option in task.options)
    assemblies = tuple((letter, f"Assembly {letter}") for letter in scenario.assembly_ids)
    return (*assemblies, (NONE_OF_THEM, "None of them"))


def _several(task: SeveralTask, raw: Raw, scenario: Scenario) -> SeveralAnswer:
    ticked = [raw] if isinstance(raw, str) else raw
    if not isinstance(ticked, list) or not set(ticked) <= {name for name, _ in tickable(task, scenario)}:
        raise UnreadableAnswer(
            "Tick options from the list." if task.options else "Tick assemblies from the list."
        )
    if not task.options and NONE_OF_THEM in ticked and len(set(ticked)) > 1:
        raise UnreadableAnswer("Tick either assemblies or “none of them”, not both.")
    return SeveralAnswer(frozenset(ticked) - ({NONE_OF_THEM} if not task.options else set()))


NONE_OF_THEM = "none"


def _order(task: OrderTask, raw: Raw) -> OrderAnswer:
    if not isinstance(raw, dict) or not set(raw) <= set(task.step_ids):
        raise UnreadableAnswer("Give each step its place.")
    count = len(task.steps)
    by_place: dict[int, str] = {}
    for name in task.step_ids:
        typed, step = (raw.get(name) or "").strip(), task.step(name).text
        if not typed:
            raise UnreadableAnswer(f"Give “{step}” a place too.")
        if not PLACE.fullmatch(typed) or not 1 <= int(typed) <= count:
            raise UnreadableAnswer(f"“{typed[:20]}” is no place. Type a number from 1 to {count}, each once.")
        if (other := by_place.get(int(typed))) is not None:
            raise UnreadableAnswer(
                f"Place {int(typed)} is given twice: to “{task.step(other).text}” and to “{step}”."
            )
        by_place[int(typed)] = name
    return OrderAnswer(tuple(by_place[place] for place in sorted(by_place)))


def listed_order(task: OrderTask, raw: Raw, seed: int) -> tuple[str, ...]:
    """The ids of the steps as they stand in the student's list: as answered, or shuffled at first."""
    try:
        return _order(task, raw).order
    except UnreadableAnswer:
        return task.shown_order(seed)


PLACE = re.compile(r"\d{1,2}", re.ASCII)


def _placement(raw: Raw, scenario: Scenario) -> PlacementAnswer:
    if not isinstance(raw, dict) or not set(raw) <= set(POSITIONS):
        raise UnreadableAnswer("Choose an assembly for each position.")
    positions = {position: raw.get(position) or "" for position in POSITIONS}
    empty = [position for position, letter in positions.items() if not letter]
    if empty:
        raise UnreadableAnswer(f"Choose an assembly for {', '.join(empty)} too.")
    letters = list(positions.values())
    if not set(letters) <= set(scenario.assembly_ids):
        raise UnreadableAnswer("Choose assemblies from the list.")
    twice = sorted({letter for letter in letters if letters.count(letter) > 1})
    if twice:
        raise UnreadableAnswer(
            f"Assembly {', '.join(twice)} stands at two positions. Each assembly goes on once."
        )
    indices = [scenario.assembly_ids.index(letter) for letter in letters]
    arrangement = next(row for row, order in enumerate(ARRANGEMENTS.tolist()) if order == indices)
    return PlacementAnswer(positions, arrangement)


def positions_of(arrangement: int, scenario: Scenario) -> dict[str, str]:
    """The letter at each position of one row of ARRANGEMENTS."""
    return {
        position: scenario.assembly_ids[index]
        for position, index in zip(POSITIONS, ARRANGEMENTS[arrangement].tolist(), strict=True)
    }


def _text(task: TextTask, raw: Raw) -> TextAnswer:
    return TextAnswer(_plain_text(raw, task.longest).strip())


def _plain_text(raw: Any, longest: int) -> str:
    if not isinstance(raw, str):
        raise UnreadableAnswer("Type your answer as text.")
    text = as_shown(raw)
    if len(text) > longest:
        raise UnreadableAnswer(
            f"This is {len(text)} characters long; at most {longest} fit here. Shorten it."
        )
    return text


def typed_kind(task: AnyTask) -> str:
    """How the answer is sent: text, spots, choice, choices, order or placement; bench: not at all."""
    kinds = {
        SpotsTask: "spots",
        ChoiceTask: "choice",
        SeveralTask: "choices",
        OrderTask: "order",
        PlacementTask: "placement",
        BenchTask: "bench",
    }
    return kinds.get(type(task), "text")


def measure_of(task: AnyTask) -> Measure | None:
    """The measure of a number task; None for other kinds."""
    return quantity_of(task.key).measure if isinstance(task, NumberTask) else None

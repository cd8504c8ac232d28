"""Judging what is ticked and what is marked on a drawing: each one too many takes a right one away."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.compute import angles
from app.domain.answers import SeveralAnswer, SpotsAnswer
from app.domain.marking.mark import Judgement
from app.domain.marking.words import angles_text, right_ticks, ticks_text
from app.domain.measures import Measure
from app.domain.model import Model
from app.domain.tasks import SeveralTask, SpotsTask
from app.domain.variants import Variant
from app.domain.well_posed import within
from app.domain.wrong_turns import wrong_turns
from app.domain.wrong_turns.rule import WrongTurn


def _share(found: int, too_many: int, asked: int) -> float:
    return max(0, found - too_many) / asked if asked else 0.0


def judge_several(task: SeveralTask, answer: SeveralAnswer, variant: Variant, model: Model) -> Judgement:
    """All right ticks and no other earn everything."""
    right = right_ticks(task, variant, model)
    if answer.ticked == right:
        return Judgement(1.0, f"Right: {ticks_text(task, right)}.")
    missed, extra = right - answer.ticked, answer.ticked - right
    parts = []
    too = " too" if right - missed else ""
    if missed:
        parts.append(f"{_named(task, missed)} {'belongs' if len(missed) == 1 else 'belong'} to it{too}")
    if extra:
        verb = "does" if len(extra) == 1 else "do"
        parts.append(f"{_named(task, extra)} {verb} not{'' if missed else ' belong to it'}")
    share = _share(len(right - missed), len(extra), len(right))
    sum_of_it = _count(len(right - missed), len(extra), len(right), "ticked") if share else ""
    reasons = [each.because for each in task.options if each.because and each.id in missed | extra]
    return Judgement(share, " ".join(["; ".join(parts) + ".", *reasons, sum_of_it]).strip())


def _named(task: SeveralTask, ticks: frozenset[str]) -> str:
    if not task.options:
        return ticks_text(task, ticks)
    return ", ".join(f"“{option.text}”" for option in task.options if option.id in ticks)


def _count(found: int, too_many: int, asked: int, done: str) -> str:
    taken = f", {too_many} too many taken off" if too_many else ""
    return f"{found} of {asked} {done}{taken}."


@dataclass(frozen=True)
class _Marks:
    """The right places that were found and missed, and the marks that are none of them [°]."""

    found: list[float]
    missed: list[float]
    extra: list[float]


def judge_spots(task: SpotsTask, answer: SpotsAnswer, variant: Variant, model: Model) -> Judgement:
    """Each place within the tolerance of a mark is found, around the circle; one mark finds one place."""
    places = [float(model.value(key)) for key in task.keys]
    marks = _paired(task, places, answer.angles_deg)
    allowed = f"within {task.tolerance.absolute:g}° of {angles_text(sorted(places), variant)}"
    if not marks.missed and not marks.extra:
        return Judgement(1.0, f"Right: {allowed}.")
    turns = [_turn_of(mark, task, model) for mark in marks.extra]
    parts = [_count(len(marks.found), len(marks.extra), len(places), "found")]
    if marks.missed:
        parts.append(f"Missing: {angles_text(sorted(marks.missed), variant)}.")
    for mark, turn in zip(marks.extra, turns, strict=True):
        parts.append(_fault_of(mark, turn, places, variant))
    share = _share(len(marks.found), len(marks.extra), len(places))
    return Judgement(share, " ".join(parts), next((turn.id for turn in turns if turn), None))


def _paired(task: SpotsTask, places: Sequence[float], marked: Sequence[float]) -> _Marks:
    marks = _Marks([], [], list(marked))
    for place in places:
        near = [each for each in marks.extra if bool(within(Measure.ANGLE, task.tolerance, place, each))]
        if near:
            marks.extra.remove(min(near, key=lambda each: abs(float(angles.difference(each, place)))))
        (marks.found if near else marks.missed).append(place)
    return marks


def _turn_of(mark: float, task: SpotsTask, model: Model) -> WrongTurn | None:
    for key in task.keys:
        for turn, wrong in wrong_turns(model, key):
            if bool(within(Measure.ANGLE, task.tolerance, float(wrong), mark)):
                return turn
    return None


def _fault_of(mark: float, turn: WrongTurn | None, places: Sequence[float], variant: Variant) -> str:
    yours = angles_text([mark], variant)
    if turn is not None:
        return f"Your {yours}: {turn.words}"
    nearest = min(places, key=lambda place: abs(float(angles.difference(mark, place))))
    off = float(angles.difference(mark, nearest))
    way = "clockwise" if off > 0 else "counterclockwise"
    return f"Your {yours} is {abs(off):.0f}° {way} of {angles_text([nearest], variant)}."

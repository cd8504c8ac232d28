"""What the template of an attempt receives as `page`."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from werkzeug.datastructures import MultiDict

from app.domain.answers import Raw
from app.domain.marking import Verdict, option_text, right_answer_text
from app.domain.standing import deduction_words
from app.domain.tasks import AnyTask, ChoiceTask, OrderTask, SeveralTask, TextTask
from app.services.bench import Run
from app.services.errors import NotFound
from app.services.labs import AttemptRow, Lab
from app.services.review import AttemptReview, EventKind, EventRow
from app.web.bench_log import Line, log_of
from app.web.lab_sheet import MarkedAnswer, Part, Question, marked_parts, parts_of
from app.web.marked import score_text
from app.web.teaching.attempt_forms import text_mark_form

Sent = Mapping[str, MultiDict[str, str]]
"""The entries of a form that marks by hand, by task, to be shown again."""

NOT_RIGHT = (Verdict.WRONG, Verdict.PART)

HANDED_IN, HINT_SHOWN = "handed in", "(a hint was shown)"
"""What a saved entry that is no answer says."""


@dataclass(frozen=True)
class Answered:
    """One task with what was answered.

    typed: the answer as it was sent, in words. key: the right answer, or the rubric of an answer in words.
    marked: None while the attempt is open. form: to mark it by hand, None where the machine marks.
    """

    question: Question
    typed: str
    key: str
    marked: MarkedAnswer | None
    form: Any


@dataclass(frozen=True)
class AnsweredPart:
    part: Part
    answers: tuple[Answered, ...]


@dataclass(frozen=True)
class SavedEntry:
    """One saved event in words."""

    event: EventRow
    what: str
    typed: str


@dataclass(frozen=True)
class AttemptPage:
    review: AttemptReview
    parts: tuple[AnsweredPart, ...]
    entries: tuple[SavedEntry, ...]
    bench: tuple[Line, ...]
    """What was done at the bench, the first action first."""

    @property
    def lab(self) -> Lab:
        return self.review.result.lab

    @property
    def score(self) -> str:
        return score_text(self.review.result) if self.review.handed_in else "not handed in yet"

    @property
    def deduction(self) -> str:
        """What being late cost this attempt, in words; empty when it cost nothing."""
        return deduction_words(self.lab.rules, self.review.result.scored)

    @property
    def to_look_at(self) -> list[tuple[str, list[MarkedAnswer]]]:
        """What waits for a mark by hand, and what is not fully right, to be reached at once."""
        marked = [answer.marked for part in self.parts for answer in part.answers if answer.marked]
        groups = [
            ("Waiting for your mark", [each for each in marked if each.mark.verdict is Verdict.WAITING]),
            ("Not right, or right in part", [each for each in marked if each.mark.verdict in NOT_RIGHT]),
            ("Not answered", [each for each in marked if each.mark.verdict is Verdict.BLANK]),
        ]
        return [(title, answers) for title, answers in groups if answers]

    @property
    def others(self) -> list[AttemptRow]:
        return [row for row in self.review.others if row.public_id != self.review.attempt_id]


def attempt_page(review: AttemptReview, bench: Run | None, sent: Sent | None = None) -> AttemptPage:
    """The attempt with its parts as the student had them, each answer, its mark and every saved entry.

    bench: what was done there, None for a lab without one.
    """
    lab = review.result.lab
    lines = () if bench is None else log_of(lab.variant, bench, with_rules=True)[::-1]
    done = {line.done.number: line.words for line in lines}
    parts_marked = marked_parts(review.result, solutions=True)
    marked = {answer.question.id: answer for part in parts_marked for answer in part.answers}
    parts = tuple(
        AnsweredPart(
            part,
            tuple(
                _answered(
                    question,
                    lab,
                    marked.get(question.id),
                    review.result.by_criterion.get(question.id, {}),
                    sent or {},
                )
                for question in part.questions
            ),
        )
        for part in parts_of(lab.variant, lab.answers, lab.problems)
    )
    entries = tuple(_entry(event, lab, done) for event in review.events)
    return AttemptPage(review, parts, entries, lines)


def answer_in_words(page: AttemptPage, task_id: str) -> Answered:
    """The answer of a task that is marked by hand. Raises NotFound."""
    for part in page.parts:
        for answer in part.answers:
            if answer.question.id == task_id and answer.form is not None:
                return answer
    raise NotFound("There is no handed-in text answer to mark here.")


def _answered(
    question: Question,
    lab: Lab,
    marked: MarkedAnswer | None,
    by_criterion: Mapping[str, float],
    sent: Sent,
) -> Answered:
    task = lab.variant.scenario.task(question.id)
    if task is None:
        raise LookupError(f"{question.id} is no task of its own lab")
    return Answered(
        question=question,
        typed=in_words(question.typed, task),
        key=task.rubric_in_words if isinstance(task, TextTask) else right_answer_text(task, lab.variant),
        marked=marked,
        form=_form(task, marked, by_criterion, sent) if isinstance(task, TextTask) and marked else None,
    )


def _form(task: TextTask, marked: MarkedAnswer, by_criterion: Mapping[str, float], sent: Sent) -> Any:
    """Points are given before what hints cost is taken off."""
    mark = marked.mark
    return text_mark_form(
        task,
        sent.get(task.id),
        points=None if mark.verdict is Verdict.WAITING else mark.points + mark.taken_off,
        by_criterion=by_criterion,
        comment=marked.comment,
    )


def _entry(event: EventRow, lab: Lab, done: Mapping[int, str]) -> SavedEntry:
    """done: the actions at the bench in words, by the numbers of their events."""
    if event.number in done:
        return SavedEntry(event, "At the bench", done[event.number])
    task = lab.variant.scenario.task(event.task_id) if event.task_id else None
    if task is None:
        return SavedEntry(event, HANDED_IN if event.kind is EventKind.HAND_IN else event.kind, "")
    typed = HINT_SHOWN if event.kind is EventKind.HINT else in_words(event.answer, task)
    return SavedEntry(event, task.title, typed)


def in_words(raw: Raw, task: AnyTask) -> str:
    """An answer as it was sent, on one line; options and steps by their words."""
    match task, raw:
        case ChoiceTask(), str():
            return option_text(task, raw) if raw else ""
        case SeveralTask(), list():
            return ", ".join(_words_of_ticks(task).get(ticked, ticked) for ticked in raw)
        case OrderTask(), dict():
            placed = sorted(((place, name) for name, place in raw.items() if place), key=_by_number)
            return "; ".join(f"{place} {_words_of_steps(task).get(name, name)}" for place, name in placed)
        case _, dict():
            return ", ".join(f"{place} {letter}" for place, letter in raw.items() if letter)
        case _, list():
            return ", ".join(raw)
        case _, str():
            return raw
    return ""


def _words_of_ticks(task: SeveralTask) -> dict[str, str]:
    return {option.id: option.text for option in task.options}


def _words_of_steps(task: OrderTask) -> dict[str, str]:
    return {step.id: step.text for step in task.steps}


def _by_number(placed: tuple[str, str]) -> tuple[int, str]:
    """2 before 10; what is no number stands first."""
    return (int(placed[0]) if placed[0].isascii() and placed[0].isdigit() else 0, placed[0])

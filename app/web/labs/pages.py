"""What the templates of `labs/` receive as `page`."""

import math
from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from app.domain.answers import Raw, is_blank, typed_kind
from app.domain.cautions import CautionWords
from app.domain.standing import State, days_late, deduction_words, duration_words, kept_percent
from app.domain.tasks import AnyTask
from app.drawings.measured.job_card import JobCard, job_card
from app.services.due import AssignmentForStudent, DueRow
from app.services.labs import Lab, Result
from app.services.own_reflections import OwnSheet
from app.web import current
from app.web.formatting import number
from app.web.forms import SendForm
from app.web.lab_sheet import (
    MarkedPart,
    Part,
    Question,
    asked,
    cautions_of,
    marked_parts,
    parts_of,
)
from app.web.marked import score_text

DONE_WITH = {State.HANDED_IN, State.LATE, State.MISSING, State.EXCUSED}


@dataclass(frozen=True)
class HomePage:
    rows: list[DueRow]
    sheets: tuple[OwnSheet, ...]
    """Reflection sheets to write or that came back."""

    @property
    def to_work_on(self) -> list[DueRow]:
        return [row for row in self.rows if row.state not in DONE_WITH]

    @property
    def done_with(self) -> list[DueRow]:
        return [row for row in self.rows if row.state in DONE_WITH]


@dataclass(frozen=True)
class AssignmentPage:
    """What a student is told before starting, and the attempts so far."""

    given: AssignmentForStudent
    form: SendForm

    @property
    def due(self) -> DueRow:
        return self.given.due

    @property
    def cautions(self) -> tuple[CautionWords, ...]:
        return cautions_of(self.given.scenario)

    @property
    def summary(self) -> str:
        """A file wraps its lines, a page does not."""
        return " ".join(self.given.scenario.summary.split())

    @property
    def start_label(self) -> str:
        """A timed lab says on its button that the clock starts."""
        label = "Try again with new numbers" if self.due.attempts_used else "Start the lab"
        limit = self.due.rules.time_allowed
        return label if limit is None else f"{label}: {duration_words(limit)} from now"


def seconds_left(ends_at: datetime | None) -> int:
    """Of an open lab that has an end, on the server's clock; 0 of any other."""
    return 0 if ends_at is None else math.floor((ends_at - current.now()).total_seconds())


@dataclass(frozen=True)
class LabPage:
    """The lab as it is worked. Holds no key.

    answers: as saved, or as just sent. unreadable: what to mend, by task, beside its control. problems: for
    the summary of faults: where to go and what to do there.
    """

    lab: Lab
    form: SendForm
    answers: Mapping[str, Raw]
    unreadable: Mapping[str, str]
    problems: list[tuple[str, str]]

    @cached_property
    def card(self) -> JobCard:
        return job_card(self.lab.variant)

    @property
    def cautions(self) -> tuple[CautionWords, ...]:
        return cautions_of(self.lab.variant.scenario)

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        return parts_of(self.lab.variant, self.answers, self.unreadable, self.lab.hints)

    @property
    def numbers_key(self) -> tuple[Hashable, ...]:
        """What the measurements follow from: an attempt has its own numbers, and keeps them."""
        return self.lab.attempt_id, self.lab.version_id

    @property
    def sheet_key(self) -> tuple[Hashable, ...]:
        """All that the sheet shows beside its numbers."""
        lab = self.lab
        said = repr((self.answers, self.unreadable, lab.hints))
        return *self.numbers_key, lab.put_away, lab.actions, said

    @property
    def seconds_left(self) -> int:
        return seconds_left(self.lab.ends_at)

    @property
    def asked(self) -> int:
        """How many questions are answered by typing or choosing."""
        return len(_typed_tasks(self.lab))

    @property
    def answered(self) -> int:
        return sum(not is_blank(self.answers.get(task.id)) for task in _typed_tasks(self.lab))


def _typed_tasks(lab: Lab) -> list[AnyTask]:
    return [task for task in lab.variant.scenario.tasks if typed_kind(task) != "bench"]


def lab_page(
    lab: Lab,
    form: SendForm,
    *,
    answers: Mapping[str, Raw] | None = None,
    problems: Mapping[str, str] | None = None,
) -> LabPage:
    """answers: as just sent, in place of those that are saved. problems: for a summary over the page."""
    typed = lab.answers if answers is None else answers
    unreadable = lab.problems if problems is None else problems
    return LabPage(lab, form, typed, unreadable, _summary(lab, typed, problems or {}))


def _summary(lab: Lab, answers: Mapping[str, Raw], problems: Mapping[str, str]) -> list[tuple[str, str]]:
    if not problems:
        return []
    parts = parts_of(lab.variant, answers, problems)
    questions = {question.id: question for part in parts for question in part.questions}
    return [_fault(questions.get(name), problem) for name, problem in problems.items()]


def _fault(question: Question | None, problem: str) -> tuple[str, str]:
    if question is None:
        return "", problem
    return question.first_control, f"{question.number} {question.title}: {problem}"


@dataclass(frozen=True)
class HandInPage:
    """The last look before handing in."""

    lab: Lab
    form: SendForm
    now: datetime

    @cached_property
    def questions(self) -> list[Question]:
        parts = parts_of(self.lab.variant, self.lab.answers, self.lab.problems)
        return asked(parts)

    @property
    def blank(self) -> list[Question]:
        return [question for question in self.questions if not question.answered]

    @property
    def unreadable(self) -> list[Question]:
        return [question for question in self.questions if question.problem]

    @property
    def has_bench(self) -> bool:
        return self.lab.variant.scenario.bench is not None

    @property
    def seconds_left(self) -> int:
        return seconds_left(self.lab.ends_at)

    @property
    def late(self) -> bool:
        return self.now > self.lab.due_at

    @property
    def late_cost(self) -> str:
        """What being late costs if it is handed in now, in words; empty when it costs nothing."""
        rules = self.lab.rules
        kept = 100.0 if rules.practice else kept_percent(rules, days_late(self.now, rules.due_at))
        return "" if kept == 100 else f"It keeps {kept:g} % of its points."


@dataclass(frozen=True)
class ResultPage:
    result: Result
    given: AssignmentForStudent
    form: SendForm
    shows_solutions: bool

    @property
    def lab(self) -> Lab:
        return self.result.lab

    @property
    def due(self) -> DueRow:
        return self.given.due

    @cached_property
    def parts(self) -> tuple[MarkedPart, ...]:
        return marked_parts(self.result, solutions=self.shows_solutions)

    @property
    def score(self) -> str:
        return score_text(self.result)

    @property
    def deduction(self) -> str:
        """What being late cost this attempt, in words; empty when it cost nothing."""
        return deduction_words(self.lab.rules, self.result.scored)

    @property
    def what_counts(self) -> str:
        counted = self.due.counted
        if counted is None or self.due.rules.practice:
            return "practice: not in the gradebook" if counted else "this attempt"
        if self.lab.number not in counted.numbers:
            return f"attempt {counted.numbers[0]}, with {number(counted.points)}"
        if len(counted.numbers) > 1:
            return f"the average of {len(counted.numbers)}: {number(counted.points)}"
        return "this attempt"

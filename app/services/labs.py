"""An attempt with its variant, answers and marks, for the use cases of students and instructors alike."""

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from enum import StrEnum
from typing import Any

from app.domain.answers import Raw, UnreadableAnswer, answer_as_shown, read_answer
from app.domain.marking import Mark, Verdict
from app.domain.standing import Rules, Scored, Try, scored
from app.domain.variants import Variant
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.records import AssignmentRecord, AttemptRecord, EventRecord, MarkRecord, OwnAttemptRecord
from app.services.versions import variant_of
from app.store import own_attempts
from app.store.choices import AttemptState, EventKind, MarkSource
from app.store.regrading import add_marks

PUT_AWAY = (
    "This class is put away: its work can be read, and no longer changed. Ask your instructor to open it."
)


class EndedBy(StrEnum):
    """What made the server hand an attempt in; kept in the event of its hand-in."""

    TIME_LIMIT = "time limit"
    CLOSING = "closing"


@dataclass(frozen=True)
class Lab:
    """An attempt as the student works it. problems: what to mend, by task, where an answer can't be read.

    rules: as they are for this student. put_away: its class is, so it can only be read. ended_by: what closed
    it when the server handed it in.
    """

    attempt_id: str
    assignment_id: str
    title: str
    class_name: str
    time_zone: str
    number: int
    rules: Rules
    started_at: datetime
    handed_in_at: datetime | None
    variant: Variant
    answers: Mapping[str, Raw]
    problems: Mapping[str, str]
    saved_at: datetime | None
    put_away: bool
    ended_by: EndedBy | None = None
    actions: int = 0
    """Done at the bench so far."""
    hints: Mapping[str, int] = field(default_factory=dict)
    """How many were shown, by task."""
    version_id: str = ""
    """Whose images its texts show; empty for a lab that no version stands behind."""

    @property
    def due_at(self) -> datetime:
        return self.rules.due_at

    @property
    def attempts_allowed(self) -> int | None:
        return self.rules.attempts_allowed

    @property
    def ends_at(self) -> datetime | None:
        """When an open lab is over and handed in as it is; None: never."""
        return None if self.handed_in_at else self.rules.ends_at(self.started_at)

    @property
    def late(self) -> bool:
        return self.handed_in_at is not None and self.handed_in_at > self.due_at

    @property
    def receipt(self) -> str | None:
        """A short code of this hand-in, the same for the student and the instructor, as "4F2A-91C0"."""
        if self.handed_in_at is None:
            return None
        of_this = f"{self.attempt_id} {self.handed_in_at.astimezone(UTC):%Y-%m-%dT%H:%M:%S.%f}"
        code = hashlib.sha256(of_this.encode()).hexdigest()[:8].upper()
        return f"{code[:4]}-{code[4:]}"


@dataclass(frozen=True)
class Result:
    """A handed-in lab with its standing marks in task order. waiting: how many the instructor still marks."""

    lab: Lab
    marks: tuple[Mark, ...]
    comments: Mapping[str, str]
    by_criterion: Mapping[str, Mapping[str, float]]
    """The points of each criterion of a rubric, by task, where a mark by hand has such."""
    points: float
    out_of: float
    waiting: int

    @property
    def scored(self) -> Scored:
        """These points with the late deduction."""
        lab = self.lab
        one = Try(lab.number, lab.started_at, lab.handed_in_at, self.points, self.out_of)
        return scored(lab.rules, one) or Scored(lab.number, self.points, self.points, self.out_of, 0, 100.0)


@dataclass(frozen=True)
class AttemptRow:
    """points: of its marks, before any late deduction."""

    public_id: str
    number: int
    started_at: datetime
    handed_in_at: datetime | None
    points: float | None
    out_of: float | None
    late: bool


def attempt_row(row: AttemptRecord, rules: Rules) -> AttemptRow:
    return AttemptRow(
        public_id=row.public_id,
        number=row.number,
        started_at=row.started_at,
        handed_in_at=row.handed_in_at,
        points=row.points,
        out_of=row.out_of,
        late=row.handed_in_at is not None and row.handed_in_at > rules.due_at,
    )


def is_put_away(assignment: AssignmentRecord) -> bool:
    return assignment.school_class.archived_at is not None


def refuse_when_put_away(assignment: AssignmentRecord, field: str) -> None:
    """Raises Refused: the work in an archived class stays as it is. Call it inside the write."""
    if is_put_away(assignment):
        raise Refused(field, PUT_AWAY)


def lab_of(row: AttemptRecord, events: Sequence[EventRecord], rules: Rules) -> Lab:
    """The lab of an attempt and its events, under its student's rules."""
    variant = variant_of_attempt(row)
    answers = answers_in(events)
    assignment = row.assignment
    return Lab(
        attempt_id=row.public_id,
        assignment_id=assignment.public_id,
        title=assignment.title,
        class_name=assignment.school_class.name,
        time_zone=assignment.school_class.time_zone,
        number=row.number,
        rules=rules,
        started_at=row.started_at,
        handed_in_at=row.handed_in_at if row.state is AttemptState.HANDED_IN else None,
        variant=variant,
        answers=answers,
        problems=problems_of(variant, answers),
        saved_at=max((event.at for event in events if event.kind is EventKind.ANSWER), default=None),
        put_away=is_put_away(assignment),
        ended_by=_ended_by(events),
        actions=sum(event.kind is EventKind.ACTION for event in events),
        hints=hints_in(events),
        version_id=row.scenario_version.public_id,
    )


def _ended_by(events: Iterable[EventRecord]) -> EndedBy | None:
    """What handed it in when it wasn't the student."""
    said = next((event.body.get("by") for event in events if event.kind is EventKind.HAND_IN), None)
    return EndedBy(said) if said else None


def own_attempt(session: Any, attempt_id: str, student: Person) -> OwnAttemptRecord:
    """The row of a student's own attempt. Raises NotFound."""
    row: OwnAttemptRecord | None = own_attempts.own_attempt(session, attempt_id, student.id)
    if row is None:
        raise NotFound("There is no such lab among yours.")
    return row


def variant_of_attempt(row: AttemptRecord) -> Variant:
    return variant_of(
        row.scenario_version, seed=int(row.seed), units=row.units, drawing_version=row.drawing_version
    )


def answers_in(events: Iterable[EventRecord]) -> dict[str, Raw]:
    """The newest answer to each task, as it can be shown: what replaying the saved answers leaves."""
    return newest_answers(event.body for event in events if event.kind is EventKind.ANSWER)


def newest_answers(bodies: Iterable[Mapping[str, Any]]) -> dict[str, Raw]:
    """The same of what the events of answers say."""
    return {body["task"]: answer_as_shown(body["answer"]) for body in bodies}


def hints_in(events: Iterable[EventRecord]) -> dict[str, int]:
    """How many hints were shown, by task."""
    return dict(Counter(event.body["task"] for event in events if event.kind is EventKind.HINT))


def problems_of(variant: Variant, answers: Mapping[str, Raw]) -> dict[str, str]:
    """What to mend, by task, for answers that can't be read."""
    problems = {}
    for task in variant.scenario.tasks:
        if task.id not in answers:
            continue
        try:
            read_answer(task, answers[task.id], variant.scenario, variant.units)
        except UnreadableAnswer as error:
            problems[task.id] = str(error)
    return problems


def result_of(
    row: AttemptRecord, events: Sequence[EventRecord], marks: Sequence[MarkRecord], rules: Rules
) -> Result:
    """The result of a handed-in attempt."""
    lab = lab_of(row, events, rules)
    by_task = {mark.task_id: mark for mark in marks}
    standing = [by_task[task.id] for task in lab.variant.scenario.tasks if task.id in by_task]
    return Result(
        lab=lab,
        marks=tuple(mark_of(mark) for mark in standing),
        comments={mark.task_id: mark.detail.get("comment", "") for mark in standing},
        by_criterion={mark.task_id: mark.detail.get("criteria", {}) for mark in standing},
        points=sum(mark.points for mark in standing),
        out_of=sum(mark.out_of for mark in standing),
        waiting=sum(mark.verdict == Verdict.WAITING for mark in standing),
    )


def store_first_marks(session: Any, row: AttemptRecord, marks: Iterable[Mark], *, now: datetime) -> None:
    """Keep what the machine gave an attempt that had no marks yet, in one statement: a whole class hands in
    when the bell rings."""
    of_attempt = {"attempt_id": row.id, "made_at": now, "superseded_at": None}
    add_marks(session, [machine_mark(mark) | of_attempt for mark in marks])


def machine_mark(mark: Mark) -> dict[str, Any]:
    """The columns of a mark that the machine made."""
    return {
        "task_id": mark.task_id,
        "source": MarkSource.MACHINE,
        "points": mark.points,
        "out_of": mark.out_of,
        "verdict": mark.verdict,
        "made_by": None,
        "detail": detail_of(mark),
    }


def detail_of(mark: Mark) -> dict[str, Any]:
    """What a stored mark says beside its points and its verdict."""
    return {
        "reason": mark.reason,
        "your_answer": mark.your_answer,
        "right_answer": mark.right_answer,
        "wrong_turn": mark.wrong_turn,
        "carried": mark.carried,
        "taken_off": mark.taken_off,
    }


def mark_of(row: MarkRecord) -> Mark:
    """A stored mark."""
    detail = row.detail
    return Mark(
        task_id=row.task_id,
        verdict=Verdict(row.verdict),
        points=row.points,
        out_of=row.out_of,
        reason=detail.get("reason", ""),
        your_answer=detail.get("your_answer", ""),
        right_answer=detail.get("right_answer", ""),
        wrong_turn=detail.get("wrong_turn"),
        carried=detail.get("carried", False),
        taken_off=detail.get("taken_off", 0.0),
    )

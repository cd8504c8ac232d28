"""What an instructor may set, what follows for the class, and exceptions for single students."""

from datetime import datetime, timedelta
from typing import Any

import pytest

from app.domain.standing import Counts, Exceptional, Solutions, State
from app.services import assignments, classes, due, exceptions, practice
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.labs import Lab
from app.store.db import Database
from tests import factories
from tests.services import lessons
from tests.services.lessons import Lesson, lesson, right_answers

DAY = timedelta(days=1)


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


def usual(now: datetime, **rules: Any) -> dict[str, Any]:
    return {"title": "Lab", "opens_at": now, "due_at": now + DAY, "attempts_allowed": 2} | rules


def assign(database: Database, given: Lesson, now: datetime, **rules: Any) -> str:
    return assignments.assign(
        database,
        class_id=given.class_id,
        instructor=given.instructor,
        scenario_id=given.scenario_id,
        now=now,
        **usual(now, **rules),
    )


def change(database: Database, given: Lesson, assignment_id: str, now: datetime, **rules: Any) -> None:
    assignments.change(
        database,
        assignment_id=assignment_id,
        instructor=given.instructor,
        now=now,
        **usual(now, **rules),
    )


def begin(database: Database, assignment_id: str, student: Person, now: datetime) -> Lab:
    attempt_id = practice.start_attempt(database, assignment_id=assignment_id, student=student, now=now)
    return practice.lab(database, attempt_id=attempt_id, student=student)


def hand_in(database: Database, assignment_id: str, student: Person, now: datetime, tasks: int) -> None:
    """An attempt with the first tasks right and the rest blank."""
    lab = begin(database, assignment_id, student, now)
    answers = dict(list(right_answers(lab.variant).items())[:tasks])
    lessons.hand_in(database, attempt_id=lab.attempt_id, student=student, answers=answers, now=now)


def stands(database: Database, assignment_id: str, student: Person, now: datetime) -> due.DueRow:
    rows = due.due_list(database, student=student, now=now)
    return next(row for row in rows if row.assignment_id == assignment_id)


def test_every_rule_is_kept_and_read_back(database: Database, given: Lesson, now: datetime) -> None:
    rules = {
        "closes_at": now + 2 * DAY,
        "counts": Counts.AVERAGE,
        "late_percent_per_day": 10.0,
        "late_floor_percent": 40.0,
        "minutes": 45,
        "practice": True,
        "solutions": Solutions.AFTER_CLOSING,
    }
    assignment_id = assign(
        database, given, now, unlock_after=given.assignment_id, unlock_percent=70.0, **rules
    )
    row = assignments.one(database, assignment_id=assignment_id, instructor=given.instructor).row
    assert {name: getattr(row.rules, name) for name in rules} == rules
    assert (row.unlock_after, row.rules.unlock.percent) == (given.assignment_id, 70.0)


def test_what_is_not_set_is_as_usual(database: Database, given: Lesson) -> None:
    rules = assignments.one(
        database, assignment_id=given.assignment_id, instructor=given.instructor
    ).row.rules
    assert (rules.closes_at, rules.minutes, rules.unlock, rules.practice) == (None, None, None, False)
    assert (rules.counts, rules.late_percent_per_day) == (Counts.BEST, 0)


@pytest.mark.parametrize(
    ("field", "rules"),
    [
        ("title", {"title": " "}),
        ("due_at", {"due_at": timedelta(0)}),
        ("closes_at", {"closes_at": DAY - timedelta(seconds=1)}),
        ("closes_at", {"solutions": Solutions.AFTER_CLOSING}),
        ("attempts_allowed", {"attempts_allowed": 0}),
        ("minutes", {"minutes": 0}),
        ("minutes", {"minutes": 601}),
        ("late_percent_per_day", {"late_percent_per_day": 100.5}),
        ("late_floor_percent", {"late_floor_percent": -1.0}),
        ("unlock_percent", {"unlock_percent": 101.0}),
        ("unlock_after", {"unlock_after": "a" * 20}),
    ],
)
def test_a_rule_that_can_not_be_is_refused_at_its_field(
    database: Database, given: Lesson, now: datetime, field: str, rules: dict[str, Any]
) -> None:
    moments = {name: now + rule if isinstance(rule, timedelta) else rule for name, rule in rules.items()}
    with pytest.raises(Refused) as refused:
        assign(database, given, now, **moments)
    assert refused.value.field == field


def test_closing_at_the_due_time_is_allowed(database: Database, given: Lesson, now: datetime) -> None:
    assert assign(database, given, now, closes_at=now + DAY)


def test_labs_can_not_wait_for_each_other_however_long_the_chain(
    database: Database, given: Lesson, now: datetime
) -> None:
    second = assign(database, given, now, unlock_after=given.assignment_id)
    third = assign(database, given, now, unlock_after=second)
    for later in (given.assignment_id, second, third):
        with pytest.raises(Refused, match="neither would open") as refused:
            change(database, given, given.assignment_id, now, unlock_after=later)
        assert refused.value.field == "unlock_after"
    change(database, given, third, now, unlock_after=given.assignment_id)


def test_a_lab_of_another_class_can_not_come_first(database: Database, given: Lesson, now: datetime) -> None:
    other = factories.school_class(database, instructor=given.instructor, name="Auto 3")
    foreign = assignments.assign(
        database,
        class_id=other,
        instructor=given.instructor,
        scenario_id=given.scenario_id,
        now=now,
        **usual(now),  # type: ignore[typeddict-item]
    )
    with pytest.raises(Refused, match="this class"):
        assign(database, given, now, unlock_after=foreign)


def test_a_lab_opens_once_the_one_before_it_is_handed_in(
    database: Database, given: Lesson, now: datetime
) -> None:
    second = assign(database, given, now, unlock_after=given.assignment_id)
    assert stands(database, second, given.student, now).state is State.LOCKED
    with pytest.raises(Refused, match="once you have handed in “Lab 1”"):
        begin(database, second, given.student, now)
    hand_in(database, given.assignment_id, given.student, now, tasks=0)
    assert stands(database, second, given.student, now).may_start
    assert begin(database, second, given.student, now)


def test_a_lab_opens_once_the_share_is_reached_at_the_one_before_it(
    database: Database, given: Lesson, now: datetime
) -> None:
    """The first four tasks of the balancer's lab are worth 7 of its 15 points, 46.7 %."""
    second = assign(database, given, now, unlock_after=given.assignment_id, unlock_percent=46.7)
    hand_in(database, given.assignment_id, given.student, now, tasks=4)
    assert stands(database, second, given.student, now).state is State.LOCKED
    change(database, given, second, now, unlock_after=given.assignment_id, unlock_percent=46.6)
    assert stands(database, second, given.student, now).may_start


def test_who_is_excused_from_the_lab_before_need_not_wait_for_it(
    database: Database, given: Lesson, now: datetime
) -> None:
    second = assign(database, given, now, unlock_after=given.assignment_id)
    except_for(database, given, now, Exceptional(excused=True, reason="ill"))
    assert stands(database, given.assignment_id, given.student, now).state is State.EXCUSED
    assert stands(database, second, given.student, now).may_start


def test_late_work_counts_with_its_deduction_by_the_student_s_own_due_time(
    database: Database, given: Lesson, now: datetime
) -> None:
    """15 points one day late at 20 % a day are 12; due a day later by exception they are 15 again."""
    change(database, given, given.assignment_id, now, late_percent_per_day=20.0)
    later = now + DAY + timedelta(hours=1)
    hand_in(database, given.assignment_id, given.student, later, tasks=99)
    row = stands(database, given.assignment_id, given.student, later)
    assert row.counted is not None
    assert (row.counted.points, row.state) == (12.0, State.LATE)
    except_for(database, given, now, Exceptional(due_at=now + 2 * DAY))
    row = stands(database, given.assignment_id, given.student, later)
    assert row.counted is not None
    assert (row.counted.points, row.state) == (15.0, State.HANDED_IN)


def except_for(database: Database, given: Lesson, now: datetime, exception: Exceptional) -> None:
    exceptions.set_exception(
        database,
        assignment_id=given.assignment_id,
        instructor=given.instructor,
        student_id=given.student.public_id,
        exception=exception,
        now=now,
    )


def exceptions_of(database: Database, given: Lesson) -> list[exceptions.ExceptionRow]:
    return exceptions.exceptions_of(database, assignment_id=given.assignment_id, instructor=given.instructor)


def test_an_exception_replaces_the_one_before_and_an_empty_one_takes_it_away(
    database: Database, given: Lesson, now: datetime
) -> None:
    except_for(database, given, now, Exceptional(attempts_allowed=5))
    except_for(database, given, now, Exceptional(time_factor=2.0, reason="  asked   for it "))
    [row] = exceptions_of(database, given)
    assert row.exception == Exceptional(time_factor=2.0, reason="asked for it")
    assert (row.rules.attempts_allowed, row.rules.time_factor) == (2, 2.0)
    except_for(database, given, now, Exceptional())
    assert exceptions_of(database, given) == []
    except_for(database, given, now, Exceptional())


@pytest.mark.parametrize(
    ("field", "exception"),
    [
        ("due_at", {"due_at": -2 * DAY}),
        ("opens_at", {"opens_at": 3 * DAY}),
        ("closes_at", {"closes_at": timedelta(hours=1)}),
        ("attempts_allowed", {"attempts_allowed": 51}),
        ("time_factor", {"time_factor": 0.5}),
        ("reason", {"excused": True}),
        ("reason", {"reason": "no reason to change anything"}),
        ("reason", {"time_factor": 2.0, "reason": "x" * 201}),
    ],
)
def test_an_exception_that_can_not_be_is_refused_at_its_field(
    database: Database, given: Lesson, now: datetime, field: str, exception: dict[str, Any]
) -> None:
    moments = {name: now + each if isinstance(each, timedelta) else each for name, each in exception.items()}
    with pytest.raises(Refused) as refused:
        except_for(database, given, now, Exceptional(**moments))
    assert refused.value.field == field
    assert exceptions_of(database, given) == []


def test_exceptions_are_only_for_students_of_the_class_and_by_its_instructor(
    database: Database, given: Lesson, now: datetime
) -> None:
    stranger = factories.instructor(database)
    for instructor, student_id in ((stranger, given.student.public_id), (given.instructor, "a" * 20)):
        with pytest.raises(NotFound):
            exceptions.set_exception(
                database,
                assignment_id=given.assignment_id,
                instructor=instructor,
                student_id=student_id,
                exception=Exceptional(attempts_allowed=3),
                now=now,
            )
    classes.drop_student(
        database,
        class_id=given.class_id,
        instructor=given.instructor,
        student_id=given.student.public_id,
        now=now,
    )
    with pytest.raises(NotFound):
        except_for(database, given, now, Exceptional(attempts_allowed=3))


def test_the_list_asks_the_database_equally_often_however_many_labs_there_are(
    database: Database, given: Lesson, now: datetime, queries: Any
) -> None:
    counts = []
    for _ in range(2):
        with queries() as asked:
            due.due_list(database, student=given.student, now=now)
        counts.append(len(asked))
        for _ in range(4):
            assign(database, given, now, unlock_after=given.assignment_id)
    assert counts[0] == counts[1]

"""A student's work through the use cases, on a real database."""

from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta
from typing import Any

import pytest

from app.domain.answers import Raw
from app.domain.marking import Mark, Verdict, mark_all
from app.domain.measures import UnitSystem
from app.domain.standing import State
from app.domain.variants import Variant
from app.services import classes, due, handing_in, practice
from app.services.errors import NotFound, Refused, UnreadableAnswers
from app.services.page_saves import PageSave
from app.store import attempt_events, attempts
from app.store.db import Database
from tests import factories
from tests.services import lessons
from tests.services.lessons import Lesson, lesson, right_answers


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


def start(database: Database, given: Lesson, now: datetime) -> str:
    return practice.start_attempt(database, assignment_id=given.assignment_id, student=given.student, now=now)


def save(
    database: Database,
    given: Lesson,
    attempt_id: str,
    angle: str,
    now: datetime,
    page_save: PageSave | None = None,
) -> practice.Saved:
    return practice.save_answer(
        database,
        attempt_id=attempt_id,
        student=given.student,
        task_id="static-angle",
        answer=angle,
        now=now,
        page_save=page_save,
    )


def hand_in_right(database: Database, given: Lesson, now: datetime) -> str:
    attempt_id = start(database, given, now)
    lab = practice.lab(database, attempt_id=attempt_id, student=given.student)
    lessons.hand_in(
        database, attempt_id=attempt_id, student=given.student, answers=right_answers(lab.variant), now=now
    )
    return attempt_id


def test_a_lab_goes_from_to_do_over_in_progress_to_handed_in(
    database: Database, given: Lesson, now: datetime
) -> None:
    def state() -> State:
        [row] = due.due_list(database, student=given.student, now=now)
        return row.state

    assert state() is State.TO_DO
    attempt_id = start(database, given, now)
    assert state() is State.IN_PROGRESS
    practice.hand_in(database, attempt_id=attempt_id, student=given.student, now=now)
    assert state() is State.HANDED_IN


def test_starting_twice_gives_the_same_open_attempt(database: Database, given: Lesson, now: datetime) -> None:
    assert start(database, given, now) == start(database, given, now)


def test_right_answers_earn_every_point(database: Database, given: Lesson, now: datetime) -> None:
    attempt_id = hand_in_right(database, given, now)
    result = practice.result(database, attempt_id=attempt_id, student=given.student)
    assert {mark.verdict for mark in result.marks} == {Verdict.RIGHT}
    assert result.points == result.out_of == result.lab.variant.scenario.out_of


def test_a_second_attempt_has_new_numbers_and_the_best_counts(
    database: Database, given: Lesson, now: datetime
) -> None:
    first = hand_in_right(database, given, now)
    second = start(database, given, now)
    seeds = {
        practice.lab(database, attempt_id=each, student=given.student).variant.seed
        for each in (first, second)
    }
    assert len(seeds) == 2
    practice.hand_in(database, attempt_id=second, student=given.student, now=now)
    [row] = due.due_list(database, student=given.student, now=now)
    assert row.counted is not None
    assert row.counted.points == row.counted.out_of == row.out_of
    assert not row.may_start


def test_no_more_attempts_than_allowed(database: Database, given: Lesson, now: datetime) -> None:
    for _ in range(2):
        practice.hand_in(database, attempt_id=start(database, given, now), student=given.student, now=now)
    with pytest.raises(Refused, match="Every attempt"):
        start(database, given, now)


def test_a_lab_can_not_be_started_before_it_opens(database: Database, now: datetime) -> None:
    given = lesson(database, now=now, opens_in=timedelta(hours=1))
    [row] = due.due_list(database, student=given.student, now=now)
    assert row.state is State.NOT_OPEN
    assert not row.may_start
    with pytest.raises(Refused, match="This lab opens"):
        start(database, given, now)


def test_work_after_the_due_time_is_taken_and_called_late(database: Database, now: datetime) -> None:
    given = lesson(database, now=now, opens_in=timedelta(days=-2), due_in=timedelta(days=-1))
    [row] = due.due_list(database, student=given.student, now=now)
    assert row.state is State.OVERDUE
    attempt_id = hand_in_right(database, given, now)
    assert practice.result(database, attempt_id=attempt_id, student=given.student).lab.late


def test_every_saved_answer_is_an_event_and_the_newest_counts(
    database: Database, given: Lesson, now: datetime
) -> None:
    attempt_id = start(database, given, now)
    for typed in ("10", "20", "20", "30"):
        save(database, given, attempt_id, typed, now)
    with database.read() as session:
        events = attempt_events.events_of(session, attempts.attempt_named(session, attempt_id).id)
    assert [(event.number, event.body["answer"]) for event in events] == [(1, "10"), (2, "20"), (3, "30")]
    lab = practice.lab(database, attempt_id=attempt_id, student=given.student)
    assert lab.answers == {"static-angle": "30"}


def test_a_closing_page_s_answers_may_arrive_in_any_order(
    database: Database, given: Lesson, now: datetime
) -> None:
    attempt_id = start(database, given, now)

    def arrive(angle: str, page: str, revision: int) -> object:
        page_save = PageSave(page, revision)
        save(database, given, attempt_id, angle, now, page_save)
        return practice.lab(database, attempt_id=attempt_id, student=given.student).answers["static-angle"]

    assert arrive("30", "page-one", 3) == "30"
    assert arrive("20", "page-one", 2) == "30"
    # Typed 30, 3, 30: that the newest changes nothing must not let the older 3 in.
    assert arrive("30", "page-one", 5) == "30"
    assert arrive("3", "page-one", 4) == "30"
    assert arrive("40", "page-two", 1) == "40"
    # Sent again because its reply was lost: it has been taken, and another page has been at work since.
    assert arrive("30", "page-one", 5) == "40"
    assert arrive("50", "page-one", 6) == "50"


def test_an_unreadable_answer_is_kept_as_typed_and_says_what_to_mend(
    database: Database, given: Lesson, now: datetime
) -> None:
    attempt_id = start(database, given, now)
    saved = practice.save_answer(
        database, attempt_id=attempt_id, student=given.student, task_id="single-mass", answer="12 mm", now=now
    )
    assert saved.problem == "“mm” is no unit for this answer. Use g, kg, oz, lb, like 1.25 oz."
    lab = practice.lab(database, attempt_id=attempt_id, student=given.student)
    assert lab.answers["single-mass"] == "12 mm"
    with pytest.raises(UnreadableAnswers) as refused:
        lessons.hand_in(
            database, attempt_id=attempt_id, student=given.student, answers={"static-angle": "90"}, now=now
        )
    assert set(refused.value.problems) == {"single-mass"}
    after = practice.lab(database, attempt_id=attempt_id, student=given.student)
    assert after.handed_in_at is None
    assert after.answers["static-angle"] == "90"


def test_handing_in_twice_changes_nothing(database: Database, given: Lesson, now: datetime) -> None:
    attempt_id = hand_in_right(database, given, now)
    before = practice.result(database, attempt_id=attempt_id, student=given.student)
    practice.hand_in(database, attempt_id=attempt_id, student=given.student, now=now + timedelta(days=9))
    after = practice.result(database, attempt_id=attempt_id, student=given.student)
    assert after.marks == before.marks
    assert after.lab.handed_in_at == before.lab.handed_in_at
    assert after.lab.answers == before.lab.answers


def test_parallel_hand_ins_make_one_set_of_marks(database: Database, given: Lesson, now: datetime) -> None:
    attempt_id = start(database, given, now)
    save(database, given, attempt_id, "5", now)

    def hand_in(_: int) -> None:
        practice.hand_in(database, attempt_id=attempt_id, student=given.student, now=now)

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(hand_in, range(16)))
    result = practice.result(database, attempt_id=attempt_id, student=given.student)
    assert len(result.marks) == len(result.lab.variant.scenario.tasks)


def test_others_write_while_a_lab_is_marked_and_what_was_saved_meanwhile_is_marked_too(
    database: Database, given: Lesson, now: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    attempt_id = start(database, given, now)
    marked: list[Mapping[str, Raw]] = []

    def mark_while_another_tab_saves(
        variant: Variant, answers: Mapping[str, Raw], *left: Any
    ) -> Sequence[Mark]:
        if not marked:
            save(database, given, attempt_id, "77", now)
        marked.append(answers)
        return mark_all(variant, answers, *left)

    monkeypatch.setattr(handing_in, "mark_all", mark_while_another_tab_saves)
    practice.hand_in(database, attempt_id=attempt_id, student=given.student, now=now)
    assert marked == [{}, {"static-angle": "77"}]
    result = practice.result(database, attempt_id=attempt_id, student=given.student)
    answers = {mark.task_id: mark.your_answer for mark in result.marks}
    assert "77" in answers["static-angle"]
    assert len(answers) == len(result.marks)


def test_nothing_can_be_saved_after_handing_in(database: Database, given: Lesson, now: datetime) -> None:
    attempt_id = hand_in_right(database, given, now)
    with pytest.raises(Refused, match="handed in"):
        save(database, given, attempt_id, "1", now)


@pytest.mark.parametrize("handed_in", [False, True])
def test_work_in_a_class_that_is_put_away_can_be_read_and_no_longer_changed(
    database: Database, given: Lesson, now: datetime, handed_in: bool
) -> None:
    attempt_id = hand_in_right(database, given, now) if handed_in else start(database, given, now)
    student = given.student
    rule = {"class_id": given.class_id, "instructor": given.instructor, "now": now}
    classes.archive_class(database, archived=True, **rule)
    before = practice.lab(database, attempt_id=attempt_id, student=student)
    told = due.assignment(database, assignment_id=given.assignment_id, student=student, now=now)
    assert before.put_away
    assert told.due.put_away
    assert not told.due.may_start
    assert due.due_list(database, student=student, now=now) == []
    if handed_in:
        assert practice.result(database, attempt_id=attempt_id, student=student) is not None
        with pytest.raises(Refused, match="put away"):
            start(database, given, now)
    else:
        with pytest.raises(Refused, match="put away"):
            save(database, given, attempt_id, "90", now)
        with pytest.raises(Refused, match="put away"):
            practice.hand_in(database, attempt_id=attempt_id, student=student, now=now)
    assert practice.lab(database, attempt_id=attempt_id, student=student).answers == before.answers
    classes.archive_class(database, archived=False, **rule)
    if not handed_in:
        save(database, given, attempt_id, "90", now)
        practice.hand_in(database, attempt_id=attempt_id, student=student, now=now)


def test_a_task_that_is_not_in_the_lab_is_not_found(database: Database, given: Lesson, now: datetime) -> None:
    attempt_id = start(database, given, now)
    with pytest.raises(NotFound):
        practice.save_answer(
            database, attempt_id=attempt_id, student=given.student, task_id="no-such", answer="1", now=now
        )


def test_another_student_finds_neither_assignment_nor_attempt(
    database: Database, given: Lesson, now: datetime
) -> None:
    attempt_id = start(database, given, now)
    other_class = factories.school_class(database, instructor=given.instructor)
    other = factories.student(database, class_id=other_class, instructor=given.instructor)
    with pytest.raises(NotFound):
        practice.lab(database, attempt_id=attempt_id, student=other)
    with pytest.raises(NotFound):
        practice.start_attempt(database, assignment_id=given.assignment_id, student=other, now=now)
    assert due.due_list(database, student=other, now=now) == []


def test_a_dropped_student_no_longer_reaches_the_work_but_it_is_kept(
    database: Database, given: Lesson, now: datetime
) -> None:
    attempt_id = hand_in_right(database, given, now)
    place = {"class_id": given.class_id, "instructor": given.instructor, "now": now}
    classes.drop_student(database, student_id=given.student.public_id, **place)
    with pytest.raises(NotFound):
        practice.result(database, attempt_id=attempt_id, student=given.student)
    classes.restore_student(database, student_id=given.student.public_id, **place)
    assert practice.result(database, attempt_id=attempt_id, student=given.student).points > 0


def test_an_attempt_keeps_the_units_it_was_started_in(
    database: Database, given: Lesson, now: datetime
) -> None:
    attempt_id = start(database, given, now)
    classes.update_class(
        database,
        class_id=given.class_id,
        instructor=given.instructor,
        name="Auto 2",
        time_zone="America/Chicago",
        units=UnitSystem.METRIC,
        calculators_on=True,
        now=now,
    )
    assert practice.lab(database, attempt_id=attempt_id, student=given.student).variant.units is UnitSystem.US

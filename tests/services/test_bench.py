"""The bench through its use cases: saved first, refused when stale, done once, replayed the same."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest

from app.services import bench, classes, practice
from app.services.bench import BenchView, Stale
from app.services.errors import NotFound, Refused
from app.services.kept import Kept
from app.store.db import Database
from tests import factories
from tests.services import lessons
from tests.services.lessons import Lesson, lesson

TO_THE_BALANCER = {"do": "bring", "assembly": "A", "to": "balancer"}
CLEAN = {"do": "clean", "what": "face"}


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now, slug="bench-one-assembly")


@pytest.fixture
def attempt_id(database: Database, given: Lesson, now: datetime) -> str:
    return practice.start_attempt(database, assignment_id=given.assignment_id, student=given.student, now=now)


@pytest.fixture
def bare_memory(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is kept in this process: every bench is replayed from its events."""
    monkeypatch.setattr(bench, "_kept", Kept(0))


def view(database: Database, given: Lesson, attempt_id: str) -> BenchView:
    return bench.bench(database, attempt_id=attempt_id, student=given.student)


def act(
    database: Database, given: Lesson, attempt_id: str, action: dict[str, Any], expect: int, now: datetime
) -> BenchView:
    return bench.act(
        database, attempt_id=attempt_id, student=given.student, action=action, expect=expect, now=now
    )


def test_an_action_is_done_and_shows_what_it_shows(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    before = view(database, given, attempt_id)
    assert (before.run.number, before.run.done) == (0, ())
    after = act(database, given, attempt_id, TO_THE_BALANCER, 0, now)
    assert after.run.done[-1].observation.text == "Assembly A is now on the balancer."
    assert after.run.state.assembly("A").where == "balancer"
    assert view(database, given, attempt_id) == after


@pytest.mark.usefixtures("bare_memory")
def test_another_process_finds_the_bench_as_it_was_left(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    first = act(database, given, attempt_id, TO_THE_BALANCER, 0, now)
    second = act(database, given, attempt_id, CLEAN, first.run.number, now + timedelta(minutes=1))
    assert view(database, given, attempt_id) == second
    assert second.run.state.assembly("A").face_clean


def test_a_stale_screen_is_told_and_changes_nothing(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    act(database, given, attempt_id, TO_THE_BALANCER, 0, now)
    with pytest.raises(Stale, match="another window"):
        act(database, given, attempt_id, CLEAN, 0, now)
    assert len(view(database, given, attempt_id).run.done) == 1


def test_a_bench_that_was_read_before_another_worked_there_is_stale_too(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    known = view(database, given, attempt_id)
    act(database, given, attempt_id, TO_THE_BALANCER, 0, now)
    with pytest.raises(Stale, match="another window"):
        bench.act(
            database,
            attempt_id=attempt_id,
            student=given.student,
            action=CLEAN,
            expect=0,
            now=now,
            known=known,
        )
    assert len(view(database, given, attempt_id).run.done) == 1


def test_the_same_action_sent_twice_is_done_once(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    first = act(database, given, attempt_id, TO_THE_BALANCER, 0, now)
    again = act(database, given, attempt_id, TO_THE_BALANCER, 0, now + timedelta(seconds=5))
    assert again == first


def test_the_same_action_again_from_the_newer_screen_is_done_again(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    look = {"do": "look", "assembly": "A", "at": "tread"}
    first = act(database, given, attempt_id, look, 0, now)
    second = act(database, given, attempt_id, look, first.run.number, now)
    assert len(second.run.done) == 2


def test_a_saved_answer_does_not_make_the_bench_stale(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    first = act(database, given, attempt_id, TO_THE_BALANCER, 0, now)
    practice.save_answer(
        database,
        attempt_id=attempt_id,
        student=given.student,
        task_id="half-turn",
        answer="mounting",
        now=now,
    )
    assert act(database, given, attempt_id, CLEAN, first.run.number, now).run.state.assembly("A").face_clean


@pytest.mark.parametrize(
    ("action", "field"),
    [
        ({"do": "hammer"}, "do"),
        ({"do": "bring", "assembly": "Z", "to": "balancer"}, "assembly"),
        ({"do": "bring", "assembly": "A", "to": "stand"}, "to"),
        ({"do": "clean"}, "what"),
        ({"do": "cone", "cone": "huge"}, "cone"),
    ],
)
def test_an_action_that_can_not_be_read_names_its_field_and_is_not_kept(
    database: Database, given: Lesson, attempt_id: str, now: datetime, action: dict[str, Any], field: str
) -> None:
    with pytest.raises(Refused) as refused:
        act(database, given, attempt_id, action, 0, now)
    assert refused.value.field == field
    assert view(database, given, attempt_id).run.done == ()


def test_work_that_is_stopped_is_kept_with_its_caution(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    first = act(database, given, attempt_id, TO_THE_BALANCER, 0, now)
    after = act(database, given, attempt_id, {"do": "spin", "hood_down": False}, first.run.number, now)
    assert after.run.done[-1].observation.refused
    assert after.run.state.cautions == ("spinning",)


def test_nothing_is_done_at_the_bench_of_a_lab_that_is_handed_in(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    lessons.hand_in(
        database, attempt_id=attempt_id, student=given.student, now=now, answers={"half-turn": "mounting"}
    )
    assert view(database, given, attempt_id).handed_in
    with pytest.raises(Refused, match="handed in"):
        act(database, given, attempt_id, CLEAN, 0, now)


def test_the_bench_of_a_class_that_is_put_away_is_looked_at_and_not_worked_at(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    done = act(database, given, attempt_id, TO_THE_BALANCER, 0, now)
    classes.archive_class(
        database, class_id=given.class_id, instructor=given.instructor, archived=True, now=now
    )
    with pytest.raises(Refused, match="put away"):
        act(database, given, attempt_id, CLEAN, done.run.number, now)
    assert view(database, given, attempt_id) == replace(done, put_away=True)


def test_the_bench_of_another_student_is_not_there(
    database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    other = factories.student(database, class_id=given.class_id, instructor=given.instructor)
    stranger = replace(given, student=other)
    with pytest.raises(NotFound):
        view(database, stranger, attempt_id)
    with pytest.raises(NotFound):
        act(database, stranger, attempt_id, CLEAN, 0, now)


def test_a_lab_without_a_bench_has_none(database: Database, now: datetime) -> None:
    plain = lesson(database, now=now)
    attempt = practice.start_attempt(
        database, assignment_id=plain.assignment_id, student=plain.student, now=now
    )
    with pytest.raises(NotFound):
        view(database, plain, attempt)

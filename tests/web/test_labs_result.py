"""The result of a lab: every mark with its reason, and what comes next."""

from datetime import datetime, timedelta

import pytest
from flask import Flask

from app.services import practice, reflection_workflow, review
from app.store.db import Database
from tests.services.lessons import Lesson, lesson
from tests.web.conftest import Clock
from tests.web.labs import Pupil, pupil_of
from tests.web.reflecting import write


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


@pytest.fixture
def student(app: Flask, given: Lesson, database: Database) -> Pupil:
    return pupil_of(app, given, database)


def result_page(student: Pupil, address: str) -> str:
    response = student.client.get(f"{address}/result")
    assert response.status_code == 200
    return response.text


def test_all_right_is_all_points_and_says_right_everywhere(student: Pupil) -> None:
    address = student.start()
    student.hand_in(address, student.right(address))
    page = result_page(student, address)
    assert "15 of 15 points" in page
    assert page.count("</span> right</span>") == 11
    assert "not yet" not in page


def test_a_wrong_answer_shows_both_answers_the_reason_and_the_explanation(student: Pupil) -> None:
    address = student.start()
    variant = student.lab(address).variant
    heavy = float(variant.model.value("assembly[A].static.angle_deg"))
    student.hand_in(address, student.right(address) | {"single-angle": f"{heavy:.0f}"})
    page = result_page(student, address)
    marks = practice.result(
        student.database, attempt_id=address.split("/")[3], student=student.lesson.student
    ).marks
    [mark] = [mark for mark in marks if mark.task_id == "single-angle"]
    article = page[page.index('id="marked-single-angle"') :].split("</article>")[0]
    assert "✗" in article
    assert "not yet" in article
    assert mark.reason in article
    assert mark.right_answer in article
    assert "A weight goes opposite to what is heavy" in article
    assert "yours (dashed) beside the computed" in article


def test_a_blank_answer_is_called_no_answer(student: Pupil) -> None:
    address = student.start()
    student.hand_in(address)
    page = result_page(student, address)
    assert "0 of 15 points" in page
    assert page.count("no answer") == 11
    assert "<svg" not in page, "there is no own answer to draw"


def test_an_answer_in_words_waits_for_the_instructor_then_shows_the_comment(
    app: Flask, database: Database, now: datetime
) -> None:
    given = lesson(database, now=now, slug="four-assemblies")
    student = pupil_of(app, given, database)
    address = student.start()
    student.hand_in(address, student.right(address))
    page = result_page(student, address)
    assert "1 to be marked" in page
    assert "waits for your instructor" in page
    assert "– of 4" in page
    review.mark_text(
        database,
        attempt_id=address.split("/")[3],
        instructor=given.instructor,
        task_id="customer",
        points=3,
        comment="Say <what> to watch for.",
        now=now,
    )
    page = result_page(student, address)
    assert "Say &lt;what&gt; to watch for." in page
    assert "3 of 4" in page
    assert "to be marked" not in page


def test_the_placement_is_drawn_with_the_best_in_brackets(
    app: Flask, database: Database, now: datetime
) -> None:
    student = pupil_of(app, lesson(database, now=now, slug="four-assemblies"), database)
    address = student.start()
    best = student.right(address)["comfort"]
    worse = {"LF": best["RR"], "RF": best["LR"], "LR": best["RF"], "RR": best["LF"]}
    student.hand_in(address, {"comfort": worse})
    page = result_page(student, address)
    assert f"[best: {best['LF']}]" in page


def test_what_was_handed_in_after_the_due_time_is_called_late(
    app: Flask, database: Database, now: datetime, clock: Clock
) -> None:
    student = pupil_of(app, lesson(database, now=now, due_in=timedelta(hours=1)), database)
    address = student.start()
    clock.advance(hours=2)
    assert "It is past the due time" in student.client.get(f"{address}/hand-in").text
    student.hand_in(address)
    assert "Handed in after the due time, today, 10:00 AM." in result_page(student, address)


def test_the_next_steps_are_the_reflection_sheet_and_another_try(student: Pupil) -> None:
    address = student.start()
    student.hand_in(address)
    page = result_page(student, address)
    sheet = f"{student.about}/reflection"
    assert f'href="{sheet}"' in page
    assert student.client.get(sheet).status_code == 200
    assert "Try again with new numbers" in page
    again = student.start()
    assert "Go on with the open attempt" in result_page(student, address)
    student.hand_in(again)
    assert "Try again" not in result_page(student, address), "both attempts are used"


def test_a_reflection_sheet_is_to_write_until_it_is_handed_in(student: Pupil, now: datetime) -> None:
    address = student.start()
    student.hand_in(address)
    assert "Write the reflection sheet" in result_page(student, address)
    sheet = {"assignment_id": student.lesson.assignment_id, "student": student.lesson.student, "now": now}
    write(student.database, sheet["assignment_id"], sheet["student"], "The pull.", now=now)
    assert "Write the reflection sheet" in result_page(student, address)
    reflection_workflow.hand_in(student.database, **sheet)
    page = result_page(student, address)
    assert "Write the reflection sheet" not in page
    assert "Read the reflection sheet" in page


def test_a_result_says_whether_it_is_the_one_that_counts(student: Pupil) -> None:
    first = student.start()
    student.hand_in(first)
    second = student.start()
    student.hand_in(second, student.right(second))
    assert "attempt 2, with 15" in result_page(student, first)
    assert "this attempt" in result_page(student, second)


def test_the_attempts_are_listed_with_their_points(student: Pupil) -> None:
    first = student.start()
    student.hand_in(first, student.right(first))
    second = student.start()
    page = student.client.get(student.about).text
    assert f'href="{first}/result"' in page
    assert f'href="{second}"' in page
    assert "15 of 15" in page
    assert "2 attempts used" in page


def test_a_result_asks_the_database_equally_often_however_many_answers_it_has(
    app: Flask, database: Database, now: datetime, queries: object
) -> None:
    small = pupil_of(app, lesson(database, now=now, due_in=timedelta(days=1)), database)
    large = pupil_of(app, lesson(database, now=now, slug="four-assemblies"), database)
    counts = []
    for student in (small, large):
        address = student.start()
        student.hand_in(address, student.right(address))
        with queries() as asked:  # type: ignore[operator]
            result_page(student, address)
        counts.append(len(asked))
    assert counts[0] == counts[1]

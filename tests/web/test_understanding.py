"""Pages of a running lab, of what a class understood, and of its skills."""

import pytest

from tests import factories
from tests.web.given import begin, give, hand_in


@pytest.fixture
def worked(database, class_id, teacher, pupil, now) -> str:
    """One student has handed in with a mistake, one is at work, one has not begun."""
    assignment_id = give(database, class_id=class_id, instructor=teacher, now=now)
    hand_in(database, assignment_id=assignment_id, student=pupil, now=now, instead={"why-two": "looks"})
    second = factories.student(database, class_id=class_id, instructor=teacher, name="Bo Yates")
    factories.student(database, class_id=class_id, instructor=teacher, name="Cy Xu")
    begin(database, assignment_id=assignment_id, student=second, now=now, answers={"single-angle": "10"})
    return assignment_id


def test_the_room_names_who_is_where(teacher_client, worked, clock):
    path = f"/teaching/assignments/{worked}/room"
    text = teacher_client.get(path).text
    assert "1 of 11 answers" in text
    assert "1 working, 1 not started, 1 handed in" in text
    clock.advance(minutes=6)
    assert "nothing saved for 6 min" in teacher_client.get(path).text


def test_on_the_projector_nobody_is_named(teacher_client, worked):
    text = teacher_client.get(f"/teaching/assignments/{worked}/room?names=hidden").text
    assert "1 working, 1 not started, 1 handed in" in text
    for name in ("Okafor", "Yates", "Xu"):
        assert name not in text


def test_understanding_shows_every_task_and_a_dash_where_a_number_is_undefined(teacher_client, worked):
    text = teacher_client.get(f"/teaching/assignments/{worked}/understanding").text
    assert "KR-20: –, from 1 student and 11 tasks" in text
    assert "So few students say little." in text
    assert "The same in words and numbers" in text


def test_understanding_of_a_lab_that_nobody_handed_in_says_so(
    teacher_client, database, class_id, teacher, now
):
    given = give(database, class_id=class_id, instructor=teacher, now=now)
    assert (
        "Nobody has handed this lab in yet"
        in teacher_client.get(f"/teaching/assignments/{given}/understanding").text
    )


def test_skills_are_listed_for_the_class(teacher_client, class_id, worked):  # noqa: ARG001
    text = teacher_client.get(f"/teaching/classes/{class_id}/skills").text
    assert "Lab 1" in text


@pytest.mark.parametrize("kind", ["room", "understanding"])
def test_only_the_class_s_instructor_looks_in(stranger_client, pupil_client, worked, kind):
    path = f"/teaching/assignments/{worked}/{kind}"
    assert stranger_client.get(path).status_code == 404
    assert pupil_client.get(path).status_code == 403

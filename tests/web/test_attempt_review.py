"""One attempt as its instructor sees it, and marking an answer in words."""

from html import unescape

import pytest

from app.services import practice, review
from app.services.accounts import Person
from app.services.labs import Lab
from app.store.db import Database
from tests import factories
from tests.web.given import begin, give, hand_in

WORDS = "Least <b>force</b> by the driver;\nthe old tire goes."
TASK = "customer"


@pytest.fixture
def assignment_id(database: Database, class_id: str, teacher: Person, now) -> str:
    return give(database, class_id=class_id, instructor=teacher, now=now, slug="four-assemblies")


@pytest.fixture
def lab(database: Database, assignment_id: str, pupil: Person, now) -> Lab:
    """Handed in with the answer in words waiting and one number left out."""
    return hand_in(
        database,
        assignment_id=assignment_id,
        student=pupil,
        now=now,
        instead={TASK: WORDS, "age-a": ""},
    )


def address(lab: Lab) -> str:
    return f"/teaching/attempts/{lab.attempt_id}"


def mark(client, lab: Lab, **entries: str):
    return client.send(
        f"{address(lab)}/marks/{TASK}", page=address(lab), **({"points": "3", "comment": ""} | entries)
    )


def test_every_answer_stands_there_with_its_key_and_its_mark(teacher_client, database, teacher, lab):
    page = unescape(teacher_client.get(address(lab)).text)
    result = review.attempt(database, attempt_id=lab.attempt_id, instructor=teacher).result
    assert len(result.marks) == len(lab.variant.scenario.tasks)
    for each in result.marks:
        assert f'id="marked-{each.task_id}"' in page
        for words in (each.your_answer, each.right_answer, each.reason):
            assert words in page
    assert lab.variant.scenario.task(TASK).rubric in page
    assert "Sam Okafor" in page
    assert "1 to be marked" in page


def test_what_a_student_typed_stays_text(teacher_client, lab):
    page = teacher_client.get(address(lab)).text
    assert "Least &lt;b&gt;force&lt;/b&gt;" in page


def test_what_needs_a_look_is_listed_first(teacher_client, lab):
    page = teacher_client.get(address(lab)).text
    head = page[page.index("Answers to look at") : page.index("section-head")]
    assert f'href="#marked-{TASK}"' in head
    assert 'href="#marked-age-a"' in head
    assert 'href="#marked-age-b"' not in head


def test_saved_entries_and_other_attempts_are_listed(
    teacher_client, database, assignment_id, pupil, lab, clock
):
    second = begin(
        database, assignment_id=assignment_id, student=pupil, now=clock(), answers={"age-a": "4 yrs"}
    )
    first_page, second_page = (teacher_client.get(address(each)).text for each in (lab, second))
    events = len(lab.variant.scenario.tasks)  # one left out, and the handing in
    assert f"{events} saved entries" in first_page
    assert "handed in" in first_page
    assert address(second) in first_page
    assert address(lab) in second_page
    assert "1 saved entry" in second_page
    assert "4 yrs" in second_page


def test_an_open_attempt_shows_what_is_saved_and_takes_no_mark(
    teacher_client, database, assignment_id, pupil, now
):
    lab = begin(
        database, assignment_id=assignment_id, student=pupil, now=now, answers={"age-a": "old", TASK: WORDS}
    )
    page = teacher_client.get(address(lab)).text
    assert "not handed in yet" in page
    assert ">old<" in page
    assert "is not a number" in page
    assert "Save this mark" not in page
    assert mark(teacher_client, lab).status_code == 404


def test_an_answer_in_words_is_marked_and_the_student_sees_it(teacher_client, database, teacher, pupil, lab):
    before = review.attempt(database, attempt_id=lab.attempt_id, instructor=teacher).result.points
    response = mark(teacher_client, lab, points="2.5", comment="Name the axle.\nThen it’s right.")
    assert response.status_code == 303
    assert response.location == f"{address(lab)}#marked-{TASK}"
    page = teacher_client.get(address(lab)).text
    assert "2.5 of 4" in page
    assert 'value="2.5"' in page
    assert "Student’s answer" in page
    assert "Your answer" not in page
    assert "Your instructor writes" not in page
    assert 'class="as-typed">Name the axle.\nThen it’s right.</span>' in page
    result = practice.result(database, attempt_id=lab.attempt_id, student=pupil)
    assert result.points == before + 2.5
    assert result.waiting == 0
    assert result.comments[TASK] == "Name the axle.\nThen it’s right."


def test_a_mark_can_be_changed(teacher_client, database, pupil, lab):
    for points in ("4", "0"):
        assert mark(teacher_client, lab, points=points).status_code == 303
    result = practice.result(database, attempt_id=lab.attempt_id, student=pupil)
    assert next(each.points for each in result.marks if each.task_id == TASK) == 0


@pytest.mark.parametrize(
    ("entries", "says"),
    [
        ({"points": ""}, "from 0 to 4"),
        ({"points": "nan"}, "Enter a number"),
        ({"points": "inf"}, "Enter a number"),
        ({"points": "-1"}, "from 0 to 4"),
        ({"points": "4.01"}, "from 0 to 4"),
        ({"points": "three"}, "Enter a number"),
        ({"comment": "m" * 1001}, "1000 characters"),
    ],
)
def test_a_wrong_mark_says_what_to_do_and_keeps_the_entries(
    teacher_client, database, pupil, lab, entries, says
):
    sent = {"points": "3", "comment": "Say more."} | entries
    response = mark(teacher_client, lab, **sent)
    assert response.status_code == 422
    assert says in response.text
    assert f'value="{sent["points"]}"' in response.text
    assert f">\n{sent['comment']}</textarea>" in response.text.replace("\r\n", "\n")
    assert practice.result(database, attempt_id=lab.attempt_id, student=pupil).waiting == 1


def test_only_an_answer_in_words_is_marked_by_hand(teacher_client, lab):
    sent = {"points": "1", "comment": ""}
    for task in ("age-a", "no-such-task"):
        path = f"{address(lab)}/marks/{task}"
        assert teacher_client.send(path, page=address(lab), **sent).status_code == 404


def test_another_instructor_neither_sees_nor_marks(stranger_client, database, pupil, lab):
    assert stranger_client.get(address(lab)).status_code == 404
    stranger_client.get("/teaching/classes/new")
    sent = {"csrf_token": stranger_client.csrf_token, "points": "4", "comment": ""}
    assert stranger_client.post(f"{address(lab)}/marks/{TASK}", data=sent).status_code == 404
    assert practice.result(database, attempt_id=lab.attempt_id, student=pupil).waiting == 1


def test_a_student_has_no_way_in(pupil_client, lab):
    assert pupil_client.get(address(lab)).status_code == 403


def test_a_stale_page_keeps_the_mark_that_was_typed(teacher_client, database, pupil, lab):
    response = teacher_client.post(
        f"{address(lab)}/marks/{TASK}", data={"csrf_token": "old", "points": "3.5", "comment": "Well said."}
    )
    assert response.status_code == 422
    assert 'value="3.5"' in response.text
    assert "Well said." in response.text
    assert practice.result(database, attempt_id=lab.attempt_id, student=pupil).waiting == 1


@pytest.mark.parametrize(("method", "path", "status"), [("get", "", 404), ("post", "/marks/customer", 404)])
def test_an_attempt_that_there_is_not_is_not_found(teacher_client, method, path, status):
    teacher_client.get("/teaching/classes/new")
    sent = {"data": {"csrf_token": teacher_client.csrf_token}} if method == "post" else {}
    assert (
        getattr(teacher_client, method)(f"/teaching/attempts/{'a' * 20}{path}", **sent).status_code == status
    )


def test_the_wrong_method_is_refused(teacher_client, lab):
    assert teacher_client.post(address(lab)).status_code == 405
    assert teacher_client.get(f"{address(lab)}/marks/{TASK}").status_code == 405


def test_work_after_the_due_time_is_called_late(teacher_client, database, class_id, teacher, now, clock):
    assignment_id = give(database, class_id=class_id, instructor=teacher, now=now)
    student = factories.student(database, class_id=class_id, instructor=teacher)
    clock.advance(hours=1)
    in_time = hand_in(database, assignment_id=assignment_id, student=student, now=clock())
    clock.advance(days=4)
    late = hand_in(database, assignment_id=assignment_id, student=student, now=clock())
    clock.advance(days=-4)
    assert "after the due time" not in teacher_client.get(address(in_time)).text
    assert "after the due time" in teacher_client.get(address(late)).text

"""Working a lab: what the page shows and keeps quiet about, saving, and handing in."""

import re
from datetime import datetime
from pathlib import Path
from xml.etree.ElementTree import Element, tostring

import html5lib
import pytest
from flask import Flask

from app.domain.answers import NONE_OF_THEM
from app.services import classes, practice, review
from app.store.db import Database
from tests.services.lessons import Lesson, lesson, right_answers
from tests.web.labs import Pupil, another_student, lesson_of_every_kind, pupil_of


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


@pytest.fixture
def student(app: Flask, given: Lesson, database: Database) -> Pupil:
    return pupil_of(app, given, database)


@pytest.fixture
def every_kind(app: Flask, given: Lesson, database: Database, tmp_path: Path, now: datetime) -> Pupil:
    return pupil_of(app, lesson_of_every_kind(database, given, tmp_path, now), database)


def without_measurements(html: str) -> str:
    """The page less its measurements, addresses and token: what must not depend on the student."""
    page = html5lib.parse(html, namespaceHTMLElements=False)
    for parent in list(page.iter()):
        for child in list(parent):
            if "measured-body" in str(child.get("class")) or child.tag == "header":
                parent.remove(child)
    return re.sub(
        r"/labs/attempts/\w+|data-person=\"\w+\"|value=\"[^\"]*##[^\"]*\"",
        "",
        tostring(page, encoding="unicode"),
    )


def element(html: str, **attributes: str) -> Element:
    page = html5lib.parse(html, namespaceHTMLElements=False)
    [found] = [each for each in page.iter() if all(each.get(k) == v for k, v in attributes.items())]
    return found


@pytest.mark.parametrize("slug", ["two-plane-balance", "runout-and-match-mounting", "four-assemblies"])
def test_beside_its_measurements_the_lab_is_the_same_for_every_student(
    app: Flask, database: Database, now: datetime, slug: str
) -> None:
    """So nothing on it can hold a key: keys differ from student to student.

    What a measurement shows is tested in tests/drawings/test_measured.py.
    """
    one = pupil_of(app, lesson(database, now=now, slug=slug), database)
    two = pupil_of(app, another_student(database, one.lesson), database)
    first, second = one.start(), two.start()
    pages = [one.client.get(first).text, two.client.get(second).text]
    assert pages[0] != pages[1]
    assert one.right(first) != two.right(second)
    assert without_measurements(pages[0]) == without_measurements(pages[1])


def test_before_it_is_handed_in_no_answer_holds_seed_key_tolerance_or_explanation(every_kind: Pupil) -> None:
    address = every_kind.start()
    lab = every_kind.lab(address)
    bodies = [
        every_kind.client.get(place).text
        for place in ("/labs", every_kind.about, address, f"{address}/hand-in")
    ]
    bodies += [every_kind.save(address, "age-a", typed).text for typed in ("7", "about seven")]
    kept_quiet = [str(lab.variant.seed), "assembly[", "tolerance", "rubric", "wrong_turn"]
    kept_quiet += [task.explain for task in lab.variant.scenario.tasks if task.explain]
    texts = [task for task in lab.variant.scenario.tasks if task.kind == "text"]
    kept_quiet += [task.rubric for task in texts if not task.criteria]
    kept_quiet += [criterion.text for task in texts for criterion in task.criteria]
    kept_quiet += ["would tilt it", "leaves dents", "Torque last."]  # reasons and hints of single answers
    for body in bodies:
        assert [words for words in kept_quiet if words in body] == []


def test_every_question_has_its_number_its_points_and_a_control(every_kind: Pupil) -> None:
    address = every_kind.start()
    page = every_kind.client.get(address).text
    for part, one in enumerate(every_kind.lab(address).variant.scenario.lab_parts, 1):
        for place, task in enumerate(one.tasks, 1):
            assert f'<span class="question-number">{part}.{place}</span>' in page
            assert f'data-answer="{task.id}"' in page
    kinds = set(re.findall(r'data-answer-kind="(\w+)"', page))
    assert kinds == {"text", "spots", "choice", "choices", "order", "placement"}
    assert "0</b> of 38 answered" in page


def test_a_saved_answer_says_so_and_stands_there_again(student: Pupil) -> None:
    address = student.start()
    saved = student.save(address, "static-angle", "4:30")
    assert (saved.status_code, saved.json) == (200, {"saved": True, "problem": None})
    page = student.client.get(address).text
    assert element(page, id="answer-static-angle").get("value") == "4:30"
    assert "1</b> of 11 answered" in page
    assert "Saved today, 9:00 AM" in page


def test_an_answer_that_can_t_be_read_is_kept_and_says_what_to_type(student: Pupil) -> None:
    address = student.start()
    saved = student.save(address, "static-angle", "left").json
    assert saved["saved"] is True
    assert "Type it like 135, or 4:30" in saved["problem"]
    page = student.client.get(address).text
    control = element(page, id="answer-static-angle")
    assert (control.get("value"), control.get("aria-invalid")) == ("left", "true")
    assert "Type it like 135, or 4:30" in page


def test_every_kind_of_answer_is_saved_by_the_script_and_stands_there_again(every_kind: Pupil) -> None:
    address = every_kind.start()
    answers = every_kind.right(address)
    for task, answer in answers.items():
        assert every_kind.save(address, task, answer).json == {"saved": True, "problem": None}, task
    assert every_kind.lab(address).answers == answers
    page = every_kind.client.get(address).text
    assert "38</b> of 38 answered" in page
    corners = answers["comfort"]
    for corner, letter in corners.items():
        chosen = [o.get("value") for o in element(page, id=f"comfort-{corner}") if "selected" in o.attrib]
        assert chosen == [letter]


def test_an_order_is_listed_shuffled_at_first_and_then_as_it_was_answered(every_kind: Pupil) -> None:
    address = every_kind.start()
    task = every_kind.lab(address).variant.scenario.task("fitting-order")
    named = re.compile(r'name="answer-fitting-order\.(\w+)" value="(\d*)"')
    at_first = named.findall(every_kind.client.get(address).text)
    assert {step for step, _ in at_first} == set(task.step_ids)
    assert {place for _, place in at_first} == {""}
    answer = {"torque": "5", "pressure": "1", "nuts": "4", "clean": "2", "hang": "3"}
    every_kind.send(address, {"fitting-order": answer})
    assert every_kind.lab(address).answers["fitting-order"] == answer
    assert named.findall(every_kind.client.get(address).text) == [
        *[("pressure", "1"), ("clean", "2"), ("hang", "3"), ("nuts", "4"), ("torque", "5")]
    ]


def test_an_order_with_a_place_given_twice_says_so_beside_it(every_kind: Pupil) -> None:
    address = every_kind.start()
    answer = {"torque": "5", "pressure": "1", "nuts": "4", "clean": "2", "hang": "2"}
    page = every_kind.send(address, {"fitting-order": answer})
    assert page.status_code == 422
    assert "Place 2 is given twice: to “Clean the hub face” and to “Hang the wheel on the hub”." in page.text
    assert 'name="answer-fitting-order.hang" value="2"' in page.text


@pytest.mark.parametrize("ticked", [[], ["A", "C"], [NONE_OF_THEM]])
def test_ticks_are_saved_as_they_stand(every_kind: Pupil, ticked: list[str]) -> None:
    address = every_kind.start()
    every_kind.save(address, "too-much", ["B"])
    every_kind.save(address, "too-much", ticked)
    page = every_kind.client.get(address).text
    boxes = re.findall(r'name="answer-too-much" value="(\w+)"( checked)?', page)
    assert [value for value, checked in boxes if checked] == ticked


def test_none_of_them_together_with_an_assembly_is_no_answer(every_kind: Pupil) -> None:
    saved = every_kind.save(every_kind.start(), "too-much", ["A", NONE_OF_THEM]).json
    assert "not both" in saved["problem"]


@pytest.mark.parametrize(
    "body",
    [
        [],
        "text",
        {},
        {"task": "static-size"},
        {"task": 1, "answer": "1"},
        {"task": "static-size", "answer": 12},
        {"task": "static-size", "answer": ["a", 1]},
        {"task": "static-size", "answer": {"LF": ["A"]}},
        {"task": "static-size", "answer": {"LF": {"LF": "A"}}},
    ],
)
def test_a_save_of_another_shape_is_refused(student: Pupil, body: object) -> None:
    address = student.start()
    student.client.get(address)
    response = student.client.post(
        f"{address}/answer", json=body, headers={"X-CSRF-Token": student.client.csrf_token}
    )
    assert response.status_code == 400
    assert response.json["message"]


def test_a_save_of_the_same_page_that_arrives_too_late_changes_nothing(student: Pupil) -> None:
    address = student.start()
    for typed, page, revision, kept in (
        ("2", "aaaaaaaa", 2, "2"),
        ("1", "aaaaaaaa", 1, "2"),
        ("2", "aaaaaaaa", 2, "2"),
        ("3", "bbbbbbbb", 1, "3"),
        ("1", "aaaaaaaa", 1, "3"),
        ("4", "aaaaaaaa", 3, "4"),
    ):
        saved = student.save(address, "static-angle", typed, page=page, revision=revision)
        assert (saved.status_code, saved.json) == (200, {"saved": True, "problem": None})
        assert student.lab(address).answers == {"static-angle": kept}


@pytest.mark.parametrize(
    "page_save",
    [
        {"page": "aaaaaaaa"},
        {"page": "aaaaaaaa", "revision": "1"},
        {"page": "aaaaaaaa", "revision": True},
        {"page": "aaaaaaaa", "revision": 0},
        {"page": "aaaaaaaa", "revision": 2**31},
        {"page": "aaaaaaaa", "revision": 1.0},
        {"page": "aaaa", "revision": 1},
        {"page": "a" * 41, "revision": 1},
        {"page": "aaaaaaa\ud800", "revision": 1},
        {"page": ["aaaaaaaa"], "revision": 1},
    ],
)
def test_a_page_that_counts_in_another_way_is_refused(student: Pupil, page_save: dict[str, object]) -> None:
    address = student.start()
    assert student.save(address, "static-angle", "1", **page_save).status_code == 400
    assert student.lab(address).answers == {}


def test_a_save_of_a_task_that_is_not_there_is_refused(student: Pupil) -> None:
    assert student.save(student.start(), "no-such-task", "1").status_code == 404


def test_a_save_without_its_token_is_refused(student: Pupil) -> None:
    address = student.start()
    response = student.client.post(f"{address}/answer", json={"task": "static-size", "answer": "1"})
    assert response.status_code == 400
    assert student.lab(address).answers == {}


def test_a_save_after_handing_in_is_refused_with_the_reason(student: Pupil) -> None:
    address = student.start()
    student.client.get(address)
    token = student.client.csrf_token
    student.hand_in(address)
    response = student.client.post(
        f"{address}/answer",
        json={"task": "static-size", "answer": "1"},
        headers={"X-CSRF-Token": token},
    )
    assert response.status_code == 422
    assert "handed in" in response.json["message"]


def test_the_form_saves_every_kind_of_answer_without_javascript(every_kind: Pupil) -> None:
    address = every_kind.start()
    answers = every_kind.right(address)
    response = every_kind.send(address, answers)
    assert (response.status_code, response.location) == (303, address)
    assert every_kind.lab(address).answers == answers
    assert "Your answers are saved." in every_kind.client.get(address).text


def test_the_form_adds_nothing_to_what_the_script_has_saved(every_kind: Pupil, database: Database) -> None:
    address = every_kind.start()
    answers = every_kind.right(address) | {"customer": "First line.\nSecond line."}
    for task, answer in answers.items():
        every_kind.save(address, task, answer)
    before = events(database, every_kind, address)
    every_kind.send(address, answers | {"customer": "First line.\r\nSecond line."})
    assert events(database, every_kind, address) == before


def test_an_untouched_form_saves_nothing(every_kind: Pupil, database: Database) -> None:
    address = every_kind.start()
    every_kind.send(address, {f"comfort-position-{corner}": "" for corner in ("LF", "RF", "LR", "RR")})
    assert events(database, every_kind, address) == []


def events(database: Database, student: Pupil, address: str) -> list[int]:
    seen = review.attempt(database, attempt_id=address.split("/")[3], instructor=student.lesson.instructor)
    return [event.number for event in seen.events]


def test_unreadable_answers_in_the_form_are_named_each_at_its_place_and_kept(every_kind: Pupil) -> None:
    address = every_kind.start()
    answers = {"age-a": "old", "age-b": "3", "comfort": {"LF": "A", "RF": "A", "LR": "B", "RR": "C"}}
    response = every_kind.send(address, answers, check="1")
    assert response.status_code == 422
    page = response.text
    assert 'href="#answer-age-a"' in page
    assert 'href="#comfort-LF"' in page
    assert "1.1 Age of tire A: “old” is not a number." in page
    assert "stands at two positions" in page
    assert element(page, id="answer-age-a").get("value") == "old"
    assert every_kind.lab(address).answers["age-b"] == "3"
    assert every_kind.lab(address).answers["age-a"] == "old"


def test_a_text_that_is_too_long_to_keep_stays_on_the_page(every_kind: Pupil) -> None:
    address = every_kind.start()
    response = every_kind.send(address, {"age-a": "7", "customer": "word " * 1300})
    assert response.status_code == 422
    assert "too long to keep" in response.text
    assert "word word word" in response.text
    assert element(response.text, id="answer-age-a").get("value") == "7"


def test_a_stale_form_keeps_what_was_typed(student: Pupil) -> None:
    address = student.start()
    response = student.client.post(address, data={"csrf_token": "old", "answer-static-size": "5000"})
    assert response.status_code == 422
    assert "Your entries are kept" in response.text
    assert element(response.text, id="answer-static-size").get("value") == "5000"
    assert student.lab(address).answers == {}


def test_before_handing_in_the_blank_answers_are_counted_and_named(student: Pupil) -> None:
    address = student.start()
    answers = student.right(address) | {"why-two": "", "left-mass": " "}
    response = student.send(address, answers, check="1")
    assert response.location == f"{address}/hand-in"
    page = student.client.get(f"{address}/hand-in").text
    assert "2 answers are blank" in page
    assert "Hand in with 2 blank" in page
    assert f'href="{address}#answer-left-mass"' in page
    assert f'href="{address}#answer-why-two-0"' in page
    assert student.lab(address).handed_in_at is None


def test_handing_in_twice_is_handing_in_once(student: Pupil, database: Database) -> None:
    address = student.start()
    first = student.hand_in(address, student.right(address))
    seen = events(database, student, address)
    second = student.client.post(f"{address}/hand-in", data={"csrf_token": student.client.csrf_token})
    assert first.location == second.location == f"{address}/result"
    assert events(database, student, address) == seen


def test_a_lab_with_unreadable_answers_is_not_handed_in(student: Pupil) -> None:
    address = student.start()
    student.save(address, "static-angle", "left")
    page = student.client.get(f"{address}/hand-in").text
    assert "1 answer can’t be read yet" in page
    assert 'type="submit">Hand in' not in page
    response = student.client.post(f"{address}/hand-in", data={"csrf_token": student.client.csrf_token})
    assert response.status_code == 422
    assert 'href="#answer-static-angle"' in response.text
    assert student.lab(address).handed_in_at is None


def test_a_stale_confirmation_hands_nothing_in(student: Pupil) -> None:
    address = student.start()
    response = student.client.post(f"{address}/hand-in", data={"csrf_token": "old"})
    assert response.status_code == 422
    assert student.lab(address).handed_in_at is None


def test_a_handed_in_lab_leads_to_its_result_and_an_open_one_to_its_lab(student: Pupil) -> None:
    address = student.start()
    assert student.client.get(f"{address}/result").location == address
    student.hand_in(address)
    for place in (address, f"{address}/hand-in"):
        assert student.client.get(place).location == f"{address}/result"
    late_save = student.client.post(address, data={"csrf_token": student.client.csrf_token})
    assert late_save.location == f"{address}/result"


def put_away(student: Pupil, now: datetime) -> None:
    lesson = student.lesson
    rule = {"class_id": lesson.class_id, "instructor": lesson.instructor, "now": now}
    classes.archive_class(student.database, archived=True, **rule)


def test_an_open_lab_of_a_class_that_is_put_away_is_only_read(student: Pupil, now: datetime) -> None:
    address = student.start()
    student.save(address, "static-angle", "217")
    before = student.lab(address).answers
    put_away(student, now)
    page = student.client.get(address)
    assert page.status_code == 200
    assert element(page.text, name="answer-static-angle").get("value") == "217"
    assert element(page.text, disabled="").tag == "fieldset"
    assert "This class is put away" in page.text
    assert student.client.get(f"{address}/hand-in").location == address
    saved = student.save(address, "static-angle", "90")
    assert (saved.status_code, "put away" in saved.json["message"]) == (422, True)
    student.client.get(student.about)
    token = {"csrf_token": student.client.csrf_token}
    for place in (address, f"{address}/hand-in"):
        refused = student.client.post(place, data={**token, "answer-static-angle": "90"})
        assert refused.status_code == 422
        assert "This class is put away" in refused.text
    assert student.lab(address).answers == before


def test_the_result_of_a_class_that_is_put_away_is_read_and_offers_no_other_attempt(
    student: Pupil, now: datetime
) -> None:
    address = student.start()
    student.client.send(f"{address}/hand-in")
    put_away(student, now)
    assert "Try again" not in student.client.get(f"{address}/result").text
    about = student.client.get(student.about)
    assert "This class is put away" in about.text
    refused = student.client.post(f"{student.about}/attempts", data={"csrf_token": student.client.csrf_token})
    assert refused.status_code == 422
    assert "This class is put away" in refused.text


def test_a_second_attempt_has_numbers_of_its_own(student: Pupil) -> None:
    first = student.start()
    student.hand_in(first)
    second = student.start()
    assert first != second
    assert student.right(first) != student.right(second)


def test_markup_in_an_answer_is_shown_as_typed(every_kind: Pupil) -> None:
    address = every_kind.start()
    every_kind.save(address, "customer", "</textarea><b>bold</b>")
    page = every_kind.client.get(address).text
    assert "&lt;/textarea&gt;&lt;b&gt;bold" in page
    assert (element(page, id="answer-customer").text or "").strip() == "</textarea><b>bold</b>"


def test_right_answers_typed_in_the_form_are_all_readable(student: Pupil, database: Database) -> None:
    address = student.start()
    variant = student.lab(address).variant
    student.send(address, right_answers(variant))
    lab = practice.lab(database, attempt_id=address.split("/")[3], student=student.lesson.student)
    assert lab.problems == {}

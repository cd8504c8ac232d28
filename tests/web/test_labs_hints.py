"""Hints in a lab: the cost is said first, no page holds the text before, the mark says what they took."""

import re
from datetime import datetime
from pathlib import Path

import pytest
from flask import Flask

from app.services import classes
from app.store.db import Database
from tests.services.lessons import lesson
from tests.web.labs import Pupil, another_student, lesson_of_every_kind, pupil_of

FIRST, SECOND = "Clean things", "Torque last."


@pytest.fixture
def pupil(app: Flask, database: Database, tmp_path: Path, now: datetime) -> Pupil:
    return pupil_of(app, lesson_of_every_kind(database, lesson(database, now=now), tmp_path, now), database)


def ask(pupil: Pupil, address: str) -> str:
    """Show the next hint; the lab as it is then."""
    at = f"{address}/hints/fitting-order"
    response = pupil.client.send(at, page=at)
    assert (response.status_code, response.location) == (303, f"{address}#hints-fitting-order")
    return str(pupil.client.get(address).text)


def test_no_page_holds_a_hint_before_it_was_asked_for_and_its_cost_is_said(pupil: Pupil) -> None:
    address = pupil.start()
    lab, page = pupil.client.get(address).text, pupil.client.get(f"{address}/hints/fitting-order").text
    assert "Hint 1 of 2: takes off 1 point" in lab
    assert "takes off 1 point" in page
    for text in (FIRST, SECOND):
        assert text not in lab + page
    assert pupil.lab(address).hints == {}


def test_hints_are_shown_one_after_the_other_and_stay(pupil: Pupil) -> None:
    address = pupil.start()
    lab = ask(pupil, address)
    assert "Clean things <strong>first</strong>." in lab
    assert SECOND not in lab
    assert "Hint 2 of 2: takes off 0.5 points" in lab
    assert SECOND in ask(pupil, address)
    assert pupil.lab(address).hints == {"fitting-order": 2}
    assert pupil.client.get(f"{address}/hints/fitting-order").status_code == 303  # none is left


def test_the_mark_says_what_its_hints_took(pupil: Pupil) -> None:
    address = pupil.start()
    ask(pupil, address)
    pupil.hand_in(address, pupil.right(address))
    result = pupil.client.get(f"{address}/result").text
    marked = re.search(r'id="marked-fitting-order".*?</article>', result, re.DOTALL)
    assert marked
    assert "2 of 3" in marked[0]
    assert "For 1 hint 1 point was taken off." in marked[0]
    assert FIRST not in pupil.client.get(f"{address}/hints/fitting-order").text  # leads to the result


def test_there_is_no_hint_where_the_task_has_none_or_the_lab_is_anothers(
    pupil: Pupil, app: Flask, database: Database
) -> None:
    address = pupil.start()
    for task in ("too-much", "no-such-task"):
        assert pupil.client.get(f"{address}/hints/{task}").status_code == 404
    other = pupil_of(app, another_student(database, pupil.lesson), database)
    assert other.client.get(f"{address}/hints/fitting-order").status_code == 404


def test_a_class_that_was_put_away_meanwhile_shows_no_more_hints(pupil: Pupil, now: datetime) -> None:
    address = pupil.start()
    at = f"{address}/hints/fitting-order"
    pupil.client.get(at)
    given = pupil.lesson
    classes.archive_class(
        pupil.database, class_id=given.class_id, instructor=given.instructor, archived=True, now=now
    )
    assert pupil.client.send(at, page=address).status_code == 303
    assert pupil.lab(address).hints == {}

"""The page that marks work again: a preview, then the button."""

from pathlib import Path

import pytest

from app.services import regrading
from app.services.accounts import Person
from app.store.db import Database
from tests import factories
from tests.services.new_version import new_version
from tests.web.given import give, hand_in

MORE_POINTS = ('points = 2\nexplain = "The sum points', 'points = 4\nexplain = "The sum points')


@pytest.fixture
def assignment_id(database: Database, class_id: str, teacher: Person, now) -> str:
    return give(database, class_id=class_id, instructor=teacher, now=now)


@pytest.fixture
def ada(database: Database, class_id: str, teacher: Person, assignment_id: str, now) -> Person:
    """Handed in with all right."""
    student = factories.student(database, class_id=class_id, instructor=teacher, name="Ada Zane")
    hand_in(database, assignment_id=assignment_id, student=student, now=now)
    return student


def test_the_assignment_s_page_leads_to_it_and_says_that_a_newer_version_is_there(
    teacher_client, database, assignment_id, now, tmp_path: Path
):
    new_version(database, tmp_path, now, MORE_POINTS)
    page = teacher_client.get(f"/teaching/assignments/{assignment_id}").text
    assert "version 1; version 2 is there" in page
    assert f'href="/teaching/assignments/{assignment_id}/regrade"' in page


@pytest.mark.usefixtures("ada")
def test_without_a_change_the_page_says_so_and_has_no_button(teacher_client, assignment_id):
    page = teacher_client.get(f"/teaching/assignments/{assignment_id}/regrade").text
    assert "Marking again changes nothing" in page
    assert "<button" not in page.split("<main")[1]


@pytest.mark.usefixtures("ada")
def test_the_preview_shows_who_changes_and_the_button_does_it(
    teacher_client, database, teacher, assignment_id, now, tmp_path: Path
):
    new_version(database, tmp_path, now, MORE_POINTS)
    path = f"/teaching/assignments/{assignment_id}/regrade?version=2"
    page = teacher_client.get(path).text
    for words in (
        "Zane, Ada",
        "15 of 15",
        "17 of 17",
        "+2",
        "Its direction",
        "Move to version 2 and mark again",
    ):
        assert words in page, words
    stamp = regrading.preview_regrade(
        database, assignment_id=assignment_id, instructor=teacher, to_version=2
    ).stamp
    response = teacher_client.send(path, expect=stamp)
    assert response.location == f"/teaching/assignments/{assignment_id}"
    page = teacher_client.get(response.location).text
    assert "Marked again: 1 attempt changed in points." in page
    assert "version 2." in page


def test_a_preview_that_is_out_of_date_is_shown_anew(
    teacher_client, database, ada, assignment_id, now, tmp_path: Path
):
    new_version(database, tmp_path, now, MORE_POINTS)
    path = f"/teaching/assignments/{assignment_id}/regrade?version=2"
    page = teacher_client.get(path).text
    stamp = page.split('name="expect"')[1].split('value="')[1].split('"')[0]
    hand_in(database, assignment_id=assignment_id, student=ada, now=now)
    response = teacher_client.send(path, expect=stamp)
    assert response.status_code == 422
    assert "since this was looked at" in response.text
    assert f'value="{stamp}"' not in response.text, "the new one is sent back next"


@pytest.mark.parametrize("version", ["9", "two", "-1", "1" * 30, ""])
def test_a_version_that_is_not_there_is_no_page(teacher_client, assignment_id, version):
    path = f"/teaching/assignments/{assignment_id}/regrade?version={version}"
    assert teacher_client.get(path).status_code == 404

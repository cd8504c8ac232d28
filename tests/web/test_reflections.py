"""A student's own reflection sheet: written, saved from several pages, handed in."""

import re
from html import unescape

import pytest

from app.services import classes, reflection_workflow
from app.services.accounts import Person
from app.store.db import Database
from tests import factories
from tests.web.conftest import signed_in
from tests.web.given import give, hand_in
from tests.web.reflecting import OWN_WORDS, own, write, written


@pytest.fixture
def assignment_id(database: Database, class_id: str, teacher: Person, now) -> str:
    return give(database, class_id=class_id, instructor=teacher, now=now)


@pytest.fixture
def other_pupil(database: Database, class_id: str, teacher: Person) -> Person:
    return factories.student(database, class_id=class_id, instructor=teacher, name="Bo Abel")


def test_a_student_writes_and_reads_the_own_sheet(pupil_client, database, assignment_id, pupil):
    path = own(assignment_id)
    sent = {"response-senses": OWN_WORDS, "response-check": "First line\r\nsecond line", "response-next": ""}
    assert pupil_client.send(path, **sent).status_code == 303
    assert written(database, assignment_id, pupil) == {
        "senses": OWN_WORDS,
        "check": "First line\nsecond line",
        "next": "",
    }
    page = pupil_client.get(path).text
    assert OWN_WORDS in unescape(page)
    assert "&lt;b&gt;width" in page
    assert "Last saved today" in page


def test_the_own_results_stand_beside_the_text_once_handed_in(
    pupil_client, database, assignment_id, pupil, other_pupil, now
):
    before = pupil_client.get(own(assignment_id)).text
    assert "Nothing is handed in yet" in before
    wrong = hand_in(
        database, assignment_id=assignment_id, student=pupil, now=now, instead={"static-size": "1234 g.mm"}
    )
    assert wrong.handed_in_at
    other = hand_in(
        database,
        assignment_id=assignment_id,
        student=other_pupil,
        now=now,
        instead={"static-size": "4321 g.mm"},
    )
    assert other.handed_in_at
    page = pupil_client.get(own(assignment_id)).text
    assert "1234 g.mm" in page
    assert "13 of 15 points" in page
    assert "4321 g.mm" not in page


def test_a_text_is_saved_while_it_is_written(pupil_client, database, assignment_id, pupil):
    pupil_client.get(own(assignment_id))
    response = pupil_client.post(
        own(assignment_id, "/autosave"),
        json={"task": "senses", "answer": OWN_WORDS, "page": "aaaaaaaa", "revision": 1},
        headers={"X-CSRF-Token": pupil_client.csrf_token},
    )
    assert response.status_code == 200
    assert response.json == {"saved": True, "problem": None}
    assert written(database, assignment_id, pupil)["senses"] == OWN_WORDS


def test_a_text_of_the_same_page_that_arrives_too_late_changes_nothing(
    pupil_client, database, assignment_id, pupil
):
    pupil_client.get(own(assignment_id))
    for text, page, revision, kept in (
        ("two", "aaaaaaaa", 2, "two"),
        ("one", "aaaaaaaa", 1, "two"),
        ("another tab", "bbbbbbbb", 1, "another tab"),
        ("three", "aaaaaaaa", 3, "three"),
    ):
        response = pupil_client.post(
            own(assignment_id, "/autosave"),
            json={"task": "senses", "answer": text, "page": page, "revision": revision},
            headers={"X-CSRF-Token": pupil_client.csrf_token},
        )
        assert (response.status_code, response.json) == (200, {"saved": True, "problem": None})
        assert written(database, assignment_id, pupil)["senses"] == kept


@pytest.mark.parametrize(
    ("body", "status"),
    [
        ({"task": "senses", "answer": "a", "page": "aaaaaaaa"}, 400),
        ({"task": "senses"}, 400),
        ({"task": "senses", "answer": ["a"]}, 400),
        ({"task": 7, "answer": "a"}, 400),
        (["senses", "a"], 400),
        ({"task": "no-such-prompt", "answer": "a"}, 404),
        ({"task": "senses", "answer": "a" * 6001}, 422),
    ],
)
def test_what_cannot_be_saved_is_refused_with_a_message(
    pupil_client, database, assignment_id, pupil, body, status
):
    pupil_client.get(own(assignment_id))
    headers = {"X-CSRF-Token": pupil_client.csrf_token}
    response = pupil_client.post(own(assignment_id, "/autosave"), json=body, headers=headers)
    assert response.status_code == status
    assert response.json["message"]
    assert set(written(database, assignment_id, pupil).values()) == {""}


def test_nothing_is_saved_without_the_page_s_token(pupil_client, database, assignment_id, pupil):
    body = {"task": "senses", "answer": "mine"}
    assert pupil_client.post(own(assignment_id, "/autosave"), json=body).status_code == 400
    form = pupil_client.post(own(assignment_id), data={"response-senses": "mine"})
    assert form.status_code == 422
    assert "mine</textarea>" in form.text, "the text is kept on the page"
    assert written(database, assignment_id, pupil)["senses"] == ""


def test_a_text_that_is_too_long_is_shown_again_and_the_others_are_saved(
    pupil_client, database, assignment_id, pupil
):
    long = "word " * 1300
    response = pupil_client.send(
        own(assignment_id), **{"response-senses": long, "response-check": "A check spin."}
    )
    assert response.status_code == 422
    assert "at most 6000" in response.text
    assert 'href="#response-senses"' in response.text
    assert long.strip() in response.text
    assert written(database, assignment_id, pupil) == {"senses": "", "check": "A check spin.", "next": ""}


def test_signs_that_nothing_can_show_are_left_out(pupil_client, database, assignment_id, pupil):
    pupil_client.get(own(assignment_id))
    pupil_client.post(
        own(assignment_id, "/autosave"),
        json={"task": "senses", "answer": "a\x00b\ud800c\x1b\td\r\ne"},
        headers={"X-CSRF-Token": pupil_client.csrf_token},
    )
    assert written(database, assignment_id, pupil)["senses"] == "abc\td\ne"


def test_the_sheet_of_a_class_that_is_put_away_is_read_and_no_longer_changed(
    pupil_client, database, assignment_id, pupil, teacher, class_id, now
):
    write(database, assignment_id, pupil, OWN_WORDS, now=now)
    pupil_client.get(own(assignment_id))
    classes.archive_class(database, class_id=class_id, instructor=teacher, archived=True, now=now)
    page = pupil_client.get(own(assignment_id))
    assert OWN_WORDS in unescape(page.text)
    assert "<fieldset" in page.text
    assert "This class is put away" in page.text
    sent = {"response-senses": "Something else", "csrf_token": pupil_client.csrf_token}
    refused = pupil_client.post(own(assignment_id), data=sent)
    assert refused.status_code == 422
    assert "Something else" in refused.text
    assert written(database, assignment_id, pupil)["senses"] == OWN_WORDS


def opened_by(page: str) -> str:
    """How an opened page names itself when it saves."""
    [name] = set(re.findall(r"[?]opened=([0-9]+-[0-9a-f]{16})", page))
    return name


def test_the_form_of_an_outdated_page_replaces_nothing_and_tells_its_reader(
    pupil, pupil_client, database, assignment_id
):
    old, fresh = (pupil_client.get(own(assignment_id)).text for _ in range(2))
    digests = dict(re.findall(r'name="(shown-[a-z]+)" value="([0-9a-f]+)"', old))
    new = {
        "opened": opened_by(fresh),
        "response-senses": "The newer text.",
        "csrf_token": pupil_client.csrf_token,
    }
    assert pupil_client.post(own(assignment_id), data=new).status_code == 303
    sent = {
        **{f"response-{name}": "" for name in ("senses", "check", "next")},
        **digests,
        "response-check": "Only this was typed here.",
        "opened": opened_by(old),
        "csrf_token": pupil_client.csrf_token,
    }
    assert pupil_client.post(own(assignment_id), data=sent).status_code == 303
    kept = written(database, assignment_id, pupil)
    assert (kept["senses"], kept["check"]) == ("The newer text.", "Only this was typed here.")

    sent["response-senses"] = "Typed on the outdated page."
    pupil_client.post(own(assignment_id), data=sent)
    assert written(database, assignment_id, pupil)["senses"] == "The newer text."
    page = pupil_client.get(own(assignment_id)).text
    assert "changed in another window" in page
    assert "Kept beside your sheet" in page
    assert "Typed on the outdated page." in page


def test_the_script_of_an_outdated_page_is_told_at_the_question(pupil_client, assignment_id):
    old, fresh = (pupil_client.get(own(assignment_id)).text for _ in range(2))

    def save(page: str, text: str) -> dict:
        return pupil_client.post(
            own(assignment_id, f"/autosave?opened={opened_by(page)}"),
            json={"task": "senses", "answer": text, "page": "aaaaaaaa", "revision": len(text)},
            headers={"X-CSRF-Token": pupil_client.csrf_token},
        ).json

    assert save(fresh, "new") == {"saved": True, "problem": None}
    told = save(old, "stale")
    assert told["saved"] is True
    assert "changed in another window" in told["problem"]
    assert save(fresh, "newer") == {"saved": True, "problem": None}


def test_a_text_kept_aside_is_used_by_its_button(pupil, pupil_client, database, assignment_id):
    for text in ("mine", "other"):
        opened = f"0-{len(text):016x}"
        pupil_client.send(own(assignment_id), **{"response-senses": text, "opened": opened})
    settled = pupil_client.send(
        own(assignment_id, "/aside"),
        page=own(assignment_id),
        prompt="senses",
        aside=f"{len('other'):016x}",
        use="1",
    )
    assert settled.status_code == 303
    assert written(database, assignment_id, pupil)["senses"] == "other"


@pytest.mark.parametrize("opened", ["x", "1-", "-1-0000000000000000", "1-000000000000000g", "9" * 30])
def test_a_page_that_misnames_itself_is_refused(pupil_client, assignment_id, opened):
    pupil_client.get(own(assignment_id))
    answer = pupil_client.post(
        own(assignment_id, f"/autosave?opened={opened}"),
        json={"task": "senses", "answer": "a"},
        headers={"X-CSRF-Token": pupil_client.csrf_token},
    )
    assert answer.status_code == 400


def test_a_sheet_is_handed_in_by_its_button_with_what_stands_in_the_boxes(
    pupil_client, database, assignment_id, pupil
):
    sent = {"response-senses": OWN_WORDS, "hand-in": "1"}
    assert pupil_client.send(own(assignment_id), **sent).status_code == 303
    page = unescape(pupil_client.get(own(assignment_id)).text)
    assert "Your reflection sheet is handed in." in page
    assert OWN_WORDS in page
    assert "<textarea" not in page
    back = pupil_client.send(own(assignment_id, "/take-back"), page=own(assignment_id))
    assert back.status_code == 303
    assert "<textarea" in pupil_client.get(own(assignment_id)).text
    assert written(database, assignment_id, pupil)["senses"] == OWN_WORDS


def test_an_empty_sheet_is_not_handed_in(pupil_client, assignment_id):
    refused = pupil_client.send(own(assignment_id), **{"response-senses": " ", "hand-in": "1"})
    assert refused.status_code == 422
    assert "Nothing is written yet" in refused.text


def test_another_class_s_sheet_is_not_found(app, database, assignment_id):
    other = factories.instructor(database)
    foreign = factories.school_class(database, instructor=other)
    client = signed_in(app, factories.student(database, class_id=foreign, instructor=other))
    assert client.get(own(assignment_id)).status_code == 404
    client.get("/labs")
    sent = {"csrf_token": client.csrf_token, "response-senses": "mine"}
    assert client.post(own(assignment_id), data=sent).status_code == 404
    body = {"task": "senses", "answer": "mine"}
    headers = {"X-CSRF-Token": client.csrf_token}
    assert client.post(own(assignment_id, "/autosave"), json=body, headers=headers).status_code == 404
    assert client.get(own("a" * 20)).status_code == 404


def test_an_instructor_writes_no_student_s_sheet(teacher_client, assignment_id):
    assert teacher_client.get(own(assignment_id)).status_code == 403


def test_the_sheet_refuses_the_wrong_method(pupil_client, assignment_id):
    assert pupil_client.delete(own(assignment_id)).status_code == 405
    assert pupil_client.get(own(assignment_id, "/autosave")).status_code == 405


def test_the_first_page_leads_to_a_sheet_that_came_back(
    pupil_client, database, assignment_id, pupil, teacher, now
):
    assert "Reflection sheets" not in pupil_client.get("/labs").text
    write(database, assignment_id, pupil, OWN_WORDS, now=now)
    assert "Write the sheet" in pupil_client.get("/labs").text
    reflection_workflow.give_back(
        database,
        assignment_id=assignment_id,
        student_id=pupil.public_id,
        instructor=teacher,
        again=False,
        comment="",
        points=None,
        seen_steps=0,
        now=now,
    )
    page = pupil_client.get("/labs").text
    assert "Your instructor has read it." in page
    assert f'href="{own(assignment_id)}"' in page


def test_the_first_page_leads_to_the_sheet_of_a_lab_that_is_handed_in(
    pupil_client, database, assignment_id, pupil, now
):
    hand_in(database, assignment_id=assignment_id, student=pupil, now=now)
    assert f'href="{own(assignment_id)}"' in pupil_client.get("/labs").text

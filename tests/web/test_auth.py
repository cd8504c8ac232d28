"""Coming in and going out."""

from datetime import datetime

import pytest
from flask import Flask

from app.services import accounts, cards
from app.services.accounts import Person
from app.store.db import Database
from tests.web.conftest import CheckedClient, Clock, signed_in

WRONG = "don&#39;t belong together"


@pytest.fixture
def phrase(database: Database, teacher: Person, now: datetime) -> str:
    return accounts.reset_pass_phrase(database, sign_in_name=teacher.sign_in_name, now=now)


def sign_in(client: CheckedClient, name: str, phrase: str, path: str = "/sign-in"):
    return client.send(path, sign_in_name=name, pass_phrase=phrase)


def test_a_visitor_is_sent_to_the_sign_in_page(client):
    response = client.get("/")
    assert (response.status_code, response.location) == (303, "/sign-in")
    assert client.get("/sign-in").status_code == 200


def test_signing_in_leads_to_the_page_that_was_asked_for(client, teacher, phrase, class_id):
    wanted = f"/teaching/classes/{class_id}?a=1"
    asked = client.get(wanted)
    assert asked.status_code == 303
    response = sign_in(client, teacher.sign_in_name, phrase, asked.location)
    assert (response.status_code, response.location) == (303, wanted)
    assert client.get(wanted).status_code == 200


def test_signing_in_ignores_spaces_and_capitals_in_the_name(client, teacher, phrase):
    assert sign_in(client, f" {teacher.sign_in_name.title()} ", phrase).status_code == 303


@pytest.mark.parametrize("role", ["teacher", "pupil"])
def test_the_start_page_leads_to_each_role_s_own_place(role, request):
    client = request.getfixturevalue(f"{role}_client")
    place = {"teacher": "/teaching", "pupil": "/labs"}[role]
    assert client.get("/").location == place
    assert client.get(place).status_code == 200
    assert client.get("/sign-in").location == "/"


def test_a_wrong_phrase_and_an_unknown_name_say_the_same(client, teacher, phrase):
    wrong = sign_in(client, teacher.sign_in_name, "not the phrase")
    unknown = sign_in(client, "nobody.here", phrase)
    assert wrong.status_code == unknown.status_code == 422
    assert WRONG in wrong.text
    assert WRONG in unknown.text
    assert f'value="{teacher.sign_in_name}"' in wrong.text, "the name stays"
    assert "not the phrase" not in wrong.text, "the phrase goes"


def test_too_many_wrong_tries_say_how_long_to_wait(client, teacher, phrase, clock: Clock):
    for _ in range(5):
        assert sign_in(client, teacher.sign_in_name, "wrong").status_code == 422
    response = sign_in(client, teacher.sign_in_name, phrase)
    assert response.status_code == 429
    assert "Wait 1 minute" in response.text
    clock.advance(seconds=31)
    assert sign_in(client, teacher.sign_in_name, phrase).status_code == 303


@pytest.mark.parametrize(
    "elsewhere",
    [
        "//evil.example",
        "https://evil.example",
        "/\\evil.example",
        "/%09/evil.example",
        "javascript:alert(1)",
        "x",
    ],
)
def test_signing_in_never_leads_to_another_host(client, teacher, phrase, elsewhere):
    response = sign_in(client, teacher.sign_in_name, phrase, f"/sign-in?next={elsewhere}")
    assert (response.status_code, response.location) == (303, "/")


def test_a_card_s_code_fills_in_the_name_and_nothing_else(client):
    page = client.get('/sign-in?name=sam"o&pass_phrase=secret').text
    assert 'value="sam&#34;o"' in page
    assert "secret" not in page


def test_signing_in_again_ends_the_session_that_was_there(app: Flask, client, pupil, teacher, phrase):
    entries = {"sign_in_name": teacher.sign_in_name, "pass_phrase": phrase}
    with signed_in(app, pupil) as before:
        page = before.get("/labs")
        assert page.status_code == 200
        with before.session_transaction() as session:
            old_token, old_secret = session["sign_in"], session["csrf"]
        before.post("/sign-in", data={"csrf_token": before.csrf_token, **entries})
        before.get("/teaching")
        with before.session_transaction() as session:
            assert session["sign_in"] != old_token
            assert session["csrf"] != old_secret
    assert client.sign_in_as(old_token).get("/labs").status_code == 303


def test_signing_out_ends_the_sign_in_on_the_server_too(teacher_client):
    teacher_client.get("/teaching")
    with teacher_client.session_transaction() as session:
        token = session["sign_in"]
    response = teacher_client.post("/sign-out", data={"csrf_token": teacher_client.csrf_token})
    assert (response.status_code, response.location) == (303, "/sign-in")
    with teacher_client.session_transaction() as session:
        assert "sign_in" not in session
    assert teacher_client.sign_in_as(token).get("/teaching").status_code == 303


def test_signing_out_with_a_stale_token_offers_the_button_again(teacher_client):
    response = teacher_client.post("/sign-out", data={"csrf_token": "old"})
    assert response.status_code == 400
    assert "Sign out” again" in response.text
    assert teacher_client.get("/teaching").status_code == 200


def test_signing_out_twice_does_no_harm(client):
    assert client.post("/sign-out").location == "/sign-in"


def test_a_sign_in_is_over_after_a_school_day(teacher_client, clock: Clock):
    clock.advance(hours=13)
    assert teacher_client.get("/teaching").status_code == 303


ENTRIES = {
    "display_name": "Robin Lang",
    "sign_in_name": "robin",
    "pass_phrase": "four words of steel",
    "pass_phrase_again": "four words of steel",
}


class TestSetUp:
    @pytest.fixture
    def link(self, database: Database, now: datetime) -> str:
        return f"/setup/{accounts.setup_link(database, now=now)}"

    def test_the_first_instructor_is_signed_in_at_once(self, client, link):
        response = client.send(link, **ENTRIES)
        assert (response.status_code, response.location) == (303, "/")
        assert "Make your first class" in client.get("/teaching").text

    def test_the_link_works_once(self, client, link):
        client.send(link, **ENTRIES)
        assert client.get(link).status_code == 404
        response = client.post(link, data={"csrf_token": client.csrf_token, **ENTRIES})
        assert response.status_code == 404

    def test_a_link_that_never_was_is_no_page(self, client):
        assert client.get("/setup/made-up").status_code == 404

    @pytest.mark.parametrize(
        ("field", "typed", "says"),
        [
            ("display_name", "", "Type the name that students know you by."),
            ("display_name", "x" * 81, "Shorten this to 80 characters"),
            ("sign_in_name", "!", "letters, digits or dots"),
            ("pass_phrase", "short", "at least 12 characters"),
            ("pass_phrase_again", "four words of stone", "Type the same one twice"),
        ],
    )
    def test_a_wrong_entry_is_named_and_the_others_stay(self, client, link, field, typed, says):
        entries = ENTRIES | {field: typed}
        if field == "pass_phrase":
            entries["pass_phrase_again"] = typed
        response = client.send(link, **entries)
        assert response.status_code == 422
        assert says in response.text
        kept = {"display_name": "Robin Lang", "sign_in_name": "robin"} | {field: typed}
        assert all(f'value="{kept[name]}"' in response.text for name in ("display_name", "sign_in_name"))


class TestPassPhrase:
    def test_it_is_changed_and_other_devices_are_signed_out(self, app, teacher, phrase, client):
        sign_in(client, teacher.sign_in_name, phrase)
        other = app.test_client()
        sign_in(other, teacher.sign_in_name, phrase)
        response = client.send(
            "/pass-phrase",
            current_pass_phrase=phrase,
            pass_phrase="a better one than that",
            pass_phrase_again="a better one than that",
        )
        assert response.status_code == 303
        assert client.get("/teaching").status_code == 200
        assert other.get("/teaching").status_code == 303
        assert sign_in(app.test_client(), teacher.sign_in_name, "a better one than that").status_code == 303

    def test_the_wrong_old_one_is_refused(self, teacher_client):
        response = teacher_client.send(
            "/pass-phrase",
            current_pass_phrase="not it at all",
            pass_phrase="a better one than that",
            pass_phrase_again="a better one than that",
        )
        assert response.status_code == 422
        assert "That isn&#39;t your pass phrase" in response.text


def test_the_plain_http_page_says_how_this_visitor_came(client):
    assert "plain http" in client.get("/about").text
    assert "https (TLS)" in client.get("/about", base_url="https://localhost").text


def test_the_cookie_is_secure_only_over_tls(client, app):
    plain = client.get("/sign-in").headers["Set-Cookie"]
    assert "HttpOnly" in plain
    assert "SameSite=Lax" in plain
    assert "Secure" not in plain
    tls = app.test_client().get("/sign-in", base_url="https://localhost").headers["Set-Cookie"]
    assert "Secure" in tls


def test_a_class_of_35_behind_one_address_signs_in(app, database, teacher, class_id, now):
    names = [f"Student Number{number:02}" for number in range(35)]
    made = cards.add_students(database, class_id=class_id, instructor=teacher, names=names, now=now)
    for card in made:
        assert sign_in(app.test_client(), card.sign_in_name, card.pass_phrase).status_code == 303

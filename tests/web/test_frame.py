"""Headers, errors, tokens: what holds for every page. The client checks headers on each answer."""

import pytest
from flask import Flask, abort, jsonify

from app.services import errors as services
from app.web.access import Rule, access
from app.web.forms import require_csrf_header
from app.web.security import static_digest
from tests.web.conftest import Clock, join, signed_in

FETCH = {"Accept": "application/json"}


@pytest.fixture(scope="module")
def joined_app(tmp_path_factory: pytest.TempPathFactory) -> Flask:
    """An application of its own, with a view for each way to fail and one that a script sends to."""
    app = join(tmp_path_factory.mktemp("joined"))

    def add(path: str, raised) -> None:
        def view():
            raise raised

        app.add_url_rule(path, path, access(Rule.ANYONE)(view))

    def save():
        require_csrf_header()
        return jsonify(saved=True)

    add("/fail/not-found", services.NotFound("x"))
    add("/fail/not-allowed", services.NotAllowed("x"))
    add("/fail/refused", services.Refused("name", "Enter the name."))
    add("/fail/unavailable", services.Unavailable("x"))
    add("/fail/bug", ZeroDivisionError("secret detail"))
    app.add_url_rule("/fail/400", "400", access(Rule.ANYONE)(lambda: abort(400, "bad")))
    app.add_url_rule("/save", "save", access(Rule.ANYONE)(save), methods=["POST"])
    return app


@pytest.fixture
def failing(app: Flask, monkeypatch: pytest.MonkeyPatch) -> Flask:
    """Its faults become pages, as they do for people."""
    monkeypatch.setitem(app.config, "PROPAGATE_EXCEPTIONS", False)
    return app


@pytest.mark.parametrize(
    ("path", "status"),
    [
        ("/fail/not-found", 404),
        ("/fail/not-allowed", 403),
        ("/fail/refused", 422),
        ("/fail/unavailable", 503),
        ("/fail/bug", 500),
        ("/fail/400", 400),
        ("/nothing/here", 404),
    ],
)
def test_an_error_is_a_page_for_a_person_and_a_message_for_a_script(failing, path, status):
    client = failing.test_client()
    page = client.get(path)
    assert (page.status_code, page.mimetype) == (status, "text/html")
    assert "secret detail" not in page.text
    fetched = client.get(path, headers=FETCH)
    assert (fetched.status_code, fetched.mimetype) == (status, "application/json")
    assert fetched.json["message"]


def test_a_refusal_names_its_field_to_a_script(failing):
    answer = failing.test_client().get("/fail/refused", headers=FETCH)
    assert answer.json == {"message": "Enter the name.", "field": "name"}


def test_the_name_at_the_head_of_a_page_leads_to_the_own_account(pupil_client, teacher_client, client):
    for who, page, name in (
        (pupil_client, "/labs", "Sam Okafor"),
        (teacher_client, "/teaching", "Robin Lang"),
    ):
        head = who.get(page).text.partition("</header>")[0]
        assert f'href="/pass-phrase"><span class="caps">Your account</span> {name}</a>' in head
    assert "/pass-phrase" not in client.get("/sign-in").text


def test_the_error_page_comes_even_when_the_database_fails(teacher_client, monkeypatch):
    from app.services import accounts

    def down(*_, **__):
        raise services.Unavailable("down")

    monkeypatch.setattr(accounts, "who_is", down)
    answer = teacher_client.get("/teaching")
    assert answer.status_code == 503
    assert "busy" in answer.text
    assert answer.headers["Retry-After"] == "5"


def test_a_form_that_is_too_large_is_413(client):
    answer = client.post("/sign-in", data={"sign_in_name": "x" * 2_000_000})
    assert answer.status_code == 413


@pytest.mark.parametrize("name", ["sign_in_name", "pass_phrase"])
def test_bytes_that_are_no_text_do_no_harm(client, name):
    client.get("/sign-in")
    answer = client.post(
        "/sign-in",
        data=f"csrf_token={client.csrf_token}&{name}=%ff%fe%00".encode(),
        content_type="application/x-www-form-urlencoded",
    )
    assert answer.status_code == 422


class TestToken:
    def test_an_old_page_keeps_the_entries_and_says_to_press_again(self, teacher_client):
        teacher_client.get("/teaching/classes/new")
        stale = "20000101000000##" + teacher_client.csrf_token.partition("##")[2]
        entries = {"name": "Auto 9", "time_zone": "America/Denver", "units": "metric"}
        answer = teacher_client.post("/teaching/classes/new", data={"csrf_token": stale, **entries})
        assert answer.status_code == 422
        assert "Your entries are kept; press the button again." in answer.text
        assert 'value="Auto 9"' in answer.text
        again = teacher_client.post(
            "/teaching/classes/new", data={"csrf_token": teacher_client.csrf_token, **entries}
        )
        assert again.status_code == 303

    def test_entries_survive_being_signed_out_meanwhile(self, app, teacher, teacher_client):
        teacher_client.get("/teaching/classes/new")
        entries = {"csrf_token": teacher_client.csrf_token, "name": "Auto 9", "units": "us"}
        with teacher_client.session_transaction() as session:
            session.clear()
        refused = teacher_client.post("/teaching/classes/new", data=entries)
        assert refused.status_code == 401
        assert "Nothing was saved" in refused.text
        with signed_in(app, teacher).session_transaction() as session:
            token = session["sign_in"]
        teacher_client.sign_in_as(token)
        reloaded = teacher_client.post("/teaching/classes/new", data=entries)
        assert reloaded.status_code == 422
        assert 'value="Auto 9"' in reloaded.text

    def test_it_lasts_a_school_day_and_no_longer(self, client, clock: Clock):
        client.get("/sign-in")
        entries = {"csrf_token": client.csrf_token, "sign_in_name": "nobody", "pass_phrase": "nothing"}
        clock.advance(hours=11)
        assert "too long" not in client.post("/sign-in", data=entries).text
        clock.advance(hours=2)
        answer = client.post("/sign-in", data=entries)
        assert "open too long. Type the pass phrase again" in answer.text

    @pytest.mark.parametrize("token", ["", "##", "x", "29990101000000##", "é##é", "9##" + "0" * 40])
    def test_a_made_up_one_is_refused(self, client, token):
        client.get("/sign-in")
        answer = client.post(
            "/sign-in", data={"csrf_token": token, "sign_in_name": "nobody", "pass_phrase": "nothing"}
        )
        assert "open too long" in answer.text

    def test_another_session_s_is_refused(self, app, client):
        other = app.test_client()
        other.get("/sign-in")
        client.get("/sign-in")
        answer = client.post(
            "/sign-in", data={"csrf_token": other.csrf_token, "sign_in_name": "a", "pass_phrase": "b"}
        )
        assert "open too long" in answer.text

    def test_a_browser_that_was_given_none_takes_none_that_is_pieced_together(self, app, client, pupil):
        client.get("/sign-in")
        until, _, signature = client.csrf_token.partition("##")
        with client.session_transaction() as session:
            secret = session["csrf"]
        fresh = signed_in(app, pupil)
        for token in (f"{secret}{until}##{signature}", client.csrf_token, ""):
            answer = fresh.post("/save", json={}, headers={"X-CSRF-Token": token})
            assert answer.status_code == 400
            assert "open too long" in answer.json["message"]

    def test_a_browser_without_cookies_is_told_so(self, app):
        client = app.test_client(use_cookies=False)
        client.get("/sign-in")
        answer = client.post("/sign-in", data={"csrf_token": client.csrf_token, "sign_in_name": "a"})
        assert "Allow cookies for this address" in answer.text

    def test_a_script_sends_it_in_a_header(self, app):
        client = app.test_client()
        client.get("/sign-in")
        good = client.post("/save", json={}, headers={"X-CSRF-Token": client.csrf_token})
        assert good.json == {"saved": True}
        for headers in ({}, {"X-CSRF-Token": "made up"}):
            bad = client.post("/save", json={}, headers=headers)
            assert bad.status_code == 400
            assert "open too long" in bad.json["message"]


class TestStaticFiles:
    def test_they_are_kept_for_a_year_and_pages_never(self, client):
        page = client.get("/sign-in")
        assert page.headers["Cache-Control"] == "no-store"
        address = page.text.partition('href="/static/')[2].partition('"')[0]
        kept = client.get(f"/static/{address}").headers["Cache-Control"]
        assert "immutable" in kept
        assert "max-age=31536000" in kept

    def test_their_address_changes_with_any_file(self, tmp_path):
        (tmp_path / "a.css").write_text("a")
        first = static_digest(tmp_path)
        assert static_digest(tmp_path) == first
        (tmp_path / "a.css").write_text("b")
        second = static_digest(tmp_path)
        (tmp_path / "a.css").rename(tmp_path / "b.css")
        assert len({first, second, static_digest(tmp_path)}) == 3

    @pytest.mark.parametrize("path", ["../README.md", "..%2fREADME.md", "%2e%2e/README.md"])
    def test_nothing_outside_their_folder_is_served(self, app, client, path):
        assert client.get(f"{app.static_url_path}/{path}").status_code == 404


@pytest.mark.parametrize(
    "made_up", ["1", "A" * 20, "a" * 19, "a" * 21, "0" * 20, "a" * 19 + "%00", "..%2f" + "a" * 15]
)
def test_an_id_that_the_store_never_makes_is_no_page(teacher_client, made_up):
    assert teacher_client.get(f"/teaching/classes/{made_up}").status_code == 404

"""Every route with its rule, and every kind of visitor at every route."""

import sqlite3
from collections.abc import Iterator

import pytest
from flask import Flask
from werkzeug.routing import IntegerConverter
from werkzeug.routing import Rule as Route

from app.settings import Settings
from app.web import access as module
from app.web.access import Rule, UnlistedViewError, access, own_path, rules_by_endpoint
from tests.web.conftest import signed_in

PLACES = {
    "/teaching": Rule.INSTRUCTOR,
    "/labs": Rule.STUDENT,
    "/calculators/model": Rule.INSTRUCTOR,
    "/calculators": Rule.SIGNED_IN,
    "/images": Rule.SIGNED_IN,
}
"""Whatever lies under these addresses has the rule of the first that fits."""

ELSEWHERE = {
    "static": Rule.ANYONE,
    "auth.home": Rule.ANYONE,
    "auth.sign_in": Rule.ANYONE,
    "auth.sign_in_now": Rule.ANYONE,
    "auth.sign_out": Rule.ANYONE,
    "auth.setup": Rule.ANYONE,
    "auth.setup_now": Rule.ANYONE,
    "auth.about": Rule.ANYONE,
    "auth.pass_phrase": Rule.SIGNED_IN,
    "auth.change_pass_phrase": Rule.SIGNED_IN,
    "auth.end_device": Rule.SIGNED_IN,
    "auth.one_time_code": Rule.ANYONE,
    "auth.use_one_time_code": Rule.ANYONE,
}
"""Every other route has to be listed here by name."""


def rule_by_address(route: Route) -> Rule | None:
    for place, rule in PLACES.items():
        if route.rule == place or route.rule.startswith(place + "/"):
            return rule
    return ELSEWHERE.get(route.endpoint)


def visits(app: Flask, **known: str) -> Iterator[tuple[str, str, Rule]]:
    """Every route's method, an address for it, and its rule. Ids that the test doesn't know are made up."""
    rules = rules_by_endpoint(app)
    for route in app.url_map.iter_rules():
        values = {name: known.get(name) or _made_up(kind) for name, kind in _arguments(route)}
        with app.test_request_context():
            address = app.url_for(route.endpoint, **values)
        for method in sorted(route.methods & {"GET", "POST", "PUT", "PATCH", "DELETE"}):
            yield method, address, rules[route.endpoint]


def _made_up(converter: object) -> int | str:
    return 1 if isinstance(converter, IntegerConverter) else "a" * 20


def _arguments(route: Route) -> list[tuple[str, object]]:
    return list(route._converters.items())  # noqa: SLF001 (werkzeug has no public name for them)


def test_every_route_has_the_rule_of_its_place(app: Flask):
    rules = rules_by_endpoint(app)
    wrong = {
        route.rule: f"{rules[route.endpoint]}, expected {rule_by_address(route)}"
        for route in app.url_map.iter_rules()
        if rules[route.endpoint] is not rule_by_address(route)
    }
    assert wrong == {}


def test_no_route_is_listed_that_is_not_there(app: Flask):
    assert set(ELSEWHERE) <= {route.endpoint for route in app.url_map.iter_rules()}


def test_a_view_without_a_rule_is_refused_by_name(app: Flask, monkeypatch):
    monkeypatch.setitem(app.view_functions, "forgotten", lambda: "hello")
    with pytest.raises(UnlistedViewError, match="forgotten"):
        rules_by_endpoint(app)


def test_an_application_with_a_view_without_a_rule_does_not_start(tmp_path, monkeypatch):
    from app import factory

    monkeypatch.setattr(module, "access", lambda _: lambda view: view)
    settings = Settings(data_folder=tmp_path, database_url=f"sqlite:///{tmp_path}/a.db", secret_key="k" * 40)
    with pytest.raises(UnlistedViewError, match="static"):
        factory.create_app(settings)


def test_a_visitor_reaches_only_what_anyone_may(app: Flask, client, class_id, pupil):
    for method, address, rule in visits(app, class_id=class_id, student_id=pupil.public_id):
        if rule is Rule.ANYONE:
            continue
        answer = client.open(address, method=method)
        if method == "GET":
            assert answer.status_code == 303, address
            assert answer.location.startswith("/sign-in?next="), address
        else:
            assert answer.status_code == 401, address
        fetched = client.open(address, method=method, headers={"Accept": "application/json"})
        assert (fetched.status_code, list(fetched.json)) == (401, ["message"]), address


@pytest.mark.parametrize(("who", "other"), [("pupil", Rule.INSTRUCTOR), ("teacher", Rule.STUDENT)])
def test_the_wrong_role_is_told_so(app: Flask, who, other, request, class_id, pupil):
    client = signed_in(app, request.getfixturevalue(who))
    tried = 0
    for method, address, rule in visits(app, class_id=class_id, student_id=pupil.public_id):
        if rule is other:
            tried += 1
            assert client.open(address, method=method).status_code == 403, address
    assert tried > 0


def test_another_instructor_finds_no_page_of_a_class(app: Flask, stranger_client, class_id, pupil):
    stranger_client.get("/teaching")
    tried = 0
    for method, address, _ in visits(app, class_id=class_id, student_id=pupil.public_id):
        if class_id in address and address.startswith("/teaching"):
            tried += 1
            data = {"csrf_token": stranger_client.csrf_token} if method == "POST" else None
            assert stranger_client.open(address, method=method, data=data).status_code == 404, address
    assert tried >= 10


@pytest.mark.parametrize("who", ["teacher", "pupil"])
def test_nothing_changes_without_the_page_s_token(app: Flask, who, request, database, class_id, pupil):
    client = signed_in(app, request.getfixturevalue(who))
    before = stored(database.file)
    for method, address, _ in visits(app, class_id=class_id, student_id=pupil.public_id):
        if method != "GET":
            answer = client.open(address, method=method)
            assert answer.status_code in (303, 400, 401, 403, 404, 415, 422), f"{address} {answer.status}"
            assert stored(database.file) == before, address


def stored(file) -> list[str]:
    """Everything in the database but the times at which someone was last seen."""
    with sqlite3.connect(file) as connection:
        return [line for line in connection.iterdump() if '"sign_in"' not in line]


def test_a_wrong_method_is_405_and_names_the_right_ones(client):
    answer = client.get("/sign-out")
    assert answer.status_code == 405
    assert "POST" in answer.headers["Allow"]


@pytest.mark.parametrize("path", ["/labs", "/teaching/classes/new", "/a?b=c&d=/e", "/é"])
def test_an_own_path_is_kept(path):
    assert own_path(path) == path


@pytest.mark.parametrize(
    "path", [None, "", "labs", "//host", "/\\host", "/\thost", "/a\nb", "https://host/", "/a\x7f", "\\\\host"]
)
def test_anything_but_an_own_path_is_dropped(path):
    assert own_path(path) is None


def test_the_rule_is_read_through_other_decorators(app: Flask, monkeypatch):
    from functools import wraps

    def other(view):
        @wraps(view)
        def inner(*args, **kwargs):
            return view(*args, **kwargs)

        return inner

    monkeypatch.setitem(app.view_functions, "wrapped", other(access(Rule.STUDENT)(lambda: "")))
    assert rules_by_endpoint(app)["wrapped"] is Rule.STUDENT

"""Every route, asked by every kind of person about things that are really there: who sees them, who doesn't,
and that looking changes nothing.

`test_access.py` holds the rules of the routes; here are the things behind them.
"""

import re
import sqlite3
from contextlib import closing
from html import unescape
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from flask import Flask
from werkzeug.routing import Rule as Route

from app.web.access import Rule, rules_by_endpoint
from tests.term import SECRET, Term, a_term
from tests.web.client import CheckedClient
from tests.web.conftest import Clock, signed_in
from tests.web.whole_term import addresses

ROLES = {
    "student": Rule.STUDENT,
    "mate": Rule.STUDENT,
    "dropped": Rule.STUDENT,
    "outsider": Rule.STUDENT,
    "teacher": Rule.INSTRUCTOR,
    "second": Rule.INSTRUCTOR,
    "stranger": Rule.INSTRUCTOR,
}
"""`Term` says who they are."""

OF_A_CLASS = {"class_id", "assignment_id", "attempt_id"}
OF_ONE_AUTHOR = {"draft_id", "file_id"}

LEADS_ON = {
    "auth.home": 303,
    "auth.sign_in": 303,  # for whoever is signed in
    "auth.setup": 404,  # its link was never made
    "teaching.choose_classes": 422,  # the file that was sent is a list and no roster
}
"""What answers GET otherwise than with 200, although it may be reached."""

SENT_BY_A_SCRIPT = {"labs.save_answer", "labs.autosave_reflection"}
"""Take JSON alone."""


@pytest.fixture
def term(database, now) -> Term:
    return a_term(database, now)


def may_see(who: str, route: Route, rule: Rule) -> bool:
    """Whether something is there for this person, where the route's rule lets them in."""
    if who == "student":
        return True
    if rule in (Rule.STUDENT, Rule.SIGNED_IN) and ROLES[who] is Rule.STUDENT:
        if "attempt_id" in route.arguments:
            return False  # the student's
        if "assignment_id" in route.arguments or "version_id" in route.arguments:
            return who == "mate"  # who is in the class
        return True
    if OF_ONE_AUTHOR & route.arguments:
        return who == "teacher"
    if OF_A_CLASS & route.arguments:
        return who in ("teacher", "second")
    return True


@pytest.mark.slow
@pytest.mark.parametrize("who", ROLES)
def test_a_person_sees_what_is_theirs_and_finds_nothing_else(app: Flask, database, term: Term, who: str):
    client = signed_in(app, getattr(term, who))
    rules = rules_by_endpoint(app)
    before = stored(database.file)
    wrong = []
    for route, address in addresses(app, term, "GET"):
        rule = rules[route.endpoint]
        answer = client.get(address)
        if rule not in (Rule.ANYONE, Rule.SIGNED_IN, ROLES[who]):
            expected = 403
        elif not may_see(who, route, rule):
            expected = 404
        else:
            expected = LEADS_ON.get(route.endpoint, 200)
        if answer.status_code != expected:
            wrong.append(f"{address} ({route.endpoint}): {answer.status_code}, expected {expected}")
    assert wrong == []
    assert stored(database.file) == before


@pytest.mark.slow
@pytest.mark.parametrize("who", ["mate", "dropped", "outsider", "stranger", "second"])
def test_nobody_changes_what_is_anothers(app: Flask, database, term: Term, who: str):
    """With a token of their own; the entries of each form are missing, so nothing is right about what they
    send but the address."""
    client = signed_in(app, getattr(term, who))
    client.get("/pass-phrase")
    rules = rules_by_endpoint(app)
    before, tried = stored(database.file), 0
    for route, address in addresses(app, term, "POST"):
        rule = rules[route.endpoint]
        if rule is not ROLES[who] or may_see(who, route, rule):
            continue
        tried += 1
        form = client.post(address, data={"csrf_token": client.csrf_token})
        sent = client.post(address, json={}, headers={"X-CSRF-Token": client.csrf_token})
        assert form.status_code == (400 if route.endpoint in SENT_BY_A_SCRIPT else 404), address
        assert sent.status_code in (303, 400, 404, 415, 422), f"{address}: {sent.status_code}"
        assert SECRET not in form.text + sent.text, address
        assert stored(database.file) == before, address
    assert tried >= 2


@pytest.mark.parametrize("who", ROLES)
def test_a_sign_in_that_is_over_opens_nothing(app: Flask, term: Term, clock: Clock, who: str):
    client = signed_in(app, getattr(term, who))
    clock.advance(hours=13)  # a school day is 12
    rules = rules_by_endpoint(app)
    for method in ("GET", "POST"):
        for route, address in addresses(app, term, method):
            if rules[route.endpoint] is not Rule.ANYONE:
                answer = client.open(address, method=method)
                assert answer.status_code == (303 if method == "GET" else 401), address


@pytest.mark.slow
@pytest.mark.parametrize("who", ROLES)
def test_following_every_link_changes_nothing(app: Flask, database, term: Term, who: str):
    client = signed_in(app, getattr(term, who))
    before = stored(database.file)
    seen = crawl(app, client)
    assert len(seen) >= 3
    assert stored(database.file) == before


def crawl(app: Flask, client: CheckedClient) -> dict[tuple[str, ...], str]:
    """Visit what the pages link to, once for each endpoint with each set of names in its query."""
    seen: dict[tuple[str, ...], str] = {}
    waiting = ["/"]
    while waiting:
        address = waiting.pop()
        parts = urlsplit(address)
        endpoint, _ = app.url_map.bind("").match(parts.path, method="GET")
        kind = (endpoint, *sorted(parse_qs(parts.query)))
        if kind in seen:
            continue
        answer = client.get(address)
        assert answer.status_code in (200, 303), address
        seen[kind] = address
        found = (
            re.findall(r'\b(?:href|src)="(/[^"#]*)', answer.text) if answer.mimetype == "text/html" else []
        )
        waiting += [unescape(each) for each in found] + ([answer.location] if answer.location else [])
    return seen


@pytest.mark.slow
@pytest.mark.parametrize("who", ["student", "mate", "dropped", "outsider"])
def test_no_page_of_a_student_tells_of_another(app: Flask, term: Term, who: str):
    person = getattr(term, who)
    client = signed_in(app, person)
    others = {getattr(term, each) for each, role in ROLES.items() if role is Rule.STUDENT} - {person}
    secrets = {
        secret
        for other in others
        for secret in (
            other.display_name,
            other.display_name.split()[1],
            other.sign_in_name,
            other.public_id,
            *term.attempts.get(other.sign_in_name, {}).values(),
        )
    }
    everything = {*crawl(app, client).values(), *(address for _, address in addresses(app, term, "GET"))}
    pages = [
        client.get(address).data.decode(errors="replace")
        for address in everything
        if not address.startswith("/static/")
    ]
    assert [secret for secret in secrets for page in pages if re.search(rf"\b{secret}\b", page)] == []


def stored(file: Path) -> list[str]:
    """Everything in the database but what is noted of looking on purpose: when someone was last seen, and who
    read a student's whole record."""
    with closing(sqlite3.connect(file)) as connection:
        lines = connection.iterdump()
        return [line for line in lines if '"sign_in"' not in line and "'read record" not in line]

"""A disk that fills up in the middle of anything: the page says so, and what was there before is there."""

from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask

from tests.faults import failing_at
from tests.term import HINTED_TASK, TEXT_TASK, Term, a_term
from tests.web.conftest import CheckedClient, signed_in
from tests.web.test_reach import stored

MOST_WRITES_OF_A_FLOW = 60

PathOf = Callable[[Term], str]


@pytest.fixture
def term(database, now) -> Term:
    return a_term(database, now)


def lab(term: Term, assignment_id: str) -> str:
    return f"/labs/attempts/{term.attempts[term.student.sign_in_name][assignment_id]}"


def teaching(term: Term, rest: str) -> str:
    return f"/teaching/classes/{term.arguments['class_id']}{rest}"


FLOWS: dict[str, tuple[str, PathOf, dict[str, Any]]] = {
    "sign in": ("", lambda _: "/sign-in", {"sign_in_name": "samo", "pass_phrase": "not the right words"}),
    "start a lab": ("mate", lambda term: f"/labs/assignments/{term.own}/attempts", {}),
    "save every answer": (
        "student",
        lambda term: lab(term, term.hinted),
        {f"answer-{HINTED_TASK}": "2 oz.in"},
    ),
    "take a hint": ("student", lambda term: f"{lab(term, term.own)}/hints/{HINTED_TASK}", {"number": "2"}),
    "hand in": ("student", lambda term: f"{lab(term, term.hinted)}/hand-in", {}),
    "mark a text": (
        "teacher",
        lambda term: f"/teaching/attempts/{term.arguments['attempt_id']}/marks/{TEXT_TASK}",
        {"points": "2", "comment": "Better"},
    ),
    "make a class": (
        "teacher",
        lambda _: "/teaching/classes/new",
        {"name": "Auto 4", "time_zone": "America/Chicago", "units": "us"},
    ),
    "add students": (
        "teacher",
        lambda term: teaching(term, "/add-students"),
        {"names": "Lovelace, Ann\nBo Diaz", "add": "1"},
    ),
    "sign out a class": ("teacher", lambda term: teaching(term, "/sign-out"), {}),
    "drop a student": (
        "teacher",
        lambda term: teaching(term, f"/students/{term.mate.public_id}/drop"),
        {},
    ),
    "delete a student": (
        "teacher",
        lambda term: teaching(term, f"/students/{term.mate.public_id}/delete"),
        {"typed_name": "Mira Castellan"},
    ),
    "publish": (
        "teacher",
        lambda term: f"/teaching/scenarios/drafts/{term.arguments['draft_id']}/publish",
        {"note": "Second"},
    ),
}


@pytest.mark.slow
@pytest.mark.parametrize("flow", FLOWS)
def test_a_fault_at_any_write_of_a_flow_is_said_and_tears_nothing(
    app: Flask, database, term: Term, flow: str
):
    who, path, entries = FLOWS[flow]
    client = signed_in(app, getattr(term, who)) if who else app.test_client()
    assert isinstance(client, CheckedClient)
    client.get("/pass-phrase" if who else "/sign-in")
    before = stored(database.file)
    faults = 0
    for at in range(1, MOST_WRITES_OF_A_FLOW):
        with failing_at(database, at) as failing:
            answer = client.post(path(term), data={"csrf_token": client.csrf_token, **entries})
        if not failing.reached:
            break
        faults += 1
        assert answer.status_code == 503, f"at write {at}"
        assert "Nothing was saved" in answer.text
        assert stored(database.file) == before, f"at write {at}"
    assert answer.status_code in (200, 303, 422)
    assert stored(database.file) != before or flow == "sign out a class"  # which changes sign-ins alone
    assert faults >= 3  # to begin, to write, to commit

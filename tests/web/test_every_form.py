"""Every form that any page shows, sent by those who may and those who may not, as it should be and with every
field as it should not be.

The hostile entries are common practice, no source; the signs for direction and without width are Unicode's
(UAX #9 and UAX #31, from memory).
"""

import csv
import io
import zipfile
from collections.abc import Iterator

import pytest

from app.web.access import Rule, rules_by_endpoint
from tests.web.every_form import FilledForm
from tests.web.test_reach import ROLES, may_see
from tests.web.whole_term import PEOPLE, VISITOR, Stage, addresses

WHO = (VISITOR, "student", "mate", "teacher", "second")

CHANGE_NOTHING = {"teaching.try_draft_now", "teaching.try_scenario_now", "teaching.do_regrade"}
"""A lab is tried without keeping it; there is nothing to regrade."""

COUNT_WRONG_TRIES = {"auth.sign_in_now", "auth.use_one_time_code", "auth.change_pass_phrase"}
KEEP_WHAT_IS_GOOD = {"labs.save_answers", "labs.save_answer", "labs.save_reflection"}
"""They refuse a part and keep the rest, an answer that can't be read too."""

SCRIPT = "<script>alert(1)</script>"
FORMULA = "=HYPERLINK(1)"
HOSTILE = (
    *("NaN", "-Infinity", "1e999", "٣", "１２", "\u202e12", "1\u200b2", "\0", "-1", "9" * 400, "1/0", ""),
    *(SCRIPT, FORMULA, "a\r\nSet-Cookie: b=c", "../../x", "A" * 20_000, "e" + "\u0301" * 300, "{{ 7*7 }}"),
)
HOSTILE_CHOICES = ("", "NaN", "\0", SCRIPT, "a" * 20, "-1", "٣")
REFUSALS = (400, 403, 404, 413, 422, 429)
ENDS_SOMETHING = (
    *("archive", "close", "delete", "drop", "hand_in", "move", "publish", "put", "remove", "sign_out"),
    *("take_back", "take_image_out", "throw", "do_regrade", "settle"),
)


@pytest.mark.slow
def test_a_form_is_sent_here_for_every_address_that_takes_one_and_it_changes_something(stage: Stage):
    takes = {route.endpoint for route, _ in addresses(stage.app, stage.whole.term, "POST")}
    changed, wrong = set(), []
    for who in WHO:
        for form in stage.forms(who):
            before = stage.version()
            answer = stage.send(form, who)
            if answer.status_code not in (200, 303, 422):
                wrong.append(f"{form.endpoint}: {answer.status_code}")
            if stage.version() != before:
                changed.add(form.endpoint)
                stage.restore()
    assert wrong == []
    assert takes - changed == CHANGE_NOTHING | {"auth.setup_now"}  # which is for a server without instructors


@pytest.mark.slow
def test_without_the_page_s_token_nothing_changes(stage: Stage):
    anothers = stage.clients["outsider"].csrf_token
    before, wrong = stage.version(), []
    for who in WHO:
        for form in stage.forms(who):
            for token in ("", anothers):
                answer = stage.send(form, who, token=token)
                if answer.status_code not in (303, 400, 422) or stage.version() != before:
                    wrong.append(f"{who}: {form.endpoint}: {answer.status_code}")
    assert wrong == []


@pytest.mark.slow
def test_what_one_may_send_another_may_not(stage: Stage):
    """Whole and right, with a token of their own."""
    rules = rules_by_endpoint(stage.app)
    routes = {route.endpoint: route for route, _ in addresses(stage.app, stage.whole.term, "POST")}
    before, tried, wrong = stage.version(), 0, []
    for owner in ("student", "teacher"):
        for form in stage.forms(owner):
            rule, route = rules[form.endpoint], routes[form.endpoint]
            for who in (VISITOR, *PEOPLE):
                if who == VISITOR or rule not in (ROLES[who], Rule.ANYONE, Rule.SIGNED_IN):
                    expected = 401 if who == VISITOR else 403
                elif not may_see(who, route, rule):
                    expected = 404
                else:
                    continue
                if rule is Rule.ANYONE:
                    continue
                tried += 1
                answer = stage.send(form, who)
                if answer.status_code != expected or stage.version() != before:
                    wrong.append(f"{who}: {form.path}: {answer.status_code}, expected {expected}")
    assert wrong == []
    assert tried > 300


def fields(forms: list[FilledForm]) -> Iterator[tuple[FilledForm, str, tuple[str, ...]]]:
    """Each form with each of its fields, those of the same name once, and what is tried in it."""
    seen = set()
    for form in forms:
        for name in form.entries:
            if (form.endpoint, name) not in seen:
                seen.add((form.endpoint, name))
                yield form, name, HOSTILE if name in form.typed or form.as_json else HOSTILE_CHOICES


@pytest.mark.slow
@pytest.mark.parametrize("who", WHO[:-1])
def test_whatever_stands_in_any_field_it_is_taken_or_refused_and_the_page_still_opens(stage: Stage, who: str):
    wrong, tried = [], 0
    before = stage.version()
    for form, name, texts in fields(stage.forms(who)):
        for text in texts:
            tried += 1
            told = f"{form.endpoint} {name} {ascii(text)[:30]}"
            try:
                answer = stage.send(form.with_entries({name: text}), who)
                changed = stage.version() != before
                opened = stage.clients[who].get(form.page).status_code if changed else 200
            except Exception as error:  # all that went wrong is told together
                wrong.append(f"{told}: {error!r}")
                continue
            refused = answer.status_code in REFUSALS
            if not refused and answer.status_code not in (200, 303):
                wrong.append(f"{told}: {answer.status_code}")
            if SCRIPT in answer.text:
                wrong.append(f"{told}: markup")
            if opened not in (200, 303, 404):
                wrong.append(f"{told}: its page answers {opened}")
            if changed and refused and form.endpoint not in COUNT_WRONG_TRIES | KEEP_WHAT_IS_GOOD:
                wrong.append(f"{told}: refused and changed")
            if changed:
                stage.restore()
                before = stage.version()
    assert wrong == []
    assert tried >= {VISITOR: 100, "student": 500, "mate": 50, "teacher": 1000}[who]


@pytest.mark.slow
@pytest.mark.parametrize("text", [FORMULA, SCRIPT, "@a\u0301 -ﷺ #eval(1) $x$ *b*"])
def test_texts_of_any_signs_are_texts_on_every_page_and_in_every_file(stage: Stage, text: str):
    """Whatever takes the text keeps it; then every page and every file of everybody is opened."""
    kept = 0
    for who in WHO[1:-1]:
        for form, name, _ in fields(stage.forms(who)):
            if name in form.typed and not form.endpoint.split(".")[1].startswith(ENDS_SOMETHING):
                before = stage.version()
                assert stage.send(form.with_entries({name: text}), who).status_code < 500
                kept += stage.version() != before
    assert kept >= 20
    files = 0
    for who in PEOPLE:
        for address in stage.pages(who):
            answer = stage.clients[who].get(address)
            assert answer.status_code < 500, address
            if answer.mimetype == "text/html":
                assert SCRIPT not in answer.text, address
            files += runs_nothing(address, answer.data, answer.mimetype)
    assert files >= 8


def runs_nothing(address: str, content: bytes, kind: str) -> bool:
    """Whether it is a table; fails if a spreadsheet would find a formula in it."""
    if kind == "text/csv":
        for row in csv.reader(io.StringIO(content.decode("utf-8-sig"))):
            for cell in row:
                assert not cell.startswith(("=", "+", "@", "\t", "\r")), f"{address}: {cell}"
                assert not cell.startswith("-") or cell[1:].replace(".", "").isdigit(), f"{address}: {cell}"
        return True
    if kind.endswith("spreadsheetml.sheet"):
        with zipfile.ZipFile(io.BytesIO(content)) as book:
            for name in book.namelist():
                assert b"<f>" not in book.read(name), f"{address}: {name}"
                assert b"<f " not in book.read(name), f"{address}: {name}"
        return True
    return False

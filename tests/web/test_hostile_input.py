"""Input that was made to hurt gets a clear answer and changes nothing; it is never a fault of the server.

The client checks headers and markup of every answer; a fault of the server reaches the test as its exception.
The inputs are common practice, no source; those for redirects follow the URL Standard of the WHATWG (from
memory): browsers read a backslash as a slash and skip tabs and line ends.
"""

import json
from html import unescape
from time import process_time
from typing import Any

import pytest

from app.services import assignments, classes, practice, reflections, review
from app.services.accounts import Person
from app.services.labs import Lab
from app.store.db import Database
from tests.web.given import begin, give, hand_in

SCRIPT = "<script>alert(1)</script>"
ONE_MEGABYTE = 1024 * 1024
FORM, JSON, PARTS = "application/x-www-form-urlencoded", "application/json", "multipart/form-data; boundary=b"


def short(value: object) -> str:
    return ascii(value)[:40]


def hostile(names: str, values: list[Any]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize(names, values, ids=short)


@pytest.fixture
def assignment_id(database: Database, class_id: str, teacher: Person, now) -> str:
    return give(database, class_id=class_id, instructor=teacher, now=now, slug="four-assemblies")


@pytest.fixture
def lab(database: Database, assignment_id: str, pupil: Person, now) -> Lab:
    """Open, with one answer saved."""
    return begin(
        database, assignment_id=assignment_id, student=pupil, now=now, answers={"why-comfort": "nearest"}
    )


def saved(database: Database, lab: Lab, student: Person) -> dict[str, Any]:
    return dict(practice.lab(database, attempt_id=lab.attempt_id, student=student).answers)


def send_answer(client, lab: Lab, body: str | bytes, content_type: str = JSON):
    client.get("/labs")
    headers = {"X-CSRF-Token": client.csrf_token, "Accept": JSON}
    path = f"/labs/attempts/{lab.attempt_id}/answer"
    return client.post(path, data=body, content_type=content_type, headers=headers)


# ---- answers ----


@hostile(
    "body",
    [
        "", "{", "null", "[]", "1", '"text"', "{}", '{"task":"age-a","answer":NaN}', "1" * 5000,
        '{"task":"age-a"}', '{"answer":"1"}', '{"task":null,"answer":"1"}', '{"task":["age-a"],"answer":"1"}',
        '{"task":"age-a","answer":1e999}', '{"task":"age-a","answer":true}', '{"task":"age-a","answer":[1]}',
        '{"task":"age-a","answer":{"LF":1}}', '{"task":"","answer":"1"}', '{"task":"\\u0000","answer":"1"}',
        '{"task":"\\ud800","answer":"1"}', '{"task":"../age-a","answer":"1"}',
        '{"task":"AGE-A","answer":"1"}',
        json.dumps({"task": "age-a" * 9999, "answer": "1"}),
        json.dumps({"task": "age-a", "answer": "1" * 6001}),
        json.dumps({"task": "age-a", "answer": ["A" * 60] * 200}), b"\xff\xfe{}", b"\x80",
        json.dumps({"task": "age-a", "answer": "1" * ONE_MEGABYTE}),
        "[" * 50_000, '{"a":' * 50_000, '{"task":"age-a","answer":' + "[" * 5000 + "]" * 5000 + "}",
    ],
)  # fmt: skip
def test_a_body_that_is_no_answer_is_refused_with_a_message(pupil_client, database, pupil, lab, body):
    response = send_answer(pupil_client, lab, body)
    assert response.status_code in (400, 404, 413, 422)
    assert response.json["message"]
    assert saved(database, lab, pupil) == {"why-comfort": "nearest"}


@hostile("content_type", ["", "text/plain", FORM, PARTS, "application/json; charset=utf-99", "a/b; =;\t;"])
def test_a_save_that_is_not_called_json_is_never_a_fault(pupil_client, database, pupil, lab, content_type):
    response = send_answer(pupil_client, lab, '{"task":"age-a","answer":7}', content_type)
    assert response.status_code in (400, 415)
    assert saved(database, lab, pupil) == {"why-comfort": "nearest"}


@hostile(
    "task, answer",
    [
        *[("age-a", typed) for typed in ("nan", "Infinity", "1e999", "٧", "１", "0x7", "9**9**9", "--7")],
        *[("age-a", typed) for typed in ("7" * 61, "1/0", "7 7 7", SCRIPT, ["7"])],
        *[("decision-a", typed) for typed in ("Fit", "fit ", "all", ["fit"], {"LF": "fit"}, SCRIPT)],
        *[("comfort", typed) for typed in ("A", ["A", "B", "C", "D"], {"LF": "A"}, {"__proto__": "A"})],
        ("comfort", {"LF": "A", "RF": "A", "LR": "B", "RR": "C"}),
        ("comfort", {"LF": "A", "RF": "B", "LR": "C", "RR": "E"}),
        ("comfort", {"LF": "A", "RF": "B", "LR": "C", "RR": "D", "": "A"}),
        *[("customer", typed) for typed in ("x" * 1501, ["x"], {"x": "y"})],
    ],
)  # fmt: skip
def test_an_answer_that_can_t_be_read_is_kept_with_a_reason_and_every_page_still_opens(
    pupil_client, teacher_client, database, pupil, lab, task, answer
):
    response = send_answer(pupil_client, lab, json.dumps({"task": task, "answer": answer}))
    assert response.status_code == 200
    assert response.json["problem"]
    assert teacher_client.get(f"/teaching/attempts/{lab.attempt_id}").status_code == 200
    refused = pupil_client.send(f"/labs/attempts/{lab.attempt_id}/hand-in", page="/labs")
    assert refused.status_code == 422  # the lab's own page, with what was typed
    now_open = practice.lab(database, attempt_id=lab.attempt_id, student=pupil)
    assert now_open.handed_in_at is None
    assert now_open.answers["why-comfort"] == "nearest"


@hostile(
    "task, answer",
    [
        ("age-a", "\ud800"), ("customer", "ok \udfff"), ("age-a", "7\0"), ("customer", "a\0b"),
        ("customer", "\x1b[2J"), ("customer", "\x85"), ("customer", "\ufffe"),
        ("age-a", "\u202e7"), ("age-a", "\u200b7"), ("decision-a", "fit\u202e"),
        ("comfort", {"LF": "A\u2028"}), ("comfort", {"\ud800": "A"}), ("decision-a", ["\ud800"]),
    ],
)  # fmt: skip
@pytest.mark.parametrize("way", ["script", "form", "stored before"])
def test_signs_that_can_t_be_shown_close_no_page(
    pupil_client, teacher_client, database, pupil, lab, now, task, answer, way
):
    if way == "script":
        assert send_answer(pupil_client, lab, json.dumps({"task": task, "answer": answer})).json["saved"]
    elif way == "form":
        typed = answer if isinstance(answer, str) else "A\0"
        names = f"answer-{task}-position-LF", f"answer-{task}"
        path = f"/labs/attempts/{lab.attempt_id}"
        sent = pupil_client.send(path, **dict.fromkeys(names, typed.encode(errors="surrogatepass")))
        assert sent.status_code in (303, 422)
    else:
        practice.save_answers(
            database, attempt_id=lab.attempt_id, student=pupil, answers={task: answer}, now=now
        )
    assert pupil_client.get(f"/labs/attempts/{lab.attempt_id}").status_code == 200
    assert teacher_client.get(f"/teaching/attempts/{lab.attempt_id}").status_code == 200
    if way != "form":  # which sends every answer, and this one blank
        assert saved(database, lab, pupil)["why-comfort"] == "nearest"


@hostile("words", [SCRIPT, "</textarea><script>", '" onfocus="x', "{{ 7*7 }}", "=1+1", "😀" * 300])
def test_an_answer_in_words_is_shown_as_words(pupil_client, teacher_client, lab, words):
    assert send_answer(pupil_client, lab, json.dumps({"task": "customer", "answer": words})).json["saved"]
    for client, room in ((pupil_client, "labs"), (teacher_client, "teaching")):
        page = client.get(f"/{room}/attempts/{lab.attempt_id}").text
        assert words in unescape(page)
        assert SCRIPT not in page


# ---- sign-in, redirects, addresses, headers ----


@hostile(
    "name",
    [
        "", " ", "\0", "\u202eana", "\ufeff", "' or 1=1 --", SCRIPT, "a" * 41, "٣", "日本", "%00", "a\r\nb",
        "a" + "\u0315" * 20_000 + "\u0316" * 20_000,
    ],
)  # fmt: skip
def test_a_strange_sign_in_name_gets_the_form_again_at_once(client, name):
    client.get("/sign-in")
    entries = {"csrf_token": client.csrf_token, "sign_in_name": name, "pass_phrase": "three plain words"}
    began = process_time()
    response = client.post("/sign-in", data=entries)
    assert process_time() - began < 1
    assert response.status_code == 422
    assert SCRIPT not in response.text


@hostile(
    "wanted",
    [
        "//other.example", "/\\other.example", "\\\\other.example", "https://other.example",
        "/\t/other.example",
        "/\n/other.example", "javascript:alert(1)", "data:text/html,x", "///other.example", "\0/labs", "/ /x",
        "http:other.example", "//[", "",
    ],
)  # fmt: skip
def test_after_signing_in_nobody_is_sent_to_another_host(pupil_client, wanted):
    response = pupil_client.get("/sign-in", query_string={"next": wanted})
    assert (response.status_code, response.location) == (303, "/")


@hostile(
    "path",
    [
        "/%00", "/%ff", "/labs/attempts/" + "A" * 20, "/labs/attempts/" + "a" * 20 + "%0a",
        "/labs/attempts/" + "%D9%A1" * 20, "/labs/attempts/..%2f..%2f", "/../../etc/passwd", "/setup/%00%ff",
        "/setup/" + "a" * 3000, "/static/x/../../app/settings.py", "/static/x/%2e%2e/%2e%2e/README.md",
        "/calculators/%00", "/calculators/../teaching", "/labs/attempts/%27%20or%201%3d1",
    ],
)  # fmt: skip
def test_an_address_that_leads_nowhere_says_so(pupil_client, path):
    assert pupil_client.get(path).status_code == 404


@hostile(
    "name, value",
    [
        ("Host", "other.example"), ("Host", '"><b>'), ("Host", "[::1"), ("Accept", "application/json;q=nan"),
        ("Accept", "\xff"), ("Cookie", "heavyspot=x.y.z"), ("Cookie", "heavyspot=" + "a" * 5000),
        ("Cookie", "\xff=\xfe"), ("Range", "bytes=5-1"), ("If-None-Match", "x"), ("Content-Length", "0"),
        ("Host", "x" * 300), ("Host", "x" * 3000),
    ],
)  # fmt: skip
def test_a_strange_header_reaches_no_page(client, name, value):
    response = client.get("/sign-in", headers={name: value})
    assert response.status_code in (200, 400)
    assert "other.example" not in response.text


@hostile(
    "content_type, body",
    [
        (FORM, b"a=b&" * 50_000), (FORM, b"=%" * 50_000), (FORM, b"\xff\xfe=\x00"),
        (FORM, b"x" * (ONE_MEGABYTE + 1)),
        (PARTS, b""), (PARTS, b"--b\r\n" * 999),
        (PARTS, b"--b\r\nContent-Disposition: form-data\r\n\r\nx\r\n--b--"),
        (PARTS, b'--b\r\nContent-Disposition: form-data; name="f"\r\n\r\nx\r\n' * 1500 + b"--b--\r\n"),
        ("multipart/form-data", b"x"), (JSON, b"{"), ("", b"x"), ("text/xml", b"<!DOCTYPE a>"),
    ],
)  # fmt: skip
def test_a_strange_form_makes_no_class(teacher_client, database, teacher, content_type, body):
    response = teacher_client.post("/teaching/classes/new", data=body, content_type=content_type)
    assert response.status_code in (400, 413, 422)
    assert classes.classes_of(database, instructor=teacher) == []


# ---- what an instructor types ----


@hostile(
    "name",
    [SCRIPT, "=cmd|'/C calc'!A0", "../../etc", 'x"; filename="y.exe', "a\r\nSet-Cookie: b=c", "#eval(1)"],
)
def test_a_class_s_name_is_only_text_on_pages_and_in_file_names(teacher_client, name):
    entries = {"name": name, "time_zone": "America/Chicago", "units": "us"}
    made = teacher_client.send("/teaching/classes/new", **entries)
    assert made.status_code == 303
    assert SCRIPT not in teacher_client.get(made.location).text
    table = teacher_client.get(f"{made.location}/gradebook.csv")
    file_name = table.headers["Content-Disposition"].removeprefix('attachment; filename="gradebook-')
    assert set(file_name.removesuffix('.csv"')) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert "Set-Cookie" not in table.headers


@hostile(
    "field, value",
    [
        *[("attempts_allowed", typed) for typed in ("nan", "1e999", "-1", "0", "1.5", "٣", "9" * 9999)],
        *[("opens_at", typed) for typed in ("", "9999-12-31T23:59", "2030-03-10T02:30")],
        ("opens_at", "\0"),
        *[("title", typed) for typed in ("", "\0", "\u202ex", "x" * 9999)],
        *[("class_id", typed) for typed in ("", "x", "a" * 20)],
    ],
)  # fmt: skip
def test_rules_that_can_t_be_meant_change_no_assignment(
    teacher_client, database, teacher, class_id, assignment_id, field, value
):
    before = assignments.of_class(database, class_id=class_id, instructor=teacher)
    settings = f"/teaching/assignments/{assignment_id}/settings"
    dates = {"opens_at": "2030-03-01T08:00", "due_at": "2030-03-20T08:00"}
    chosen = {"title": "Lab", "counts": "best", "solutions": "after the attempt", "unlock_after": ""}
    response = teacher_client.send(settings, **(dates | chosen | {field: value}))
    assert response.status_code == (303 if field == "class_id" else 422)  # the class of an assignment stays
    after = assignments.of_class(database, class_id=class_id, instructor=teacher)
    assert len(after) == len(before)
    assert field == "class_id" or after == before


@hostile(
    "entries",
    [
        *[{"points": typed} for typed in ("", "nan", "inf", "1e999", "-1", "99", "٢", "1,5", SCRIPT)],
        *[{"points": "1", "comment": words} for words in ("\0", "\u202ex", "x" * 1001)],
    ],
)  # fmt: skip
def test_points_that_are_no_points_leave_the_mark_as_it_was(
    teacher_client, database, teacher, assignment_id, pupil, now, entries
):
    done = hand_in(database, assignment_id=assignment_id, student=pupil, now=now)
    path = f"/teaching/attempts/{done.attempt_id}"
    before = review.attempt(database, attempt_id=done.attempt_id, instructor=teacher).result.marks
    response = teacher_client.send(f"{path}/marks/customer", page=path, **entries)
    assert response.status_code == 422
    assert SCRIPT not in response.text
    assert review.attempt(database, attempt_id=done.attempt_id, instructor=teacher).result.marks == before


@hostile(
    "text",
    [
        "\ud800x",
        "a\0b",
        "\x1b[2J",
        "\ufffe\uffff",
        SCRIPT,
        "#eval(1) $x$ @y",
        "\u0301" * 3000,
        "ﷺ" * 900,
    ],
)
def test_a_reflection_of_any_signs_is_read_and_printed(
    pupil_client, teacher_client, database, assignment_id, pupil, text
):
    path = f"/labs/assignments/{assignment_id}/reflection"
    pupil_client.get(path)
    headers = {"X-CSRF-Token": pupil_client.csrf_token}
    sent = {"task": "order", "answer": text}
    assert pupil_client.post(f"{path}/autosave", json=sent, headers=headers).json["saved"]
    kept = reflections.sheet(database, assignment_id=assignment_id, student=pupil).prompts[0].response
    assert kept == "".join(sign for sign in text if sign not in "\ud800\0\x1b\ufffe\uffff")
    assert SCRIPT not in pupil_client.get(path).text
    sheets = f"/teaching/assignments/{assignment_id}/reflections"
    assert SCRIPT not in teacher_client.get(f"{sheets}/all").text
    assert teacher_client.get(f"{sheets}.pdf").data.startswith(b"%PDF")


@hostile("typed", ["nan", "1e999", "1/0 oz", "9" * 999, "٣", "\0", "\u202e1", SCRIPT, "1 " * 999, "-" * 99])
def test_a_calculator_names_the_entry_that_it_can_t_read(teacher_client, typed):
    response = teacher_client.get("/calculators/pressure", query_string={"set_pressure": typed})
    assert response.status_code == 422
    assert 'href="#entry-set_pressure"' in response.text
    assert SCRIPT not in response.text

"""Reflection sheets: written by students, read and printed by their instructor."""

import re
from html import unescape
from io import BytesIO

import pytest
from pypdf import PdfReader

from app.services import classes, reflection_workflow, reflections
from app.services.accounts import Person
from app.store.db import Database
from tests import factories
from tests.web.conftest import signed_in
from tests.web.given import give, hand_in

LETTER, A4 = (612, 792), (595, 842)
"""Points of 1/72 inch: ANSI Y14.1 and ISO 216, from memory."""

OWN_WORDS = "It feels the pull, not the <b>width</b>. Größe & 5 > 3."


@pytest.fixture
def assignment_id(database: Database, class_id: str, teacher: Person, now) -> str:
    return give(database, class_id=class_id, instructor=teacher, now=now)


@pytest.fixture
def other_pupil(database: Database, class_id: str, teacher: Person) -> Person:
    return factories.student(database, class_id=class_id, instructor=teacher, name="Bo Abel")


def own(assignment_id: str, more: str = "") -> str:
    return f"/labs/assignments/{assignment_id}/reflection{more}"


def all_of(assignment_id: str, more: str = "") -> str:
    return f"/teaching/assignments/{assignment_id}/reflections{more}"


def write(database: Database, assignment_id: str, student: Person, text: str, *, now) -> None:
    reflections.save(
        database, assignment_id=assignment_id, student=student, prompt_id="senses", text=text, now=now
    )


def written(database: Database, assignment_id: str, student: Person) -> dict[str, str]:
    sheet = reflections.sheet(database, assignment_id=assignment_id, student=student)
    return {prompt.id: prompt.response for prompt in sheet.prompts}


def pages(pdf: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages]


# ---- the student's own sheet ----


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


# ---- the instructor's side ----


@pytest.fixture
def two_sheets(database: Database, assignment_id: str, pupil: Person, other_pupil: Person, now) -> str:
    """Sam wrote and handed in; Bo did neither."""
    write(database, assignment_id, pupil, OWN_WORDS, now=now)
    hand_in(database, assignment_id=assignment_id, student=pupil, now=now, instead={"static-angle": "12"})
    assert written(database, assignment_id, other_pupil)["senses"] == ""
    return assignment_id


def test_the_list_says_who_wrote_and_who_did_not(teacher_client, two_sheets, pupil, other_pupil):
    page = teacher_client.get(all_of(two_sheets)).text
    assert "1 of 2" in page
    rows = page.split("<tr>")[2:]
    assert len(rows) == 2
    for row, name, words in zip(
        rows,
        ("Bo Abel", "Sam Okafor"),
        (("not written", "not handed in"), ("1 of 3", "13 of 15")),
        strict=True,
    ):
        assert name in row
        assert all(word in row for word in words)
    for student in (pupil, other_pupil):
        assert all_of(two_sheets, f"/{student.public_id}") in page


def test_what_everybody_wrote_under_one_question_is_read_on_one_page(teacher_client, two_sheets):
    first = unescape(teacher_client.get(all_of(two_sheets, "/all")).text)
    assert OWN_WORDS in first
    assert "Question 2 →" in first
    assert re.search(r"Nothing written.*Bo Abel", first, re.DOTALL)
    second = unescape(teacher_client.get(all_of(two_sheets, "/all?question=check")).text)
    assert OWN_WORDS not in second
    assert "← Question 1" in second
    assert teacher_client.get(all_of(two_sheets, "/all?question=none")).status_code == 404


def test_an_instructor_goes_from_sheet_to_sheet_and_on_to_the_next_to_read(
    teacher_client, database, two_sheets, pupil, other_pupil, now
):
    page = teacher_client.get(all_of(two_sheets, f"/{other_pupil.public_id}")).text
    assert "Sam Okafor →" in page
    assert "Next to read" not in page
    reflection_workflow.hand_in(database, assignment_id=two_sheets, student=pupil, now=now)
    page = teacher_client.get(all_of(two_sheets, f"/{other_pupil.public_id}")).text
    assert "Next to read: Sam Okafor" in page
    assert "Read the next one handed in" in teacher_client.get(all_of(two_sheets)).text


def test_a_sheet_is_returned_with_a_comment_that_the_student_reads(app, teacher_client, two_sheets, pupil):
    sheet = all_of(two_sheets, f"/{pupil.public_id}")
    teacher_client.send(all_of(two_sheets, "/points"), page=all_of(two_sheets, "/questions"), out_of="4")
    refused = teacher_client.send(sheet, comment="Kept words.", points="5", seen="0")
    assert refused.status_code == 422
    assert "Kept words." in refused.text
    assert teacher_client.send(sheet, comment="Well <b>seen</b>.", points="3.5", seen="0").status_code == 303
    own_page = signed_in(app, pupil).get(own(two_sheets)).text
    assert "Well &lt;b&gt;seen&lt;/b&gt;." in own_page
    assert "3.5 of 4 points" in own_page
    assert "<textarea" not in own_page


def test_a_sheet_that_went_on_meanwhile_is_not_returned_and_the_comment_is_kept(
    teacher_client, database, two_sheets, pupil, now
):
    reflection_workflow.hand_in(database, assignment_id=two_sheets, student=pupil, now=now)
    sheet = all_of(two_sheets, f"/{pupil.public_id}")
    refused = teacher_client.send(sheet, comment="Long thoughts.", seen="0")
    assert refused.status_code == 422
    assert "went on since" in refused.text
    assert "Long thoughts." in refused.text
    assert teacher_client.send(sheet, comment="Long thoughts.", seen="1").status_code == 303


def test_a_sheet_is_asked_for_again_by_its_button(app, teacher_client, two_sheets, pupil):
    sheet = all_of(two_sheets, f"/{pupil.public_id}")
    assert "Say what is to be written again" in teacher_client.send(sheet, seen="0", again="1").text
    assert teacher_client.send(sheet, comment="Say why.", seen="0", again="1").status_code == 303
    own_page = signed_in(app, pupil).get(own(two_sheets)).text
    assert "to be written again" in own_page
    assert "<textarea" in own_page


def test_questions_are_added_closed_removed_and_asked_again(teacher_client, database, two_sheets, pupil):
    questions = all_of(two_sheets, "/questions")
    assert teacher_client.send(questions, text="").status_code == 422
    assert teacher_client.send(questions, text="What would you tell the *driver*?").status_code == 303
    assert "What would you tell the *driver*?" in teacher_client.get(questions).text
    [added] = set(re.findall(r"questions/([a-z2-7]{20})/close", teacher_client.get(questions).text))
    own_words = reflections.sheet(database, assignment_id=two_sheets, student=pupil)
    assert own_words.prompts[-1].id == added
    for prompt_id, act in ((added, "close"), ("senses", "close"), ("senses", "reopen")):
        done = teacher_client.send(f"{questions}/{prompt_id}/{act}", page=questions)
        assert done.status_code == 303
    assert "driver" not in teacher_client.get(questions).text
    assert written(database, two_sheets, pupil)["senses"] == OWN_WORDS
    assert teacher_client.send(f"{questions}/none/close", page=questions).status_code == 404


def test_signs_that_no_font_has_are_named_before_anything_is_printed(
    teacher_client, database, two_sheets, other_pupil, now
):
    unassigned = "\U0001f6db"
    assert "No font of this server" not in teacher_client.get(all_of(two_sheets)).text
    write(database, two_sheets, other_pupil, f"A sign {unassigned} that nobody drew.", now=now)
    page = teacher_client.get(all_of(two_sheets)).text
    assert "No font of this server" in page
    assert unassigned in page


def test_one_sheet_is_read_alone(teacher_client, two_sheets, pupil, other_pupil):
    page = unescape(teacher_client.get(all_of(two_sheets, f"/{pupil.public_id}")).text)
    assert OWN_WORDS in page
    assert "13 of 15 points" in page
    assert OWN_WORDS not in unescape(teacher_client.get(all_of(two_sheets, f"/{other_pupil.public_id}")).text)


def test_the_packet_holds_each_student_s_own_words_and_results(teacher_client, database, two_sheets, pupil):
    response = teacher_client.get(all_of(two_sheets, ".pdf"))
    assert response.mimetype == "application/pdf"
    name = 'attachment; filename="reflection-lab-1-2030-03-04.pdf"'
    assert response.headers["Content-Disposition"] == name
    texts = pages(response.data)
    of_sam = " ".join(text for text in texts if "Sam Okafor" in text)
    of_bo = " ".join(text for text in texts if "Bo Abel" in text)
    assert OWN_WORDS in of_sam
    assert OWN_WORDS not in of_bo
    assert "13 of 15 points" in of_sam
    assert "no attempt handed in" in of_bo
    result = reflections.sheet(database, assignment_id=two_sheets, student=pupil).result
    assert result is not None
    for mark in result.marks:
        assert mark.right_answer in of_sam
        assert mark.your_answer in of_sam
    assert "Mon, Mar 4 2030, 9:00 AM" in of_sam, "Chicago's time of 15:00 UTC"


def test_the_packet_draws_only_what_the_student_got_differently(
    teacher_client, database, assignment_id, pupil, other_pupil, now
):
    hand_in(database, assignment_id=assignment_id, student=pupil, now=now, instead={"inboard-angle": "12"})
    hand_in(database, assignment_id=assignment_id, student=other_pupil, now=now)
    texts = pages(teacher_client.get(all_of(assignment_id, ".pdf")).data)
    drawn = [
        name for name in ("Sam Okafor", "Bo Abel") for text in texts if name in text and "Drawings" in text
    ]
    assert set(drawn) == {"Sam Okafor"}


def test_one_student_s_sheet_prints_alone(teacher_client, two_sheets, pupil):
    response = teacher_client.get(all_of(two_sheets, f"/{pupil.public_id}.pdf"))
    assert 'filename="reflection-lab-1-sam-okafor-2030-03-04.pdf"' in response.headers["Content-Disposition"]
    assert all("Bo Abel" not in text for text in pages(response.data))


@pytest.mark.parametrize(("units", "size"), [("us", LETTER), ("metric", A4)])
def test_the_paper_is_that_of_the_class(
    teacher_client, database, class_id, teacher, two_sheets, now, units, size
):
    classes.update_class(
        database,
        class_id=class_id,
        instructor=teacher,
        name="Auto 2",
        time_zone="America/Chicago",
        units=units,
        calculators_on=True,
        now=now,
    )
    reader = PdfReader(BytesIO(teacher_client.get(all_of(two_sheets, ".pdf")).data))
    assert {(round(page.mediabox.width), round(page.mediabox.height)) for page in reader.pages} == {size}


def test_a_class_without_students_has_nothing_to_print(teacher_client, assignment_id):
    assert "Nobody is in this class yet" in teacher_client.get(all_of(assignment_id)).text
    assert teacher_client.get(all_of(assignment_id, ".pdf")).status_code == 404


@pytest.mark.parametrize(
    "more",
    [
        "",
        "/all",
        "/questions",
        ".pdf",
        ".xlsx",
        "/blank.pdf",
        "/{student}",
        "/{student}.pdf",
        "/{student}.docx",
    ],
)
def test_only_the_class_s_instructor_reads_its_sheets(
    stranger_client, pupil_client, teacher_client, two_sheets, pupil, more
):
    path = all_of(two_sheets, more.format(student=pupil.public_id))
    assert teacher_client.get(path).status_code == 200
    assert stranger_client.get(path).status_code == 404
    assert pupil_client.get(path).status_code == 403


@pytest.mark.parametrize("more", ["/{student}", "/{student}.pdf"])
def test_a_student_of_another_class_has_no_sheet_here(teacher_client, database, teacher, two_sheets, more):
    elsewhere = factories.school_class(database, instructor=teacher, name="Auto 3")
    student = factories.student(database, class_id=elsewhere, instructor=teacher)
    assert teacher_client.get(all_of(two_sheets, more.format(student=student.public_id))).status_code == 404
    assert teacher_client.get(all_of("a" * 20, more.format(student=student.public_id))).status_code == 404

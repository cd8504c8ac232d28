"""The pages round the sheets: beginning, trying, looking at answers, publishing, images, files, history."""

import io
from datetime import timedelta
from html import unescape

import pytest
from sqlalchemy import select

from app.domain.authored.entries import with_entry
from app.library.images import LARGEST_UPLOAD
from app.services import assignments, authoring, authoring_publishing, practice, scenarios
from app.store.models import Attempt, Event, Mark
from tests.domain.authored.test_checking import complete
from tests.library.pictures import opened, picture

DRAFTS = "/teaching/scenarios/drafts"


@pytest.fixture
def draft_id(database, teacher, now):
    return begin(database, teacher, now, complete())


def begin(database, teacher, now, document):
    return authoring.start_from(database, author=teacher, document=document, pictures=(), now=now)


def own_drafts(database, teacher):
    return authoring.drafts_of(database, author=teacher)


def publish(client, draft_id, note=""):
    """The id of the scenario."""
    answer = client.send(f"{DRAFTS}/{draft_id}/publish", note=note)
    assert answer.status_code == 303
    return answer.location.rsplit("/", 1)[1]


def test_a_draft_begins_from_blank_and_opens_its_outline(teacher_client, database, teacher):
    answer = teacher_client.send(DRAFTS, title="  One   weight ")
    (row,) = own_drafts(database, teacher)
    assert (answer.status_code, answer.location) == (303, f"{DRAFTS}/{row.public_id}")
    assert row.title == "One weight"
    assert "7 to mend" in unescape(teacher_client.get(answer.location).text).replace("places ", "")


def test_a_draft_without_a_title_is_asked_for_one(teacher_client, database, teacher):
    answer = teacher_client.send(DRAFTS, title=" ")
    assert answer.status_code == 422
    assert "Give the scenario a title." in answer.text
    assert own_drafts(database, teacher) == []


def test_a_draft_begins_as_a_copy_of_any_scenario(teacher_client, database, teacher):
    card = scenarios.library(database)[0]
    teacher_client.send(f"/teaching/scenarios/{card.public_id}/copy", DRAFTS)
    (row,) = own_drafts(database, teacher)
    assert row.title == f"{card.title}, copy"


def test_a_task_is_added_in_the_outline_and_opens_its_sheet(teacher_client, draft_id):
    answer = teacher_client.send(f"{DRAFTS}/{draft_id}", do="add parts.0.tasks choice", revision="1")
    assert answer.location == f"{DRAFTS}/{draft_id}/sheets/parts.0.tasks.1"
    assert "The student gives one of several." in teacher_client.get(answer.location).text


def test_an_outline_that_is_out_of_date_says_so(teacher_client, draft_id):
    teacher_client.send(f"{DRAFTS}/{draft_id}", do="add parts", revision="1")
    answer = teacher_client.send(f"{DRAFTS}/{draft_id}", do="add parts", revision="1")
    assert answer.status_code == 422
    assert "another window" in answer.text


def test_a_draft_is_thrown_away_only_after_it_was_asked(teacher_client, database, teacher, draft_id):
    assert "gone for good" in teacher_client.get(f"{DRAFTS}/{draft_id}/throw-away").text
    assert len(own_drafts(database, teacher)) == 1
    assert teacher_client.send(f"{DRAFTS}/{draft_id}/throw-away").status_code == 303
    assert own_drafts(database, teacher) == []


def test_a_trial_is_marked_as_a_students_lab_is_and_nothing_is_kept(teacher_client, database, draft_id):
    path = f"{DRAFTS}/{draft_id}/try"
    assert "Mark these answers" in teacher_client.get(path).text
    wrong = teacher_client.send(path, **{"answer-task-1": "1"})
    assert "0 of 1 points" in wrong.text
    right = wrong.text.split("Right answer</dt><dd>")[1].split("<")[0]
    assert "1 of 1 points" in teacher_client.send(path, **{"answer-task-1": right}).text
    with database.read() as session:
        for table in (Attempt, Event, Mark):
            assert session.scalars(select(table)).all() == []


@pytest.mark.parametrize("page", ["try", "answers"])
def test_a_faulty_draft_can_not_be_tried_yet(teacher_client, database, teacher, now, page):
    draft_id = begin(database, teacher, now, with_entry(complete(), "minutes", 1))
    answer = teacher_client.get(f"{DRAFTS}/{draft_id}/{page}")
    assert answer.status_code == 200
    assert "once nothing in it is at fault" in answer.text


def test_each_answer_is_drawn_with_its_table_and_its_advice(teacher_client, draft_id):
    page = unescape(teacher_client.get(f"{DRAFTS}/{draft_id}/answers?units=metric").text)
    assert "What 200 students would get." in page
    assert "A teaching model" in page
    assert "The readings alone move this answer by ±0.48° (95 %); your tolerance is ±5°." in page
    assert "0 to 15" in page  # the first sector in words


def test_a_draft_with_faults_is_not_published_and_each_fault_leads_to_its_field(
    teacher_client, database, teacher, now
):
    draft_id = begin(database, teacher, now, with_entry(complete(), "minutes", 1))
    page = teacher_client.get(f"{DRAFTS}/{draft_id}/publish").text
    assert "sheets/about?faults=1#f-minutes" in page
    assert ">Publish<" not in page
    answer = teacher_client.send(f"{DRAFTS}/{draft_id}/publish", note="")
    assert answer.status_code == 422
    assert len(own_drafts(database, teacher)) == 1


def test_html_in_a_text_is_a_fault_of_its_field(teacher_client, database, teacher, now):
    draft_id = begin(database, teacher, now, with_entry(complete(), "parts.0.text", "<script>go()</script>"))
    page = unescape(teacher_client.get(f"{DRAFTS}/{draft_id}/publish").text)
    assert "Part 1 · Text" in page
    assert "Write plain words, or Markdown." in page


def test_a_published_scenario_shows_its_versions_with_differences_in_words(
    teacher_client, database, teacher, draft_id
):
    scenario_id = publish(teacher_client, draft_id)
    teacher_client.send(f"/teaching/scenarios/{scenario_id}/next", f"/teaching/scenarios/{scenario_id}")
    (row,) = own_drafts(database, teacher)
    sent = {"do": "add reflection", "revision": "1"}
    teacher_client.send(f"{DRAFTS}/{row.public_id}", **sent)
    authoring.save(
        database,
        draft_id=row.public_id,
        author=teacher,
        change=lambda document: with_entry(
            with_entry(document, "reflection", [{"id": "a", "text": "What now?"}]),
            "parts.0.tasks.0.points",
            2,
        ),
        revision=authoring.draft(database, draft_id=row.public_id, author=teacher).revision,
        now=row.saved_at,
    )
    publish(teacher_client, row.public_id, note="two points")
    page = unescape(teacher_client.get(f"/teaching/scenarios/{scenario_id}/history").text)
    assert f"published by {teacher.display_name}: two points" in page
    assert "<b>Task 1.1 · Points</b>: 1 " in page
    assert "Reflection sheet · prompt 1</b>: added" in page


def test_a_shipped_scenario_offers_a_copy_and_no_next_version(teacher_client, database):
    card = scenarios.library(database)[0]
    page = teacher_client.get(f"/teaching/scenarios/{card.public_id}").text
    assert "Write a copy" in page
    assert "Write the next version" not in page
    assert "came with the program" in teacher_client.get(f"/teaching/scenarios/{card.public_id}/history").text


def test_an_archived_scenario_is_listed_apart_and_can_be_brought_back(teacher_client, database):
    path = f"/teaching/scenarios/{scenarios.library(database)[0].public_id}"
    teacher_client.send(f"{path}/archive", path)
    assert "Put away" in teacher_client.get("/teaching/scenarios").text
    page = teacher_client.get(path).text
    assert "Bring it back" in page
    assert "Give to a class" not in page
    teacher_client.send(f"{path}/bring-back", path)
    assert "Give to a class" in teacher_client.get(path).text


def upload(client, draft_id, content, **entries):
    path = f"{DRAFTS}/{draft_id}/images"
    client.get(path)
    data = {"csrf_token": client.csrf_token, "alt": "A cone in a bore", "name": "", **entries}
    file = {"file": (io.BytesIO(content), "The Cone.PNG")} if content else {}
    return client.post(path, data=data | file, content_type="multipart/form-data")


def test_an_image_is_uploaded_named_shown_and_taken_out(teacher_client, draft_id):
    assert upload(teacher_client, draft_id, picture()).status_code == 303
    page = teacher_client.get(f"{DRAFTS}/{draft_id}/images").text
    assert 'alt="A cone in a bore"' in page
    image = teacher_client.get(f"{DRAFTS}/{draft_id}/images/the-cone")
    assert image.mimetype == "image/png"
    assert image.headers["X-Content-Type-Options"] == "nosniff"
    assert opened(image.data).size == (60, 40)
    teacher_client.send(f"{DRAFTS}/{draft_id}/images/the-cone/take-out", f"{DRAFTS}/{draft_id}/images")
    assert teacher_client.get(f"{DRAFTS}/{draft_id}/images/the-cone").status_code == 404


@pytest.mark.parametrize(
    ("content", "entries", "told"),
    [
        (b"", {}, "Choose a file first."),
        (b"<svg/>", {}, "Send a PNG, JPEG or WebP picture."),
        (picture(), {"alt": " "}, "Say in words what the picture shows"),
        (picture(), {"name": "The cone!"}, "Use small letters"),
    ],
)
def test_an_image_that_can_not_be_used_is_refused_beside_its_field(
    teacher_client, draft_id, content, entries, told
):
    answer = upload(teacher_client, draft_id, content, **entries)
    assert answer.status_code == 422
    assert told in answer.text


def test_more_than_is_taken_is_told_before_it_is_read(teacher_client, draft_id):
    answer = teacher_client.post(
        f"{DRAFTS}/{draft_id}/images",
        data=b"x" * (LARGEST_UPLOAD + 100_000),
        content_type="multipart/form-data; boundary=x",
    )
    assert answer.status_code == 413
    assert "at most 5 MB" in answer.text


def test_an_image_of_a_version_is_for_instructors_and_students_who_were_given_it(
    teacher_client, pupil_client, stranger_client, database, teacher, draft_id
):
    upload(teacher_client, draft_id, picture())
    scenario_id = publish(teacher_client, draft_id)
    history = authoring_publishing.history(database, scenario_id=scenario_id, instructor=teacher)
    address = f"/images/{history.versions[0].public_id}/the-cone"
    assert stranger_client.get(address).status_code == 200  # another instructor, who may copy it
    assert pupil_client.get(address).status_code == 404


def test_a_text_shows_the_drafts_own_image(teacher_client, database, teacher, now):
    document = with_entry(complete(), "parts.0.text", "Look: ![](image:the-cone)")
    draft_id = begin(database, teacher, now, document)
    upload(teacher_client, draft_id, picture())
    page = teacher_client.get(f"{DRAFTS}/{draft_id}/try").text
    assert f'<img src="{DRAFTS}/{draft_id}/images/the-cone" alt="A cone in a bore"' in page


def test_a_students_lab_shows_the_images_of_its_version(
    teacher_client, pupil, pupil_client, database, teacher, class_id, now
):
    draft_id = begin(database, teacher, now, with_entry(complete(), "parts.0.text", "![](image:the-cone)"))
    upload(teacher_client, draft_id, picture())
    assignment_id = assignments.assign(
        database,
        class_id=class_id,
        instructor=teacher,
        scenario_id=publish(teacher_client, draft_id),
        title="Lab 1",
        opens_at=now,
        due_at=now + timedelta(days=1),
        attempts_allowed=None,
        now=now,
    )
    attempt_id = practice.start_attempt(database, assignment_id=assignment_id, student=pupil, now=now)
    page = pupil_client.get(f"/labs/attempts/{attempt_id}").text
    address = page.split('<img src="/images/')[1].split('"')[0]
    assert pupil_client.get(f"/images/{address}").mimetype == "image/png"


def send_file(client, content):
    path = f"{DRAFTS}/import"
    client.get(path)
    data = {"csrf_token": client.csrf_token, "file": (io.BytesIO(content), "a.toml")}
    return client.post(path, data=data, content_type="multipart/form-data")


def test_a_scenario_goes_out_as_a_file_and_comes_in_as_a_draft(teacher_client, database, teacher):
    card = next(card for card in scenarios.library(database) if card.slug == "two-plane-balance")
    file = teacher_client.get(f"/teaching/scenarios/{card.public_id}/file")
    assert file.headers["Content-Disposition"] == 'attachment; filename="one-assembly-on-the-balancer.toml"'
    assert send_file(teacher_client, file.data).status_code == 303
    (row,) = own_drafts(database, teacher)
    assert (row.title, row.faults) == (card.title, 0)


def test_a_file_that_is_no_scenario_is_refused_with_its_reasons(teacher_client, database, teacher):
    answer = send_file(teacher_client, b"format = 1\ntitle = 5\n")
    assert answer.status_code == 422
    page = unescape(answer.text)
    assert "Why the file was refused" in page
    assert "vehicle" in page
    assert own_drafts(database, teacher) == []

"""The instructor's pages about classes, students and their sign-in cards."""

import re
from xml.etree import ElementTree as ET

import html5lib
import pytest

from app.services import accounts, classes
from app.web.teaching.class_pages import cards_page
from tests import factories
from tests.web.checks import XHTML

CLASS = {"name": "Auto 2, period 3", "time_zone": "America/Chicago", "units": "us"}
PHRASE = re.compile(r"<dt>Pass phrase</dt><dd>([a-z ]+)</dd>")


@pytest.fixture
def address(class_id: str) -> str:
    return f"/teaching/classes/{class_id}"


def roster(database, teacher, class_id) -> list[str]:
    detail = classes.class_page(database, class_id=class_id, instructor=teacher)
    return [student.display_name for student in detail.students]


class TestClasses:
    def test_an_instructor_without_classes_is_told_how_to_begin(self, stranger_client):
        page = stranger_client.get("/teaching").text
        assert "You have no class yet" in page
        assert 'href="/teaching/classes/new"' in page

    def test_a_class_is_made_and_opened(self, stranger_client):
        answer = stranger_client.send("/teaching/classes/new", **CLASS)
        assert answer.status_code == 303
        page = stranger_client.get(answer.location).text
        assert "Auto 2, period 3 is ready. Add its students." in page
        assert "Nobody is in this class yet." in page
        assert "Auto 2, period 3" in stranger_client.get("/teaching").text

    @pytest.mark.parametrize(
        ("field", "typed", "says"),
        [
            ("name", " ", "Give the class a name"),
            ("name", "x" * 81, "Shorten this to 80 characters"),
            ("name", "a\u202eb", "U+202E"),
            ("time_zone", "", "Choose the time zone"),
            ("time_zone", "Mars/Olympus", "Choose the time zone"),
            ("units", "furlongs", "Choose the units"),
        ],
    )
    def test_a_wrong_entry_is_named_and_the_others_stay(self, stranger_client, field, typed, says):
        answer = stranger_client.send("/teaching/classes/new", **CLASS | {field: typed})
        assert answer.status_code == 422
        assert says in answer.text
        assert field == "name" or 'value="Auto 2, period 3"' in answer.text
        assert field == "time_zone" or '<option selected value="America/Chicago">' in answer.text
        assert stranger_client.get("/teaching").text.count("Auto 2") == 0

    @pytest.mark.usefixtures("class_id")
    def test_a_second_class_starts_with_the_first_one_s_zone(self, teacher_client):
        page = teacher_client.get("/teaching/classes/new").text
        assert '<option selected value="America/Chicago">' in page

    def test_the_common_zones_come_first_and_each_zone_once(self, teacher_client):
        page = html5lib.parse(teacher_client.get("/teaching/classes/new").text)
        zones = [option.get("value") for option in page.iter(f"{XHTML}option")]
        assert zones[:3] == ["", "America/New_York", "America/Chicago"]
        assert len(zones) == len(set(zones)) > 300

    def test_settings_are_changed(self, teacher_client, address, class_id, database, teacher):
        changed = {"name": "Auto 3", "time_zone": "America/Denver", "units": "metric"}
        assert teacher_client.send(f"{address}/settings", **changed).location == address
        detail = classes.class_page(database, class_id=class_id, instructor=teacher)
        assert (detail.name, detail.time_zone, detail.units) == ("Auto 3", "America/Denver", "metric")
        assert detail.calculators_on is False, "a box that is not ticked is not sent"

    def test_wrong_settings_change_nothing(self, teacher_client, address, class_id, database, teacher):
        before = classes.class_page(database, class_id=class_id, instructor=teacher)
        answer = teacher_client.send(
            f"{address}/settings", name="", time_zone="America/Denver", units="metric"
        )
        assert answer.status_code == 422
        assert '<option selected value="America/Denver">' in answer.text
        assert classes.class_page(database, class_id=class_id, instructor=teacher) == before

    def test_a_class_is_put_away_and_opened_again(self, teacher_client, address):
        assert teacher_client.send(f"{address}/archive", page=f"{address}/settings").status_code == 303
        assert "1 class put away" in teacher_client.get("/teaching").text
        assert "Open the class again" in teacher_client.get(f"{address}/settings").text
        teacher_client.send(f"{address}/reopen", page=f"{address}/settings")
        assert "put away" not in teacher_client.get("/teaching").text.replace("is put away", "")

    @pytest.mark.usefixtures("pupil")
    def test_the_page_of_a_class_that_is_put_away_offers_no_change(self, teacher_client, address):
        offers = ("Give a scenario", "Add students", "New cards for the ticked", "Sign out everyone")
        page = teacher_client.get(address).text
        for offer in offers:
            assert offer in page, offer
        assert "was put away" not in page
        teacher_client.send(f"{address}/archive", page=f"{address}/settings")
        page = teacher_client.get(address).text
        for offer in offers:
            assert offer not in page, offer
        assert "was put away" in page
        assert 'aria-label="Change ' in page, "its students are still read"
        assert "No class of yours is open" in teacher_client.get("/teaching").text
        assert "Save the settings" not in teacher_client.get(f"{address}/settings").text

    def test_a_class_that_is_not_there_is_no_page(self, teacher_client):
        assert teacher_client.get(f"/teaching/classes/{'a' * 20}").status_code == 404


class TestAddingStudents:
    def test_the_list_is_shown_as_it_is_read_before_anyone_is_added(
        self, teacher_client, address, database, teacher, class_id
    ):
        typed = "Okafor, Sam\r\n\r\nLee\tAnn"
        answer = teacher_client.send(f"{address}/add-students", names=typed, order="last-first")
        assert answer.status_code == 200
        assert "Sam Okafor" in answer.text
        assert "Ann Lee" in answer.text
        assert "Add 2 students and show the cards" in answer.text
        assert roster(database, teacher, class_id) == []

    @pytest.mark.usefixtures("pupil")
    def test_every_line_at_fault_is_named_and_nothing_typed_is_lost(
        self, teacher_client, address, database, teacher, class_id
    ):
        typed = "Lee, Ann\nOkafor, Sam\n104233\nVega\tLuz\tGrade 11"
        answer = teacher_client.send(f"{address}/add-students", names=typed, order="last-first", add="1")
        assert answer.status_code == 422
        for line in (
            "Line 2: Sam Okafor is in this class already",
            "Line 3: A name needs letters",
            "Line 4: This line has 3 columns",
        ):
            assert line in answer.text
        assert typed in answer.text
        assert roster(database, teacher, class_id) == ["Sam Okafor"]

    def test_who_left_is_taken_back_rather_than_added_again(
        self, teacher_client, address, database, teacher, class_id, pupil, now
    ):
        classes.drop_student(
            database, class_id=class_id, instructor=teacher, student_id=pupil.public_id, now=now
        )
        answer = teacher_client.send(f"{address}/add-students", names="Sam Okafor", order="last-first")
        assert "take that student back instead" in answer.text

    @pytest.mark.parametrize("typed", ["", " \n\t\n", "a" * 20_001])
    def test_no_list_or_far_too_much_is_refused(self, teacher_client, address, typed):
        answer = teacher_client.send(f"{address}/add-students", names=typed, order="last-first", add="1")
        assert answer.status_code == 422

    def test_more_students_than_the_service_adds_at_once_are_refused_with_the_list_kept(
        self, teacher_client, address, database, teacher, class_id
    ):
        typed = "\n".join(f"Student Number{number}" for number in range(201))
        answer = teacher_client.send(f"{address}/add-students", names=typed, order="first-last", add="1")
        assert answer.status_code == 422
        assert "at most 200 students" in answer.text
        assert "Student Number200" in answer.text
        assert roster(database, teacher, class_id) == []

    def test_the_cards_come_once_and_let_their_owners_in(
        self, teacher_client, address, database, teacher, class_id, now
    ):
        entries = {"names": "Okafor, Sam\nLee, Ann", "order": "last-first", "add": "1"}
        answer = teacher_client.send(f"{address}/add-students", **entries)
        assert answer.status_code == 200
        assert answer.headers["Cache-Control"] == "no-store"
        assert "shown on this page only" in answer.text
        assert "http://localhost/" in answer.text
        phrases = PHRASE.findall(answer.text)
        assert len(phrases) == 2
        signed = accounts.sign_in(database, sign_in_name="samo", pass_phrase=phrases[0], now=now)
        assert signed.person.display_name == "Sam Okafor"
        assert roster(database, teacher, class_id) == ["Ann Lee", "Sam Okafor"]
        again = teacher_client.send(f"{address}/add-students", **entries)
        assert again.status_code == 422, "reloading the cards adds nobody twice"
        assert "is in this class already" in again.text

    def test_cards_made_on_this_computer_s_own_address_say_so(self, teacher_client, address):
        entries = {"names": "Sam Okafor", "order": "last-first"}
        assert (
            "works on this computer alone" in teacher_client.send(f"{address}/add-students", **entries).text
        )


class TestCards:
    @pytest.fixture
    def entries(self, teacher_client, address, pupil) -> dict[str, str]:
        page = html5lib.parse(teacher_client.get(address).text)
        once = page.find(f".//{XHTML}input[@name='once']").get("value")
        return {"csrf_token": teacher_client.csrf_token, "once": once, "students": pupil.public_id}

    def test_a_new_card_ends_the_old_one(self, teacher_client, address, entries, database, pupil, now):
        old = accounts.reset_pass_phrase(database, sign_in_name=pupil.sign_in_name, now=now)
        answer = teacher_client.post(f"{address}/cards", data=entries)
        assert answer.status_code == 200
        (new,) = PHRASE.findall(answer.text)
        assert new != old
        signed = accounts.sign_in(database, sign_in_name=pupil.sign_in_name, pass_phrase=new, now=now)
        assert signed.person.public_id == pupil.public_id

    def test_reloading_the_cards_makes_no_newer_ones(
        self, teacher_client, address, entries, database, pupil, now
    ):
        (phrase,) = PHRASE.findall(teacher_client.post(f"{address}/cards", data=entries).text)
        again = teacher_client.post(f"{address}/cards", data=entries)
        assert again.status_code == 422
        assert "have been made already" in again.text
        assert accounts.sign_in(database, sign_in_name=pupil.sign_in_name, pass_phrase=phrase, now=now)

    def test_what_no_page_has_sent_once_makes_no_card(self, teacher_client, address, entries):
        answer = teacher_client.post(f"{address}/cards", data=entries | {"once": "x" * 100_000})
        assert answer.status_code == 422
        assert not PHRASE.findall(answer.text)
        assert "open too long" in answer.text

    def test_nobody_ticked_is_refused(self, teacher_client, address, entries):
        del entries["students"]
        answer = teacher_client.post(f"{address}/cards", data=entries)
        assert answer.status_code == 422
        assert "Tick the students who need a new card." in answer.text

    def test_someone_of_another_class_is_refused(self, teacher_client, address, entries, database):
        other = factories.instructor(database)
        elsewhere = factories.school_class(database, instructor=other)
        stranger = factories.student(database, class_id=elsewhere, instructor=other)
        answer = teacher_client.post(f"{address}/cards", data=entries | {"students": stranger.public_id})
        assert answer.status_code == 422
        assert "The list has changed" in answer.text

    def test_everyone_gets_one(self, teacher_client, address, entries, database, teacher, class_id):
        factories.student(database, class_id=class_id, instructor=teacher)
        del entries["students"]
        answer = teacher_client.post(f"{address}/cards", data=entries | {"everyone": "1"})
        assert len(PHRASE.findall(answer.text)) == 2

    def test_the_code_is_drawn_in_the_page_without_a_pass_phrase(self, teacher_client, address, entries):
        answer = teacher_client.post(f"{address}/cards", data=entries)
        drawing = re.search(r"<svg.*?</svg>", answer.text, re.DOTALL)
        assert drawing
        assert ET.fromstring(drawing.group()).get("class") == "qr"  # noqa: S314 (our own page)

    @pytest.mark.parametrize(
        ("opened_by", "alone"),
        [
            ("http://192.168.4.2:8000/", False),
            ("https://labs.school.example/", False),
            ("http://localhost:8000/", True),
            ("http://127.0.0.1:8000/", True),
            ("http://[::1]:8000/", True),
        ],
    )
    def test_the_address_by_which_the_page_was_opened_is_printed(self, app, opened_by, alone, school_class):
        with app.test_request_context(base_url=opened_by):
            page = cards_page(school_class, [])
        assert (page.address, page.only_here) == (opened_by, alone)

    @pytest.fixture
    def school_class(self, database, teacher, class_id) -> classes.ClassDetail:
        return classes.class_page(database, class_id=class_id, instructor=teacher)


class TestOneStudent:
    @pytest.fixture
    def page(self, address, pupil) -> str:
        return f"{address}/students/{pupil.public_id}"

    def test_a_student_leaves_and_comes_back(
        self, teacher_client, address, page, database, teacher, class_id
    ):
        teacher_client.send(f"{page}/drop", page=f"{page}/settings")
        assert roster(database, teacher, class_id) == []
        left = teacher_client.get(address).text.split("Left the class")[1]
        assert f'href="{page}/settings"' in left
        assert "/gradebook/" in teacher_client.get(f"{page}/settings").text, (
            "the work is kept, and read there"
        )
        assert "Take back" in teacher_client.get(f"{page}/settings").text
        teacher_client.send(f"{page}/restore", page=address)
        assert roster(database, teacher, class_id) == ["Sam Okafor"]

    def test_a_student_who_is_not_in_the_class_is_no_page(self, teacher_client, address):
        assert teacher_client.get(f"{address}/students/{'a' * 20}/settings").status_code == 404


def test_the_queries_of_a_class_page_do_not_grow_with_its_students(
    teacher_client, address, database, teacher, class_id, queries
):
    factories.student(database, class_id=class_id, instructor=teacher)
    teacher_client.get(address)
    with queries() as few:
        teacher_client.get(address)
    for _ in range(6):
        factories.student(database, class_id=class_id, instructor=teacher)
    with queries() as many:
        teacher_client.get(address)
    assert len(many) == len(few) > 0

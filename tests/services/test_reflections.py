"""Reflection sheets on their way: asked, saved from several pages, handed in, returned, asked for again."""

import re
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from app.services import (
    assignments,
    due,
    own_reflections,
    practice,
    reflection_prompts,
    reflection_workflow,
    reflections,
    scenarios,
)
from app.services.errors import NotFound, Refused
from app.services.page_saves import PageSave
from app.services.reflection_sheets import NO_LONGER_ASKED, PromptRow
from app.services.reflections import OpenedPage, Sheet
from app.settings import SCENARIOS
from app.store import reflections as store
from app.store.choices import ReflectionState
from app.store.db import Database
from tests import factories
from tests.services import lessons
from tests.services.lessons import Lesson, lesson

SENSES = "senses"
"""A prompt of the shipped scenario."""


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


class Desk:
    """Short ways to one student's sheet from both sides."""

    def __init__(self, database: Database, given: Lesson, now: datetime) -> None:
        self.database, self.given, self.now = database, given, now

    @property
    def as_student(self) -> dict[str, Any]:
        return {"assignment_id": self.given.assignment_id, "student": self.given.student}

    @property
    def as_instructor(self) -> dict[str, Any]:
        return {
            "assignment_id": self.given.assignment_id,
            "instructor": self.given.instructor,
            "now": self.now,
        }

    def sheet(self) -> Sheet:
        return reflections.sheet(self.database, **self.as_student)

    def prompt(self, prompt_id: str = SENSES) -> PromptRow:
        return next(row for row in self.sheet().prompts if row.id == prompt_id)

    def write(self, text: str, prompt_id: str = SENSES, **more: Any) -> str | None:
        return reflections.save(
            self.database, prompt_id=prompt_id, text=text, now=self.now, **self.as_student, **more
        )

    def hand_in(self) -> None:
        reflection_workflow.hand_in(self.database, now=self.now, **self.as_student)

    def take_back(self) -> None:
        reflection_workflow.take_back(self.database, now=self.now, **self.as_student)

    def settle(self, aside_id: str, *, use: bool) -> None:
        reflection_workflow.settle_aside(
            self.database, prompt_id=SENSES, aside_id=aside_id, use=use, now=self.now, **self.as_student
        )

    def give_back(self, *, again: bool = False, comment: str = "", **more: Any) -> None:
        entries = {"points": None, "seen_steps": len(self.sheet().steps), **more}
        reflection_workflow.give_back(
            self.database,
            student_id=self.given.student.public_id,
            again=again,
            comment=comment,
            **self.as_instructor,
            **entries,
        )

    def add_prompt(self, text: str) -> str:
        return reflection_prompts.add_prompt(self.database, text=text, **self.as_instructor)

    def close(self, prompt_id: str) -> None:
        reflection_prompts.close_prompt(self.database, prompt_id=prompt_id, **self.as_instructor)

    def reopen(self, prompt_id: str) -> None:
        reflection_prompts.reopen_prompt(self.database, prompt_id=prompt_id, **self.as_instructor)

    def worth(self, out_of: float | None) -> None:
        reflection_prompts.set_points(self.database, out_of=out_of, **self.as_instructor)

    def asked(self) -> list[str]:
        return [row.id for row in self.sheet().prompts if not row.closed]


@pytest.fixture
def desk(database: Database, given: Lesson, now: datetime) -> Desk:
    return Desk(database, given, now)


# ---- two pages open at once ----


def test_a_page_that_is_out_of_date_never_replaces_a_newer_text(desk: Desk) -> None:
    first, second = OpenedPage("first", 0), OpenedPage("second", 0)
    assert desk.write("from the first", opened=first) is None
    told = desk.write("from the second", opened=second)
    assert told is not None
    assert "changed in another window" in told
    assert desk.prompt().response == "from the first"
    assert [aside.text for aside in desk.prompt().asides] == ["from the second"]


def test_a_page_goes_on_saving_over_its_own_texts(desk: Desk) -> None:
    page = OpenedPage("only", 0)
    assert [desk.write(text, opened=page) for text in ("a", "ab", "abc")] == [None] * 3
    assert desk.prompt().response == "abc"
    assert desk.prompt().asides == ()


def test_a_page_opened_after_the_newest_change_may_change_it(desk: Desk) -> None:
    desk.write("at home", opened=OpenedPage("laptop", 0))
    changes = desk.sheet().changes
    assert desk.write("in class", opened=OpenedPage("tablet", changes)) is None
    assert desk.prompt().response == "in class"
    assert desk.write("at home again", opened=OpenedPage("laptop", 0)) is not None
    assert desk.prompt().response == "in class"


def test_a_change_under_one_prompt_leaves_an_older_page_free_under_another(desk: Desk) -> None:
    desk.write("new", opened=OpenedPage("first", 0))
    assert desk.write("too", prompt_id="check", opened=OpenedPage("second", 0)) is None
    assert desk.prompt("check").response == "too"


def test_what_an_outdated_page_goes_on_typing_stays_one_text_in_its_order(desk: Desk) -> None:
    desk.write("kept", opened=OpenedPage("first", 0))
    second = OpenedPage("second", 0)
    for revision, text in ((1, "t"), (3, "two"), (2, "tw")):
        assert desk.write(text, opened=second, page_save=PageSave("aaaaaaaa", revision))
    assert [aside.text for aside in desk.prompt().asides] == ["two"]


def test_a_text_kept_aside_is_used_and_the_other_is_then_kept_aside(desk: Desk) -> None:
    desk.write("mine", opened=OpenedPage("first", 0))
    desk.write("other", opened=OpenedPage("second", 0))
    [aside] = desk.prompt().asides
    desk.settle(aside.id, use=True)
    assert desk.prompt().response == "other"
    [swapped] = desk.prompt().asides
    assert swapped.text == "mine"
    desk.settle(swapped.id, use=False)
    assert desk.prompt().response == "other"
    assert desk.prompt().asides == ()
    with pytest.raises(NotFound):
        desk.settle(swapped.id, use=True)


def test_the_page_whose_text_was_replaced_by_the_one_aside_is_out_of_date_then(desk: Desk) -> None:
    first = OpenedPage("first", 0)
    desk.write("mine", opened=first)
    desk.write("other", opened=OpenedPage("second", 0))
    [aside] = desk.prompt().asides
    desk.settle(aside.id, use=True)
    assert desk.write("mine and more", opened=first) is not None
    assert desk.prompt().response == "other"


# ---- to and fro ----


def test_a_sheet_goes_in_and_comes_back_with_comment_and_points(desk: Desk, given: Lesson) -> None:
    desk.worth(4)
    desk.write("It feels the pull.")
    desk.hand_in()
    handed_in = desk.sheet()
    assert (handed_in.state, handed_in.handed_in_at) == (ReflectionState.HANDED_IN, desk.now)
    with pytest.raises(Refused, match="handed in"):
        desk.write("More.")
    desk.give_back(comment=" Well seen. ", points=3.5)
    returned = desk.sheet()
    assert returned.state is ReflectionState.RETURNED
    assert (returned.comment, returned.points, returned.out_of) == ("Well seen.", 3.5, 4)
    assert [(step.state, step.made_by, step.by_student) for step in returned.steps] == [
        (ReflectionState.HANDED_IN, given.student.display_name, True),
        (ReflectionState.RETURNED, given.instructor.display_name, False),
    ]


def test_a_sheet_that_is_asked_for_again_keeps_the_words_of_the_first_time(desk: Desk) -> None:
    desk.write("Short.")
    desk.hand_in()
    desk.give_back(again=True, comment="Say why.")
    assert desk.sheet().with_the_student
    desk.write("Longer, and why.")
    desk.hand_in()
    steps = desk.sheet().steps
    assert [step.texts[SENSES] for step in steps] == ["Short.", "Short.", "Longer, and why."]
    assert desk.sheet().comment == "Say why."


def test_a_sheet_is_taken_back_until_it_is_returned(desk: Desk) -> None:
    desk.write("Too early.")
    desk.hand_in()
    desk.take_back()
    assert desk.sheet().state is ReflectionState.WRITING
    assert desk.sheet().handed_in_at is None
    desk.write("In time.")
    desk.hand_in()
    desk.give_back()
    desk.take_back()
    assert desk.sheet().state is ReflectionState.RETURNED


def test_an_empty_sheet_and_one_with_an_open_choice_are_not_handed_in(desk: Desk) -> None:
    with pytest.raises(Refused, match="Nothing is written"):
        desk.hand_in()
    desk.write("mine", opened=OpenedPage("first", 0))
    desk.write("other", opened=OpenedPage("second", 0))
    with pytest.raises(Refused, match="beside your sheet"):
        desk.hand_in()
    assert desk.sheet().state is ReflectionState.WRITING


def test_handing_in_twice_is_one_step(desk: Desk) -> None:
    desk.write("Once.")
    desk.hand_in()
    desk.hand_in()
    assert len(desk.sheet().steps) == 1


def test_what_an_open_page_types_after_the_hand_in_is_kept_beside_the_sheet(desk: Desk) -> None:
    desk.write("Handed in.")
    desk.hand_in()
    assert "take the sheet back" in (desk.write("Late thought.", opened=OpenedPage("old", 1)) or "")
    assert desk.prompt().response == "Handed in."
    assert [aside.text for aside in desk.prompt().asides] == ["Late thought."]


def test_an_instructor_who_saw_an_older_sheet_is_told_and_changes_nothing(desk: Desk) -> None:
    desk.write("First.")
    desk.hand_in()
    desk.take_back()
    with pytest.raises(Refused, match="went on since"):
        desk.give_back(comment="Good.", seen_steps=1)
    assert desk.sheet().state is ReflectionState.WRITING


@pytest.mark.parametrize(
    ("field", "entries"),
    [
        ("points", {"points": 4.5}),
        ("points", {"points": -0.5}),
        ("points", {"points": float("nan")}),
        ("comment", {"again": True, "comment": "  "}),
        ("comment", {"comment": "x" * 2001}),
    ],
)
def test_what_cannot_be_given_is_refused_by_its_field(
    desk: Desk, field: str, entries: dict[str, Any]
) -> None:
    desk.worth(4)
    with pytest.raises(Refused) as refused:
        desk.give_back(**entries)
    assert refused.value.field == field
    assert desk.sheet().steps == ()


def test_points_are_given_only_where_sheets_are_worth_some(desk: Desk) -> None:
    with pytest.raises(Refused) as refused:
        desk.give_back(points=1.0)
    assert refused.value.field == "points"


def test_the_worth_of_a_sheet_never_falls_below_what_one_was_given(desk: Desk) -> None:
    desk.worth(4)
    desk.give_back(points=3)
    with pytest.raises(Refused, match="given 3 points"):
        desk.worth(2)
    desk.worth(None)
    assert desk.sheet().points is None
    desk.worth(5)
    assert (desk.sheet().points, desk.sheet().out_of) == (3, 5)


@pytest.mark.parametrize("worth", [0, -1, float("nan"), float("inf"), 1001])
def test_a_sheet_is_worth_a_sensible_number(desk: Desk, worth: float) -> None:
    with pytest.raises(Refused):
        desk.worth(worth)


def test_the_gradebook_is_told_what_each_begun_sheet_earned(
    database: Database, desk: Desk, given: Lesson
) -> None:
    def points() -> dict[tuple[str, str], reflections.SheetPoints]:
        return reflections.points_of_class(database, class_id=given.class_id, instructor=given.instructor)

    place = (given.student.public_id, given.assignment_id)
    desk.write("Begun.")
    assert points() == {}
    desk.worth(4)
    assert points() == {place: reflections.SheetPoints(ReflectionState.WRITING, None, 4)}
    desk.give_back(points=2.5)
    assert points() == {place: reflections.SheetPoints(ReflectionState.RETURNED, 2.5, 4)}


# ---- prompts ----


def test_an_own_prompt_stands_after_the_scenarios_while_the_lab_runs(desk: Desk) -> None:
    before = desk.asked()
    own = desk.add_prompt("What would you tell the driver?")
    assert desk.asked() == [*before, own]
    desk.write("That it is done.", prompt_id=own)
    assert desk.prompt(own).response == "That it is done."
    assert desk.prompt(own).own


def test_a_lab_reflects_that_has_only_the_instructors_prompts(
    database: Database, now: datetime, tmp_path: Path
) -> None:
    shipped = (SCENARIOS / "one-plane" / "scenario.toml").read_text(encoding="utf-8")
    without = re.sub(r"\[\[reflection\]\]\n(\w.*\n)+", "", shipped.replace('"one-plane"', '"no-prompts"', 1))
    (tmp_path / "no-prompts").mkdir()
    (tmp_path / "no-prompts" / "scenario.toml").write_text(without, encoding="utf-8")
    scenarios.load_shipped(database, folder=tmp_path, now=now)
    given = lesson(database, now=now, slug="no-prompts")

    def reflects() -> bool:
        return due.assignment(
            database, assignment_id=given.assignment_id, student=given.student, now=now
        ).reflects

    assert not reflects()
    Desk(database, given, now).add_prompt("What would you tell the driver?")
    assert reflects()


def test_an_own_prompt_without_words_goes_and_one_with_words_is_only_closed(desk: Desk) -> None:
    wordless, written = desk.add_prompt("One?"), desk.add_prompt("Two?")
    desk.write("Yes.", prompt_id=written)
    desk.close(wordless)
    desk.close(written)
    assert wordless not in [row.id for row in desk.sheet().prompts]
    closed = desk.prompt(written)
    assert (closed.text, closed.response, closed.closed) == ("Two?", "Yes.", True)
    with pytest.raises(Refused, match="closed this question"):
        desk.write("More.", prompt_id=written)
    desk.reopen(written)
    assert desk.write("More.", prompt_id=written) is None


def test_a_closed_prompt_of_the_scenario_stands_only_where_somebody_wrote(
    database: Database, desk: Desk, given: Lesson
) -> None:
    another = factories.student(database, class_id=given.class_id, instructor=given.instructor)
    desk.write("Words.")
    desk.close(SENSES)
    assert desk.prompt().closed
    others = reflections.sheet(database, assignment_id=given.assignment_id, student=another)
    assert SENSES not in [row.id for row in others.prompts]
    desk.reopen(SENSES)
    assert not desk.prompt().closed


def test_words_under_a_prompt_that_is_gone_stay_on_the_sheet(
    database: Database, desk: Desk, given: Lesson
) -> None:
    own = desk.add_prompt("Gone soon?")
    desk.close(own)  # nobody wrote, so it goes
    with database.write() as session:
        key = store.prompts_of(session, 1)
        assert key == []
        row = store.reflection_to_change(session, 1, given.student.id, own, desk.now)
        row.text = "Written just then."
    last = desk.sheet().prompts[-1]
    assert (last.text, last.response, last.closed) == (NO_LONGER_ASKED, "Written just then.", True)


@pytest.mark.parametrize("text", ["", " \n ", "x" * 1001])
def test_a_prompt_without_a_question_is_refused(desk: Desk, text: str) -> None:
    with pytest.raises(Refused) as refused:
        desk.add_prompt(text)
    assert refused.value.field == "text"


def test_a_sheet_asks_at_most_twenty_questions(desk: Desk) -> None:
    for number in range(20 - len(desk.asked())):
        desk.add_prompt(f"Question {number}?")
    with pytest.raises(Refused, match="at most 20"):
        desk.add_prompt("One too many?")


# ---- whose ----


def test_another_instructor_and_another_student_find_nothing(
    database: Database, desk: Desk, given: Lesson
) -> None:
    desk.write("Mine.")
    stranger = factories.instructor(database)
    elsewhere = factories.school_class(database, instructor=stranger)
    other = factories.student(database, class_id=elsewhere, instructor=stranger)
    mine = {"assignment_id": given.assignment_id, "now": desk.now}
    for refused in (
        lambda: reflection_workflow.hand_in(database, student=other, **mine),
        lambda: reflection_workflow.take_back(database, student=other, **mine),
        lambda: reflection_prompts.add_prompt(database, instructor=stranger, text="?", **mine),
        lambda: reflection_prompts.close_prompt(database, instructor=stranger, prompt_id=SENSES, **mine),
        lambda: reflection_prompts.set_points(database, instructor=stranger, out_of=4, **mine),
        lambda: reflections.points_of_class(database, class_id=given.class_id, instructor=stranger),
        lambda: reflections.sheets_of_class(database, class_id=given.class_id, instructor=stranger),
        lambda: reflection_workflow.give_back(
            database,
            student_id=given.student.public_id,
            instructor=stranger,
            again=False,
            comment="",
            points=None,
            seen_steps=0,
            **mine,
        ),
        lambda: reflection_workflow.give_back(
            database,
            student_id=other.public_id,
            instructor=given.instructor,
            again=False,
            comment="",
            points=None,
            seen_steps=0,
            **mine,
        ),
    ):
        with pytest.raises(NotFound):
            refused()


def test_a_class_s_sheets_are_each_student_s_together_in_the_order_of_the_labs(
    database: Database, given: Lesson, now: datetime
) -> None:
    factories.student(database, class_id=given.class_id, instructor=given.instructor, name="Aa 000")
    assignments.assign(
        database,
        class_id=given.class_id,
        instructor=given.instructor,
        scenario_id=given.scenario_id,
        title="Lab 2",
        opens_at=now,
        due_at=now + timedelta(days=3),
        attempts_allowed=1,
        now=now,
    )
    found = reflections.sheets_of_class(database, class_id=given.class_id, instructor=given.instructor)
    assert [(each.student_name, each.sheet.title) for each in found] == [
        ("Aa 000", "Lab 1"),
        ("Aa 000", "Lab 2"),
        (given.student.display_name, "Lab 1"),
        (given.student.display_name, "Lab 2"),
    ]
    one = reflections.sheets_of_class(
        database, class_id=given.class_id, instructor=given.instructor, student_id=given.student.public_id
    )
    assert one == found[2:]


def test_a_student_s_list_has_the_sheets_that_are_begun_and_those_of_labs_that_are_handed_in(
    database: Database, desk: Desk, given: Lesson, now: datetime
) -> None:
    def listed() -> list[tuple[ReflectionState, bool]]:
        sheets = own_reflections.own_sheets(database, student=given.student)
        return [(each.state, each.to_write) for each in sheets]

    assert listed() == []
    attempt_id = practice.start_attempt(database, **desk.as_student, now=now)
    assert listed() == []
    lessons.hand_in(database, attempt_id=attempt_id, student=given.student, now=now, answers={})
    assert listed() == [(ReflectionState.WRITING, True)]
    for prompt_id in desk.asked():
        desk.close(prompt_id)
    assert listed() == []
    own = desk.add_prompt("And now?")
    assert listed() == [(ReflectionState.WRITING, True)]
    desk.write("Well.", prompt_id=own)
    desk.hand_in()
    assert listed() == [(ReflectionState.HANDED_IN, False)]

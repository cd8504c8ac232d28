"""Loading shipped scenarios, samples with keys, and giving them to a class."""

import shutil
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from app.domain.measures import UnitSystem
from app.domain.scenario import Level, ScenarioFaults
from app.services import assignments, scenarios
from app.services.errors import NotFound, Refused
from app.settings import SCENARIOS
from app.store.db import Database
from tests.services.lessons import Lesson, lesson


def copy_of_a_scenario(folder: Path, *, replace: tuple[str, str] = ("", "")) -> Path:
    file = folder / "two-plane-balance" / "scenario.toml"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text((SCENARIOS / "two-plane-balance" / "scenario.toml").read_text().replace(*replace))
    return folder


def test_every_shipped_file_is_in_the_library_and_loading_again_adds_nothing(
    database: Database, now: datetime
) -> None:
    folders = {file.parent.name for file in SCENARIOS.glob("*/scenario.toml")}
    assert {card.slug for card in scenarios.library(database)} == folders
    assert scenarios.load_shipped(database, folder=SCENARIOS, now=now) == 0


def test_the_library_lists_its_labs_in_the_order_of_a_course(database: Database, now: datetime) -> None:
    scenarios.load_shipped(database, folder=SCENARIOS, now=now)
    cards = scenarios.library(database)
    assert len(cards) >= 18
    levels = [card.level for card in cards]
    assert levels == sorted(levels, key=list(Level).index)
    places = [card.course_place for card in cards]
    assert places == sorted(set(places))  # each has its own, and the levels follow one another
    assert (cards[0].slug, cards[0].level) == ("reading-a-sidewall", Level.FIRST_STEPS)
    assert cards[-1].level is Level.CAPSTONE


def test_a_changed_file_becomes_a_new_version_and_assignments_keep_the_old(
    database: Database, now: datetime, tmp_path: Path
) -> None:
    given = lesson(database, now=now)
    changed = copy_of_a_scenario(tmp_path, replace=("minutes = 40", "minutes = 45"))
    assert scenarios.load_shipped(database, folder=changed, now=now) == 1
    card = next(card for card in scenarios.library(database) if card.slug == "two-plane-balance")
    assert (card.version_number, card.minutes) == (2, 45)
    kept = assignments.one(database, assignment_id=given.assignment_id, instructor=given.instructor)
    assert kept.version_number == 1


def test_a_file_that_is_put_back_to_an_older_text_is_current_again(
    database: Database, now: datetime, tmp_path: Path
) -> None:
    for number, minutes in enumerate((45, 50, 45), start=2):
        folder = copy_of_a_scenario(tmp_path, replace=("minutes = 40", f"minutes = {minutes}"))
        assert scenarios.load_shipped(database, folder=folder, now=now) == 1
        card = next(card for card in scenarios.library(database) if card.slug == "two-plane-balance")
        assert (card.version_number, card.minutes) == (number, minutes)
    assert scenarios.load_shipped(database, folder=tmp_path, now=now) == 0


def test_one_id_in_two_files_is_refused(database: Database, now: datetime, tmp_path: Path) -> None:
    before = scenarios.library(database)
    copy_of_a_scenario(tmp_path)
    shutil.copytree(tmp_path / "two-plane-balance", tmp_path / "a-copy")
    for _ in range(2):
        with pytest.raises(ScenarioFaults, match="two files"):
            scenarios.load_shipped(database, folder=tmp_path, now=now)
    assert scenarios.library(database) == before


def test_a_file_that_can_not_be_used_adds_nothing(database: Database, now: datetime, tmp_path: Path) -> None:
    before = scenarios.library(database)
    broken = copy_of_a_scenario(tmp_path, replace=("points = 2", "points = -2"))
    shutil.copy(SCENARIOS / "SHA256SUMS", broken)  # of the file as it was before
    with pytest.raises(ScenarioFaults, match="points"):
        scenarios.load_shipped(database, folder=broken, now=now)
    assert scenarios.library(database) == before


def test_the_same_sample_number_gives_the_same_key(database: Database, now: datetime) -> None:
    given = lesson(database, now=now)

    def key(number: int) -> tuple[scenarios.KeyRow, ...]:
        return scenarios.sample(database, scenario_id=given.scenario_id, seed=number, units=UnitSystem.US).key

    assert key(1) == key(1)
    assert key(1) != key(2)


@pytest.mark.parametrize(
    ("field", "change"),
    [
        ("title", {"title": "  "}),
        ("due_at", {"due_at": datetime.fromisoformat("2030-01-01T00:00+00:00")}),
        ("attempts_allowed", {"attempts_allowed": 0}),
    ],
)
def test_wrong_entries_of_an_assignment_are_refused_by_field(
    database: Database, now: datetime, field: str, change: dict[str, object]
) -> None:
    given = lesson(database, now=now)
    entries = {"title": "Lab", "opens_at": now, "due_at": now + timedelta(days=1), "attempts_allowed": 1}
    with pytest.raises(Refused) as refused:
        assignments.change(
            database,
            assignment_id=given.assignment_id,
            instructor=given.instructor,
            now=now,
            **(entries | change),  # type: ignore[arg-type]
        )
    assert refused.value.field == field


def test_progress_counts_each_student_once(database: Database, now: datetime) -> None:
    given: Lesson = lesson(database, now=now)
    [row] = assignments.of_class(database, class_id=given.class_id, instructor=given.instructor)
    assert (row.students, row.started, row.handed_in) == (1, 0, 0)


def test_a_student_is_no_instructor_of_the_class(database: Database, now: datetime) -> None:
    given = lesson(database, now=now)
    with pytest.raises(NotFound):
        assignments.one(database, assignment_id=given.assignment_id, instructor=given.student)

"""Backups of a database that people write to meanwhile: each holds all that was promised when it began."""

import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from app.services import upkeep
from app.settings import Settings
from tests.browser.school import new_classroom
from tests.browser.server import Server
from tests.durability import records
from tests.durability.kills import LONGEST_WAIT_SECONDS, STUDENTS, signed_in
from tests.durability.traffic import Student, Worker

SAVES_BETWEEN = 10


@dataclass(frozen=True)
class Figures:
    """saves: that had been acknowledged when the last backup began, and are in it."""

    backups: int
    restored: int
    saves: int
    largest_bytes: int


def back_up_under_load(
    server: Server, folder: Path, backups: int, *, after_each: Callable[[int], object] = lambda _: None
) -> Figures:
    """Make the backups while students work, then restore every one. Fails at the first that can't be
    restored, is damaged, or lacks what was acknowledged before it began."""
    classroom = new_classroom(server.database)
    assignment_id = classroom.assign(attempts_allowed=None)
    cards = [
        classroom.card,
        *(classroom.another_student(f"Pupil {letter}")[1] for letter in "BCDEFGH"[: STUDENTS - 1]),
    ]
    students = [signed_in(server, card, assignment_id) for card in cards]
    acknowledged = threading.Semaphore(0)
    workers = [Worker(student, server.address, acknowledged) for student in students]
    for worker in workers:
        worker.start()
    made: list[tuple[Path, set[tuple[str, str]]]] = []
    for number in range(backups):
        for _ in range(SAVES_BETWEEN):
            assert acknowledged.acquire(timeout=LONGEST_WAIT_SECONDS), [worker.fault for worker in workers]
        before = kept(students)
        file = folder / f"{number:03}.db"
        upkeep.backup(server.database, file=file, now=datetime.now(UTC))
        made.append((file, before))
        after_each(number + 1)
    server.kill()
    for worker in workers:
        worker.join(LONGEST_WAIT_SECONDS)
        assert worker.fault is None
    for number, (file, before) in enumerate(made):
        check_restored(folder / "restored", file, before, number)
    return Figures(len(made), len(made), len(made[-1][1]), max(file.stat().st_size for file, _ in made))


def kept(students: list[Student]) -> set[tuple[str, str]]:
    """What was acknowledged up to now. Copies first: the students go on meanwhile."""
    return {
        save.what
        for student in students
        for attempt in list(student.attempts.values())
        for save in list(attempt.saves)
        if save.acknowledged
    }


def check_restored(folder: Path, file: Path, before: set[tuple[str, str]], number: int) -> None:
    """Put back as `heavyspot restore` does it, each over the one before."""
    folder.mkdir(exist_ok=True)
    target = folder / "heavyspot.db"
    settings = Settings(data_folder=folder, database_url=f"sqlite:///{target}", secret_key="k" * 40)
    moment = datetime(2030, 1, 1, tzinfo=UTC) + timedelta(seconds=number)
    replaced = upkeep.restore(settings, file=file, now=moment)
    assert records.faults(target) == []
    assert before <= records.saves(target)
    assert half_handed_in(target) == 0
    if replaced:
        replaced.unlink()


def half_handed_in(file: Path) -> int:
    """How many attempts are handed in without an event or without marks, or the other way about."""
    with closing(sqlite3.connect(file)) as connection:
        return int(
            connection.execute(
                "SELECT count(*) FROM attempt WHERE (state = 'handed in') !="
                " EXISTS (SELECT 1 FROM event WHERE attempt_id = attempt.id AND kind = 'hand in')"
                " OR (state = 'handed in') != EXISTS (SELECT 1 FROM mark WHERE attempt_id = attempt.id)"
            ).fetchone()[0]
        )

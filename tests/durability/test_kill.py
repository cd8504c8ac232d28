"""An acknowledged save survives the death of the server: kill -9 under traffic, again and again."""

import os
import threading
from pathlib import Path
from random import Random

import pytest

from app.services.cards import Card
from tests.browser.school import new_classroom
from tests.browser.server import Server
from tests.durability import records
from tests.durability.client import Client
from tests.durability.traffic import Attempt, Student, Worker

CYCLES = int(os.environ.get("HEAVYSPOT_TEST_KILLS", "10"))
"""How often the server is killed; set it higher for a long run."""
STUDENTS = 6
MOST_SAVES_BEFORE_THE_KILL = 120
LONGEST_WAIT_SECONDS = 60


@pytest.mark.slow
def test_what_was_acknowledged_is_there_after_every_kill(own_server: Server) -> None:
    chance = Random(20260901)  # noqa: S311 -- chooses moments, guards nothing
    classroom = new_classroom(own_server.database)
    assignment_id = classroom.assign(attempts_allowed=None)
    tasks = {task.id for task in classroom.lab(classroom.start(assignment_id)).variant.scenario.tasks}
    cards = [
        classroom.card,
        *(classroom.another_student(f"Pupil {letter}")[1] for letter in "BCDEFGH"[: STUDENTS - 1]),
    ]
    students = [signed_in(own_server, card, assignment_id) for card in cards]
    file = own_server.program.database_file
    for _ in range(CYCLES):
        work_until_killed(own_server, students, chance.randint(STUDENTS, MOST_SAVES_BEFORE_THE_KILL))
        own_server.start()
        assert records.faults(file) == []
        for student, card in zip(students, cards, strict=True):
            for attempt_id, attempt in student.attempts.items():
                check_attempt(file, attempt_id, attempt, tasks)
            check_reflection(file, card, student)
    attempts = [attempt for student in students for attempt in student.attempts.values()]
    assert sum(save.acknowledged for attempt in attempts for save in attempt.saves) > 10 * CYCLES
    assert sum(attempt.hand_in is not None and attempt.hand_in.acknowledged for attempt in attempts) > CYCLES


def signed_in(server: Server, card: Card, assignment_id: str) -> Student:
    """A sign-in and its token outlast the server that gave them."""
    client = Client(server.address).sign_in(card)
    client.close()
    return Student(client.cookie, client.token, assignment_id)


def work_until_killed(server: Server, students: list[Student], acknowledgements: int) -> None:
    acknowledged = threading.Semaphore(0)
    workers = [Worker(student, server.address, acknowledged) for student in students]
    for worker in workers:
        worker.start()
    for _ in range(acknowledgements):
        assert acknowledged.acquire(timeout=LONGEST_WAIT_SECONDS), [worker.fault for worker in workers]
    server.kill()  # the others are in the middle of something
    for worker in workers:
        worker.join(LONGEST_WAIT_SECONDS)
        assert not worker.is_alive()
        assert worker.fault is None


def check_attempt(file: Path, attempt_id: str, attempt: Attempt, tasks: set[str]) -> None:
    """All that was acknowledged, in order, and nothing never sent; handed in as a whole or not at all."""
    stored = records.attempt(file, attempt_id)
    assert stored.event_numbers == list(range(1, len(stored.event_numbers) + 1))
    there = set(stored.saves)
    assert stored.saves == [save.what for save in attempt.saves if save.acknowledged or save.what in there]
    if stored.state == "handed in":
        assert attempt.hand_in
        assert stored.hand_ins == 1
        assert stored.marks == dict.fromkeys(tasks, 1)
        assert stored.points == pytest.approx(stored.marked_points)
    else:
        assert stored.state == "open"
        assert not (attempt.hand_in and attempt.hand_in.acknowledged)
        assert (stored.hand_ins, stored.marks, stored.points) == (0, {}, None)


def check_reflection(file: Path, card: Card, student: Student) -> None:
    """The newest text that was acknowledged, or one that was sent after it."""
    texts: list[str | None] = [save.what[1] for save in student.reflections]
    newest = max((place for place, save in enumerate(student.reflections) if save.acknowledged), default=None)
    allowed = texts[newest:] if newest is not None else [None, *texts]
    assert records.reflection(file, card.sign_in_name) in allowed

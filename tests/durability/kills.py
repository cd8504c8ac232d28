"""The real server under traffic, killed and started again; after each death its database is compared with
what the students were told."""

import threading
from collections.abc import Callable
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from random import Random

import pytest

from app.services.cards import Card
from tests.browser.school import new_classroom
from tests.browser.server import Server
from tests.durability import records
from tests.durability.client import Client
from tests.durability.traffic import Attempt, Sent, Student, Worker

STUDENTS = 6
MOST_SAVES_BEFORE_THE_KILL = 80
LONGEST_WAIT_SECONDS = 60
WORKED_IN_A_CYCLE = 40
"""More attempts than one student starts between two deaths; older ones are looked at once more in the end."""


@dataclass(frozen=True)
class Figures:
    """What the server has said was kept, over all its lives; all of it was there."""

    kills: int
    attempts: int
    saves: int
    hand_ins: int
    reflections: int
    cut_short: int
    """Sent and not answered: the server died on them, and may have kept them or not."""


def kill_again_and_again(
    server: Server, cycles: int, *, after_each: Callable[[Figures], object] = lambda _: None
) -> Figures:
    """Fails at the first thing that was acknowledged and isn't there, or is there and was never sent."""
    chance = Random(20260901)  # noqa: S311 -- chooses moments, guards nothing
    classroom = new_classroom(server.database)
    assignment_id = classroom.assign(attempts_allowed=None)
    tasks = {task.id for task in classroom.lab(classroom.start(assignment_id)).variant.scenario.tasks}
    names = [f"Pupil {letter}" for letter in "BCDEFGH"[: STUDENTS - 1]]
    cards = [classroom.card, *(classroom.another_student(name)[1] for name in names)]
    students = [signed_in(server, card, assignment_id) for card in cards]
    file = server.program.database_file
    for cycle in range(cycles):
        work_until_killed(server, students, chance.randint(STUDENTS, MOST_SAVES_BEFORE_THE_KILL))
        server.start()
        assert records.faults(file) == []
        for student, card in zip(students, cards, strict=True):
            newest_first = reversed(student.attempts.items())
            for attempt_id, attempt in islice(newest_first, WORKED_IN_A_CYCLE):
                check_attempt(file, attempt_id, attempt, tasks)
            check_reflection(file, card, student)
        after_each(figures(cycle + 1, students))
    for student in students:
        for attempt_id, attempt in student.attempts.items():
            check_attempt(file, attempt_id, attempt, tasks)
    return figures(cycles, students)


def figures(cycles: int, students: list[Student]) -> Figures:
    attempts = [attempt for student in students for attempt in student.attempts.values()]
    saves = [save for attempt in attempts for save in attempt.saves]
    hand_ins = [attempt.hand_in for attempt in attempts if attempt.hand_in]
    reflections = [save for student in students for save in student.reflections]

    def kept(sent: list[Sent]) -> int:
        return sum(each.acknowledged for each in sent)

    everything = [*saves, *hand_ins, *reflections]
    return Figures(
        kills=cycles,
        attempts=len(attempts),
        saves=kept(saves),
        hand_ins=kept(hand_ins),
        reflections=kept(reflections),
        cut_short=len(everything) - kept(everything),
    )


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

"""Many copies of one request at the same moment, as a nervous finger or a bad network sends them."""

import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from tests.browser.school import new_classroom
from tests.browser.server import Server
from tests.durability import records
from tests.durability.client import Answer, Client

COPIES = 50
LONGEST_WAIT_SECONDS = 60


@dataclass(frozen=True)
class Figures:
    rounds: int
    copies: int
    attempts: int
    hand_ins: int


def at_once(*actions: Callable[[], Answer]) -> list[Answer]:
    """Start all actions at the same moment; returns what each got."""
    barrier = threading.Barrier(len(actions))
    answers: list[Answer] = []

    def act(action: Callable[[], Answer]) -> None:
        barrier.wait()
        answers.append(action())

    threads = [threading.Thread(target=act, args=[action], daemon=True) for action in actions]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(LONGEST_WAIT_SECONDS)
    assert len(answers) == len(actions)
    return answers


def tabs_of(server: Server, client: Client, number: int) -> list[Client]:
    """So many connections that share one sign-in, the given one first."""
    tabs = [client]
    for _ in range(number - 1):
        tab = Client(server.address, client.cookie)
        tab.token = client.token
        tabs.append(tab)
    return tabs


def rush(
    server: Server,
    rounds: int,
    *,
    copies: int = COPIES,
    after_each: Callable[[int], object] = lambda _: None,
) -> Figures:
    """In each round a lab is started by `copies` requests at once and handed in by as many: it is one
    attempt, handed in once, and every copy is told the same. Fails at the first round in which it isn't."""
    classroom = new_classroom(server.database)
    assignment_id = classroom.assign(attempts_allowed=None)
    tabs = tabs_of(server, Client(server.address).sign_in(classroom.card), copies)
    file = server.program.database_file
    tasks: list[str] = []
    for number in range(1, rounds + 1):
        started = at_once(*(partial(tab.post, f"/labs/assignments/{assignment_id}/attempts") for tab in tabs))
        assert {answer.status for answer in started} == {303}
        (location,) = {answer.location for answer in started}
        attempt_id = location.rsplit("/", 1)[1]
        tasks = tasks or [task.id for task in classroom.lab(attempt_id).variant.scenario.tasks]
        tabs[0].post_json(f"{location}/answer", {"task": "why-two", "answer": "couple"})
        handed_in = at_once(*(partial(tab.post, f"{location}/hand-in") for tab in tabs))
        assert {(answer.status, answer.location) for answer in handed_in} == {(303, f"{location}/result")}
        stored = records.attempt(file, attempt_id)
        assert (stored.hand_ins, stored.state) == (1, "handed in")
        assert stored.marks == dict.fromkeys(tasks, 1)
        assert stored.points == stored.marked_points == 1
        assert records.attempts(file) == number
        after_each(number)
    for tab in tabs:
        tab.close()
    return Figures(rounds, copies, records.attempts(file), records.hand_ins(file))

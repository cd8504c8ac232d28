"""The same lab in two tabs: handed in twice at once it is handed in once, and no save is lost or half."""

import threading
from collections.abc import Callable
from functools import partial

from tests.browser.school import Classroom, new_classroom
from tests.browser.server import Server
from tests.durability import records
from tests.durability.client import Answer, Client

ROUNDS = 8
TABS = 4


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
        thread.join()
    assert len(answers) == len(actions)
    return answers


def tabs_of(server: Server, classroom: Classroom) -> list[Client]:
    """Connections that share one sign-in."""
    first = Client(server.address).sign_in(classroom.card)
    tabs = [first]
    for _ in range(TABS - 1):
        tab = Client(server.address, first.cookie)
        tab.token = first.token
        tabs.append(tab)
    return tabs


def test_a_lab_handed_in_from_several_tabs_at_once_has_one_result(own_server: Server) -> None:
    classroom = new_classroom(own_server.database)
    assignment_id = classroom.assign(attempts_allowed=None)
    tabs = tabs_of(own_server, classroom)
    for _ in range(ROUNDS):
        attempt_id = classroom.start(assignment_id)
        tabs[0].post_json(f"/labs/attempts/{attempt_id}/answer", {"task": "why-two", "answer": "couple"})
        path = f"/labs/attempts/{attempt_id}/hand-in"
        answers = at_once(*(partial(tab.post, path) for tab in tabs))
        assert {(answer.status, answer.location) for answer in answers} == {
            (303, f"/labs/attempts/{attempt_id}/result")
        }
        stored = records.attempt(own_server.program.database_file, attempt_id)
        tasks = [task.id for task in classroom.lab(attempt_id).variant.scenario.tasks]
        assert (stored.hand_ins, stored.state) == (1, "handed in")
        assert stored.marks == dict.fromkeys(tasks, 1)
        assert stored.points == stored.marked_points == 1
    for tab in tabs:
        tab.close()


def test_a_lab_started_from_several_tabs_at_once_is_one_attempt(own_server: Server) -> None:
    classroom = new_classroom(own_server.database)
    tabs = tabs_of(own_server, classroom)
    for number in range(ROUNDS):
        path = f"/labs/assignments/{classroom.assign(title=f'Lab {number}')}/attempts"
        answers = at_once(*(partial(tab.post, path) for tab in tabs))
        assert {answer.status for answer in answers} == {303}
        assert len({answer.location for answer in answers}) == 1
    for tab in tabs:
        tab.close()


def test_a_save_that_meets_a_hand_in_is_kept_before_it_or_refused(own_server: Server) -> None:
    classroom = new_classroom(own_server.database)
    assignment_id = classroom.assign(attempts_allowed=None)
    saving, handing_in, *others = tabs_of(own_server, classroom)
    for _ in range(ROUNDS):
        attempt_id = classroom.start(assignment_id)
        path = f"/labs/attempts/{attempt_id}"
        answers = at_once(
            partial(saving.send_json, f"{path}/answer", {"task": "why-two", "answer": "couple"}),
            partial(handing_in.post, f"{path}/hand-in"),
        )
        save = next(answer for answer in answers if answer.status != 303)
        stored = records.attempt(own_server.program.database_file, attempt_id)
        assert stored.state == "handed in"
        if save.status == 200:
            assert stored.saves == [("why-two", "couple")]
            assert stored.points == 1
        else:
            assert save.status == 422
            assert stored.saves == []
            assert stored.points == 0
    for tab in (saving, handing_in, *others):
        tab.close()

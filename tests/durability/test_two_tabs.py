"""The same lab in many tabs: started or handed in many times at once it is one attempt, handed in once, and
no save is lost or half."""

from functools import partial

from tests.browser.school import new_classroom
from tests.browser.server import Server
from tests.durability import records
from tests.durability.client import Client
from tests.durability.rush import at_once, rush, tabs_of

ROUNDS = 8
RUSHES = 3
"""`python -m tests.durability rush` makes a hundred."""


def test_fifty_copies_of_a_start_and_of_a_hand_in_make_one_attempt(own_server: Server) -> None:
    figures = rush(own_server, RUSHES)
    assert (figures.attempts, figures.hand_ins) == (RUSHES, RUSHES)


def test_a_save_that_meets_a_hand_in_is_kept_before_it_or_refused(own_server: Server) -> None:
    classroom = new_classroom(own_server.database)
    assignment_id = classroom.assign(attempts_allowed=None)
    saving, handing_in = tabs_of(own_server, Client(own_server.address).sign_in(classroom.card), 2)
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
    for tab in (saving, handing_in):
        tab.close()

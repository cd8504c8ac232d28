"""A student who works labs without a pause, and remembers exactly what the server said was kept."""

import http.client
import threading
from dataclasses import dataclass, field
from itertools import count

from tests.durability.client import Client

TASKS = ("static-size", "single-mass", "inboard-stock")
SAVES_IN_A_LAB = 6
PROMPT = "senses"

Cut = (OSError, http.client.HTTPException)
"""What a client sees when the server dies under it."""


@dataclass
class Sent:
    """Something that was sent to be kept, and whether the server said that it was."""

    what: tuple[str, str]
    acknowledged: bool = False


@dataclass
class Attempt:
    saves: list[Sent] = field(default_factory=list)
    hand_in: Sent | None = None


@dataclass
class Student:
    """One student's sign-in and memory, through every death of the server. No two saves are the same."""

    cookie: str
    token: str
    assignment_id: str
    attempts: dict[str, Attempt] = field(default_factory=dict)
    reflections: list[Sent] = field(default_factory=list)
    numbers: "count[int]" = field(default_factory=lambda: count(1))


class Worker(threading.Thread):
    """Starts labs, saves answers, hands in and writes the reflection sheet until the server goes away."""

    def __init__(self, student: Student, address: str, acknowledged: threading.Semaphore) -> None:
        super().__init__(daemon=True)
        self.student = student
        self.client = Client(address, student.cookie)
        self.client.token = student.token
        self.acknowledged = acknowledged
        self.fault: BaseException | None = None

    def run(self) -> None:
        try:
            while True:
                self._work_one_lab()
        except Cut:
            return
        except BaseException as error:
            self.fault = error
        finally:
            self.client.close()

    def _work_one_lab(self) -> None:
        lab = f"/labs/assignments/{self.student.assignment_id}"
        started = self.client.post(f"{lab}/attempts")
        assert started.status == 303, started
        attempt_id = started.location.rsplit("/", 1)[1]
        attempt = self.student.attempts.setdefault(attempt_id, Attempt())
        for place in range(SAVES_IN_A_LAB):
            save = Sent((TASKS[place % len(TASKS)], str(next(self.student.numbers))))
            attempt.saves.append(save)
            self._save(f"/labs/attempts/{attempt_id}/answer", save)
        attempt.hand_in = attempt.hand_in or Sent(("hand in", attempt_id))
        answer = self.client.post(f"/labs/attempts/{attempt_id}/hand-in")
        assert answer.status == 303, answer
        assert answer.location.endswith("/result"), answer
        self._note(attempt.hand_in)
        save = Sent((PROMPT, f"Text number {next(self.student.numbers)}"))
        self.student.reflections.append(save)
        self._save(f"{lab}/reflection/autosave", save)

    def _save(self, path: str, save: Sent) -> None:
        task, answer = save.what
        reply = self.client.post_json(path, {"task": task, "answer": answer})
        assert reply == {"saved": True, "problem": None}
        self._note(save)

    def _note(self, sent: Sent) -> None:
        sent.acknowledged = True
        self.acknowledged.release()

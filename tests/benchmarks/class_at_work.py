"""A class of forty at work, then thirty hand-ins within five seconds: nothing fails, and no save is felt.

The server runs as it is served to a classroom, in a process of its own.
"""

import random
import statistics
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Event

from tests.benchmarks.lab_page import begin
from tests.benchmarks.rows import Row
from tests.benchmarks.stage import Visitor, make_school, served

SLUG = "two-plane-balance"
STUDENTS = 40
HANDED_IN, WITHIN_SECONDS = 30, 5.0
PAUSE_SECONDS = (1.5, 4.5)
"""Between two things that a student does: more than hands with tools can."""


class Desk:
    """One student's browser, with what its saves and its hand-in took and what went wrong."""

    def __init__(self, browser: Visitor, lab: str, seed: int) -> None:
        self._browser, self._lab = browser, lab
        self._chance = random.Random(seed)  # noqa: S311 -- the same minute each time
        self.saves: list[float] = []
        self.hand_ins: list[float] = []
        self.errors: list[str] = []

    def work(self, seconds: float) -> None:
        """Save an answer again and again; every tenth time open the lab anew."""
        ends = time.monotonic() + seconds
        while time.monotonic() < ends:
            self._pause(*PAUSE_SECONDS)
            if self._chance.random() < 0.1:
                self._timed([], lambda: self._browser.open(self._lab))
            answer = {"task": "static-size", "answer": f"{self._chance.randint(1, 90)} gmm"}
            self._timed(self.saves, lambda: self._browser.save(f"{self._lab}/answer", answer))  # noqa: B023

    def hand_in(self) -> None:
        self._pause(0, WITHIN_SECONDS)
        self._timed(self.hand_ins, lambda: self._browser.send(f"{self._lab}/hand-in"))

    def _pause(self, least: float, most: float) -> None:
        Event().wait(self._chance.uniform(least, most))  # that never comes

    def _timed(self, times: list[float], act: Callable[[], object]) -> None:
        began = time.perf_counter()
        try:
            act()
        except (AssertionError, OSError) as error:
            self.errors.append(str(error))
        times.append(time.perf_counter() - began)


def rows(seconds: float = 60) -> list[Row]:
    with tempfile.TemporaryDirectory() as folder:
        school = make_school(Path(folder), students=STUDENTS)
        about = f"/labs/assignments/{school.assign(SLUG)}"
        with served(school) as address, ThreadPoolExecutor(STUDENTS) as class_room:
            desks = []
            for number, card in enumerate(school.students):
                browser = address.visitor()
                browser.sign_in(card.sign_in_name, card.pass_phrase)
                desks.append(Desk(browser, begin(browser, about), number))
            list(class_room.map(lambda desk: desk.work(seconds), desks))
            list(class_room.map(Desk.hand_in, desks[:HANDED_IN]))
    saves = [1000 * each for desk in desks for each in desk.saves]
    hand_ins = [1000 * each for desk in desks for each in desk.hand_ins]
    errors = [error for desk in desks for error in desk.errors]
    note = f"{len(saves)} saves in {seconds:g} s, median {statistics.median(saves):.0f} ms"
    of_hand_ins = f"{len(hand_ins)} in {WITHIN_SECONDS:g} s, median {statistics.median(hand_ins):.0f} ms"
    return [
        Row(f"a class of {STUDENTS} at work: errors", len(errors), 0, "", "; ".join(errors[:3])),
        Row("its slowest saves but one in twenty", ninety_five(saves), 250, "ms", note),
        Row("its hand-ins, slowest but one in twenty", ninety_five(hand_ins), 2000, "ms", of_hand_ins),
    ]


def ninety_five(values: list[float]) -> float:
    return statistics.quantiles(values, n=20)[-1]

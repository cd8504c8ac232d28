"""One action at the bench with sixty and more before it: asked for, done, kept durably, and its page made."""

import tempfile
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import Any

from tests.benchmarks.lab_page import begin
from tests.benchmarks.rows import Row, medians
from tests.benchmarks.stage import make_school, served

SLUG = "bench-four-assemblies"
BEFORE = 60
LIMIT_MS = 25.0
SET_UP: tuple[dict[str, Any], ...] = (
    {"do": "bring", "assembly": "A", "to": "balancer"},
    {"do": "cone", "cone": "middle"},
    {"do": "clamp", "grip": "firm"},
    {"do": "enter", "distance_mm": 115, "width_in": 6.5, "diameter_in": 16},
)
GOES_ON: tuple[dict[str, Any], ...] = (
    {"do": "spin", "hood_down": True},
    {"do": "look", "assembly": "A", "at": "sidewall"},
    {"do": "half-turn"},
)


def rows() -> list[Row]:
    return [Row(f"action at the bench after {BEFORE} others", median_ms(), LIMIT_MS, "ms")]


def median_ms(*, rounds: int = 60) -> float:
    """Milliseconds from the request to the whole reply, over one kept connection to a server of its own."""
    with tempfile.TemporaryDirectory() as folder:
        school = make_school(Path(folder))
        assignment = school.assign(SLUG)
        with served(school) as address:
            student, card = address.visitor(), school.students[0]
            student.sign_in(card.sign_in_name, card.pass_phrase)
            bench = f"{begin(student, f'/labs/assignments/{assignment}')}/bench"
            student.open(bench)
            numbered = enumerate(_actions())  # an attempt's only events, so their numbers are known

            def act() -> None:
                number, action = next(numbered)
                student.save(bench, {"action": action, "expect": number})

            for _ in range(BEFORE):
                act()
            return 1000 * medians({"act": act}, rounds=rounds, warm_up=0)["act"]


def _actions() -> Iterator[dict[str, Any]]:
    yield from SET_UP
    for number in count():
        yield GOES_ON[number % len(GOES_ON)]


__all__ = ["median_ms", "rows"]

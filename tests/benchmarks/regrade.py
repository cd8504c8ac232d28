"""Marking a term's work again: each attempt at the lab of the library that most attempts are at."""

import time

from app.domain.batches import Work, draw_each, mark_many
from app.domain.draws import seed_of
from app.domain.measures import UnitSystem
from app.domain.scenario import parse
from app.settings import SCENARIOS
from tests.benchmarks.rows import Row
from tests.services.lessons import right_answers

SLUG = "two-plane-balance"
ATTEMPTS = 20_000
AT_ONCE = 2_000
MOST_MS = 0.5
"""For each attempt: two thousand a second."""


def rows() -> list[Row]:
    scenario = parse((SCENARIOS / SLUG / "scenario.toml").read_text(encoding="utf-8"))
    seeds = [seed_of("regrade", str(number)) for number in range(AT_ONCE)]
    works = [
        Work(variant.seed, right_answers(variant)) for variant in draw_each(scenario, seeds, UnitSystem.US)
    ]
    began = time.process_time()
    for _ in range(ATTEMPTS // AT_ONCE):
        marks = mark_many(scenario, UnitSystem.US, works)
    seconds = time.process_time() - began
    assert all(mark.points == mark.out_of for each in marks for mark in each)
    note = f"{ATTEMPTS} attempts of {len(scenario.tasks)} tasks in {seconds:.1f} s of processor time"
    return [Row("an attempt marked again", 1000 * seconds / ATTEMPTS, MOST_MS, "ms", note)]

"""Worked solutions of setting up, real weights, telling apart and trial weights."""

import math

import pytest

from app.domain.measures import UnitSystem
from app.domain.solutions import worked_solution
from app.domain.tasks import NumberTask
from app.domain.variants import draw
from tests.domain.writing import assembly, heavy_spot, number, shipped, small, variant

LESSONS = (
    "behind-the-spokes",
    "cone-and-dimensions",
    "first-harmonic-and-total",
    "force-and-limit",
    "half-turn-test",
    "match-mount-from-two",
    "one-plane",
    "ounces-and-grams",
    "trial-weight",
    "wheel-tire-or-mounting",
    "zero-reading",
)


@pytest.mark.parametrize("scenario_id", LESSONS)
@pytest.mark.parametrize("units", UnitSystem)
def test_every_number_of_a_lesson_is_worked_by_formulas(scenario_id: str, units: UnitSystem) -> None:
    taken = draw(shipped(scenario_id), 5, units)
    for task in taken.scenario.tasks:
        if isinstance(task, NumberTask):
            worked = worked_solution(taken, task)
            unworked = [step.what for step in worked if step.in_words.startswith("follows from")]
            assert (task.id, unworked) == (task.id, [])


def last_step(key: str, *heavy: dict[str, object], **bench: object) -> tuple[str, str]:
    task = number("asked", key, 0.02)
    taken = variant(small([task], assembly(heavy_spots=list(heavy), bench=bench)))
    step = worked_solution(taken, taken.scenario.tasks[0])[-1]
    return step.put_in, step.result


def test_a_share_behind_a_spoke_is_worked_by_sines() -> None:
    # Six spokes at 30, 90 ...; 20 g go at 70: 20 x sin 20 / sin 60 before, 20 x sin 40 / sin 60 after.
    put_in, result = last_step("assembly[A].spoke.before.mass_g", heavy_spot(20, 250, 80), spokes=6)
    assert put_in == "20.0 g × sin(90° − 70°) ÷ sin(60° (360° ÷ 6))"
    assert result == f"{20 * math.sin(math.radians(20)) / math.sin(math.radians(60)):.1f} g"
    put_in, result = last_step("assembly[A].spoke.after.mass_g", heavy_spot(20, 250, 80), spokes=6)
    assert put_in == "20.0 g × sin(70° − 30°) ÷ sin(60° (360° ÷ 6))"
    assert result == f"{20 * math.sin(math.radians(40)) / math.sin(math.radians(60)):.1f} g"


def test_the_distance_off_centre_is_worked_from_both_planes() -> None:
    # 20 kg 0.3 mm off centre: 15 g in each plane at a radius of 200.
    put_in, result = last_step(
        "assembly[A].half_turn.off_centre_mm", heavy_spot(1, 0, 0), mass_kg=20, dirt_mm=0.3, dirt_deg=40
    )
    assert put_in == "2 planes × 15.0 g × 200 mm ÷ 20000 g"
    assert result == "0.30 mm"

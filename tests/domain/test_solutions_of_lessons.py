"""Worked solutions of setting up, real weights, telling apart and trial weights."""

import cmath
import math
import re
from pathlib import Path

import pytest

from app.domain.measures import UnitSystem
from app.domain.solutions import worked_solution
from app.domain.tasks import NumberTask
from app.domain.variants import draw
from tests.domain.writing import FOLDER, assembly, heavy_spot, number, shipped, small, variant

DECIDED = "as it goes on the car"
"""The force after the work is taken from the report by what was decided: nothing is reckoned."""


@pytest.mark.parametrize("file", sorted(FOLDER.glob("*/scenario.toml")), ids=lambda file: file.parent.name)
@pytest.mark.parametrize("units", UnitSystem)
def test_every_number_of_a_shipped_lab_is_worked_by_formulas(file: Path, units: UnitSystem) -> None:
    taken = draw(shipped(file.parent.name), 5, units)
    for task in taken.scenario.tasks:
        if isinstance(task, NumberTask):
            worked = worked_solution(taken, task)
            unworked = [step.what for step in worked if step.in_words.startswith("follows from")]
            assert (task.id, [what for what in unworked if DECIDED not in what]) == (task.id, [])


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


def test_the_shares_of_tire_and_wheel_are_halves_after_half_a_turn() -> None:
    worked = {task: solved("match-mount-from-two", task) for task in ("wheel-size", "tire-size")}
    for task, sign in (("wheel-size", "+"), ("tire-size", "−")):
        first, second = arrows_in(worked[task][0])
        assert f") {sign} (" in worked[task][0]
        size = abs(first + second if sign == "+" else first - second) / 2
        assert float(worked[task][1].removesuffix(" N")) == pytest.approx(size, abs=0.4)


def test_the_price_of_an_arrangement_is_added_corner_by_corner() -> None:
    put_in, result = solved("comfort-and-tracking", "felt")
    parts = re.findall(r"([\d.]+) × ([\d.]+) N \(([A-D]) at (\w+)\)", put_in)
    assert [(letter, place) for _, _, letter, place in parts] == [
        ("A", "LF"), ("B", "RF"), ("C", "LR"), ("D", "RR"),
    ]  # fmt: skip
    felt = sum(float(share) * float(force) for share, force, _, _ in parts)
    assert float(result.removesuffix(" N")) == pytest.approx(felt, abs=0.3)


def test_the_pull_of_an_unbalance_is_worked_in_kilograms_and_meters() -> None:
    put_in, result = solved("vibration-by-speed", "force")
    kilograms, meters, hertz = (float(number) for number in re.findall(r"([\d.]+) (?:kg|m|Hz)", put_in))
    force = kilograms * meters * (2 * math.pi * hertz) ** 2
    assert float(result.removesuffix(" N")) == pytest.approx(force, rel=0.02)  # Hz are shown to a tenth


def solved(scenario_id: str, task_id: str) -> tuple[str, str]:
    taken = draw(shipped(scenario_id), 5, UnitSystem.METRIC)
    task = taken.scenario.task(task_id)
    assert task
    step = worked_solution(taken, task)[-1]
    return step.put_in, step.result


def arrows_in(put_in: str) -> list[complex]:
    found = re.findall(r"\(([\d.]+) N at (\d+)°\)", put_in)
    return [cmath.rect(float(size), math.radians(float(angle))) for size, angle in found]

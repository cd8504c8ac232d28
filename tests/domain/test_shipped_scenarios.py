"""Each shipped scenario can be worked to full points by a careful student, from what the lab page shows."""

import numpy as np
import pytest

from app.domain.cautions import ALWAYS, CAUTION_WORDS
from app.domain.marking import Verdict, mark_all, right_answer_text
from app.domain.measures import UnitSystem
from app.domain.scenario import Caution
from app.domain.tasks import NumberTask, PlacementTask, TextTask
from app.domain.variants import draw, draw_many
from tests.domain.careful_student import WORKS
from tests.domain.writing import SHIPPED, shipped

SEEDS = 60
"""Of each scenario in each unit system."""


@pytest.mark.parametrize("scenario_id", SHIPPED)
@pytest.mark.parametrize("units", UnitSystem)
def test_a_careful_student_gets_everything_right(scenario_id: str, units: UnitSystem) -> None:
    wrong = []
    for seed in range(1000, 1000 + SEEDS):
        variant = draw(shipped(scenario_id), seed, units)
        answers = WORKS[scenario_id](variant)
        wrong += [
            (seed, mark.task_id, mark.reason)
            for mark in mark_all(variant, answers)
            if mark.verdict is not Verdict.RIGHT and mark.task_id != "customer"
        ]
    assert wrong == []


@pytest.mark.parametrize("scenario_id", SHIPPED)
@pytest.mark.parametrize("units", UnitSystem)
def test_the_answer_key_as_printed_is_itself_right(scenario_id: str, units: UnitSystem) -> None:
    for seed in range(8):
        variant = draw(shipped(scenario_id), seed, units)
        numbers = [task for task in variant.scenario.tasks if isinstance(task, NumberTask)]
        printed = {task.id: right_answer_text(task, variant) for task in numbers}
        marked = {mark.task_id: mark.verdict for mark in mark_all(variant, dict(printed))}
        assert {task.id: marked[task.id] for task in numbers} == {task.id: Verdict.RIGHT for task in numbers}


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_nobody_gets_points_for_another_students_answers(scenario_id: str) -> None:
    one, other = (draw(shipped(scenario_id), seed, UnitSystem.METRIC) for seed in (11, 12))
    copied = mark_all(other, WORKS[scenario_id](one))
    numbers = {task.id for task in one.scenario.tasks if isinstance(task, NumberTask)}
    right = [mark for mark in copied if mark.task_id in numbers and mark.verdict is Verdict.RIGHT]
    assert len(right) < len(numbers) / 2


def test_every_variant_of_the_capstone_has_a_tire_to_match_and_one_to_replace() -> None:
    for units in UnitSystem:
        decisions = draw_many(shipped("four-assemblies"), np.arange(300, dtype=np.uint64), units).each(
            "decision"
        )
        for needed in ("match-mount", "replace"):
            assert (decisions == needed).any(axis=-1).all()
        shares = [(decisions == decision).mean() for decision in ("fit", "match-mount", "replace")]
        assert min(shares) > 0.1


def test_each_decision_of_the_match_mounting_lab_occurs() -> None:
    model = draw_many(shipped("runout-and-match-mounting"), np.arange(600, dtype=np.uint64), UnitSystem.US)
    values, counts = np.unique(model.value("assembly[A].decision"), return_counts=True)
    assert values.tolist() == ["fit", "match-mount", "replace"]
    assert counts.min() > 10


def test_values_are_those_of_passenger_cars() -> None:
    # Common practice, no source: first harmonics up to some 25 kgf before anything is done, bead-seat runout
    # below a millimetre, weights up to 60 g in a plane.
    capstone = draw_many(shipped("four-assemblies"), np.arange(300, dtype=np.uint64), UnitSystem.METRIC)
    assert capstone.each("force.first_n").max() < 245
    assert capstone.each("correction.inboard.mass_g").max() < 60
    lab = draw_many(shipped("runout-and-match-mounting"), np.arange(300, dtype=np.uint64), UnitSystem.METRIC)
    assert np.max(lab.value("assembly[A].runout.inboard.total_mm")) < 1.2
    assert np.max(lab.value("assembly[A].force.total_n")) < 330


def test_the_capstone_asks_for_every_skill_of_the_job() -> None:
    tasks = shipped("four-assemblies").tasks
    assert sum(isinstance(task, PlacementTask) for task in tasks) == 2
    assert [task.id for task in tasks if isinstance(task, TextTask)] == ["customer"]
    assert {f"decision-{letter}" for letter in "abcd"} <= {task.id for task in tasks}


def test_every_caution_has_words_that_leave_the_last_word_to_maker_and_law() -> None:
    assert set(CAUTION_WORDS) == set(Caution)
    for words in CAUTION_WORDS.values():
        assert words.title
        assert words.text.endswith(".")
    for needed in ("maker", "codes", "license", "instructor"):
        assert needed in ALWAYS

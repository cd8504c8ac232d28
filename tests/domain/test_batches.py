"""Many attempts marked together get the marks that each gets alone."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np
import pytest

from app.domain.answers import Raw
from app.domain.batches import Work, draw_each, mark_many, rows_of, same_numbers
from app.domain.draws import DRAWING_VERSION, seed_of
from app.domain.marking import mark_all
from app.domain.measures import UnitSystem
from app.domain.scenario import Level, Scenario, parse
from app.domain.variants import UnknownDrawing, Variant, draw, draw_many
from app.settings import SCENARIOS
from tests.domain.writing import SHIPPED, shipped
from tests.services.lessons import right_answers

SEEDS = [seed_of("batch", str(number)) for number in range(3)]


def answers_of_all_sorts(scenario: Scenario, variants: list[Variant]) -> list[dict[str, Raw]]:
    """The first all right; the second every number half as large again, so that what follows from it is
    carried forward; the third blank or unreadable in turn."""
    right = [right_answers(variant) for variant in variants]
    larger: dict[str, Raw] = {}
    for name, answer in right[1].items():
        number, _, unit = str(answer).partition(" ")
        try:
            larger[name] = f"{float(number.rstrip('°')) * 1.5:g} {unit}".strip()
        except ValueError:
            larger[name] = answer
    odd = {task.id: "no idea" for task in scenario.tasks[::2]}
    return [right[0], larger, odd]


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_marks_made_together_are_those_made_one_by_one(scenario_id: str) -> None:
    scenario = shipped(scenario_id)
    variants = [draw(scenario, seed, UnitSystem.US) for seed in SEEDS]
    answers = answers_of_all_sorts(scenario, variants)
    together = mark_many(
        scenario, UnitSystem.US, [Work(seed, each) for seed, each in zip(SEEDS, answers, strict=True)]
    )
    assert together == [mark_all(variant, each) for variant, each in zip(variants, answers, strict=True)]


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_a_row_of_a_batch_is_the_truth_of_its_seed(scenario_id: str) -> None:
    scenario = shipped(scenario_id)
    batch = draw_many(scenario, np.array(SEEDS, dtype=np.uint64), UnitSystem.METRIC).truth
    for row, seed in zip(rows_of(batch, len(SEEDS)), SEEDS, strict=True):
        alone = draw(scenario, seed, UnitSystem.METRIC).truth
        assert plain(row) == plain(alone)


def plain(part: Any) -> Any:
    """A truth as lists and words; nan, no direction, is equal to itself there."""
    if is_dataclass(part):
        return {each.name: plain(getattr(part, each.name)) for each in fields(part)}
    if isinstance(part, Mapping):
        return {name: plain(each) for name, each in part.items()}
    if isinstance(part, tuple):
        return [plain(each) for each in part]
    return repr(np.asarray(part).tolist())


def test_no_attempts_make_no_marks() -> None:
    assert mark_many(shipped("two-plane-balance"), UnitSystem.US, []) == []


def test_a_drawing_that_this_release_does_not_know_is_refused() -> None:
    with pytest.raises(UnknownDrawing):
        draw_each(shipped("two-plane-balance"), SEEDS, UnitSystem.US, version=DRAWING_VERSION + 1)


def changed(scenario_id: str, old: str, new: str) -> Scenario:
    text = shipped_text(scenario_id).replace(old, new, 1)
    assert text != shipped_text(scenario_id)
    return parse(text)


def shipped_text(scenario_id: str) -> str:
    return (SCENARIOS / scenario_id / "scenario.toml").read_text()


@pytest.mark.parametrize(
    ("old", "new", "same"),
    [
        ("tolerance = { relative = 0.05 }", "tolerance = { relative = 0.04 }", True),
        ("points = 2", "points = 3", True),
        ('title = "One assembly on the balancer"', 'title = "Another title"', True),
        ("mass_g = { low = 14, high = 30, step = 1 }", "mass_g = { low = 44, high = 60, step = 1 }", False),
        ('name = "Tread splice"', 'name = "Splice"', False),
        ("service_date = 2026-10-05", "service_date = 2026-10-06", False),
    ],
)
def test_versions_draw_the_same_numbers_while_only_words_and_points_change(
    old: str, new: str, same: bool
) -> None:
    before, after = shipped("two-plane-balance"), changed("two-plane-balance", old, new)
    assert same_numbers(before, after, SEEDS, UnitSystem.US).tolist() == [same] * len(SEEDS)


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_no_number_is_drawn_from_words_and_points(scenario_id: str) -> None:
    before = shipped(scenario_id)
    sheet = before.model_dump()
    for part in sheet["parts"]:
        part |= {"title": "Other words", "text": "Other words"}
        for task in part["tasks"]:
            task |= {"title": "Other", "prompt": "Other", "points": 100.0, "explain": None, "hints": ()}
    sheet |= {"title": "Other words", "summary": "Other words", "level": Level.CAPSTONE, "course_place": 1}
    after = Scenario.model_validate(sheet | {"minutes": 300, "reflection": ()})
    assert same_numbers(before, after, SEEDS, UnitSystem.US).all()
    for left, right in zip(
        draw_each(before, SEEDS, UnitSystem.US), draw_each(after, SEEDS, UnitSystem.US), strict=True
    ):
        assert right.scenario.tasks[0].points == 100
        assert plain(left.truth) == plain(right.truth)

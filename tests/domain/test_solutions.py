"""Worked solutions: each step's formula, own numbers and result; every shipped lab has them."""

import re
from pathlib import Path

import pytest

from app.domain.marking import right_answer_text
from app.domain.measures import UnitSystem
from app.domain.scenario import Measurement, parse
from app.domain.solutions import SolutionStep, worked_solution
from app.domain.solutions.formulas import SHOWN_BY
from app.domain.tasks import NumberTask
from app.domain.variants import Variant, draw
from tests.domain.test_marking import four, one_spot, two_spots
from tests.domain.writing import FOLDER, choice, number, placement, several, spots, text

SHIPPED_FILES = sorted(FOLDER.glob("*/scenario.toml"))


def steps(variant: Variant, place: int = -1) -> list[SolutionStep]:
    return list(worked_solution(variant, variant.scenario.tasks[place]))


def test_a_sum_of_arrows_and_what_follows_from_it_are_worked_in_order() -> None:
    # 18 g at 0 and 24 g at 90 degrees at radius 200: 6000 g.mm, so 30 g at the same radius.
    assert steps(two_spots(number("weight", "assembly[A].single.mass_g"))) == [
        SolutionStep(
            "static unbalance",
            "mass × radius of each heavy spot, added as arrows",
            "18.0 g × 200 mm at 0° + 24.0 g × 200 mm at 90°, added as arrows",
            "6000 g·mm",
        ),
        SolutionStep(
            "one weight at the inboard radius that takes away the static unbalance",
            "static unbalance ÷ radius of the inboard plane",
            "6000 g·mm ÷ 200 mm",
            "30.0 g",
        ),
    ]


def test_what_an_earlier_task_asked_for_is_not_worked_again() -> None:
    variant = two_spots(
        number("static", "assembly[A].static.size_gmm"), number("weight", "assembly[A].single.mass_g")
    )
    assert [step.what for step in steps(variant, 0)] == ["static unbalance"]
    assert len(steps(variant, 1)) == 1


def test_a_class_in_ounces_gets_ounces_and_inches() -> None:
    (_, last) = steps(one_spot(number("weight", "assembly[A].single.mass_g"), units=UnitSystem.US))
    assert (last.put_in, last.result) == ("8.33 oz·in ÷ 7.87 in", "1.06 oz")


def test_arithmetic_is_worked_as_it_is_written() -> None:
    last = steps(one_spot(number("three", "3 * assembly[A].single.mass_g - 6 g")))[-1]
    assert last.in_words == (
        "3 × one weight at the inboard radius that takes away the static unbalance − 6 g"
    )
    assert (last.put_in, last.result) == ("3 × 30.0 g − 6 g", "84.0 g")


def test_spots_are_worked_for_each_place() -> None:
    worked = steps(one_spot(spots("both", "assembly[A].static.angle_deg", "assembly[A].single.angle_deg")))
    assert [step.result for step in worked] == ["40°", "220°"]


def test_ticks_and_placements_are_worked_from_each_assembly() -> None:
    over = steps(four(several("over", "car.over_limit")))
    assert [step.result for step in over][-1] == "C"
    assert sum(step.put_in.endswith("against 80.0 N") for step in over) == 4
    best = steps(four(placement("comfort", "car.comfort")))[-1]
    # Forces of about 18, 72, 25 (a new tire for C) and 31 N: the least where most is felt, by hand.
    put_in = [float(number) for number in re.findall(r"[\d.]+", best.put_in)]
    assert put_in == pytest.approx([1, 18, 0.85, 25, 0.65, 31, 0.5, 72], abs=0.3)
    felt = sum(share * force for share, force in zip(put_in[::2], put_in[1::2], strict=True))
    assert float(best.result.removesuffix(" N")) == pytest.approx(felt, abs=0.1)


def test_what_does_not_come_from_the_numbers_has_no_worked_solution() -> None:
    assert steps(one_spot(choice("fixed", "yes no", right="yes"))) == []
    assert steps(one_spot(text("why"))) == []


@pytest.mark.parametrize("file", SHIPPED_FILES, ids=lambda file: file.parent.name)
@pytest.mark.parametrize("units", UnitSystem)
def test_every_answer_of_a_shipped_lab_that_comes_from_its_numbers_is_worked_to_its_key(
    file: Path, units: UnitSystem
) -> None:
    variant = draw(parse(file.read_text(encoding="utf-8")), 3, units)
    for task in variant.scenario.tasks:
        worked = worked_solution(variant, task)
        for step in worked:
            for words in (step.what, step.in_words, step.put_in, step.result):
                assert words
                assert "{" not in words
        if isinstance(task, NumberTask) and worked:
            assert worked[-1].result.replace("−", "-") == right_answer_text(task, variant), task.id


def test_every_measurement_that_shows_quantities_is_one_that_exists() -> None:
    kinds = Measurement.model_fields["kind"].annotation.__args__
    assert set(SHOWN_BY) <= set(kinds)


@pytest.mark.parametrize("file", SHIPPED_FILES, ids=lambda file: file.parent.name)
def test_a_step_of_two_numbers_and_one_sign_comes_to_its_result(file: Path) -> None:
    # Reckoned again from what the step prints, within what rounding the printed numbers can do.
    variant = draw(parse(file.read_text(encoding="utf-8")), 4, UnitSystem.METRIC)
    signs = {"×": lambda a, b: a * b, "÷": lambda a, b: a / b, "−": lambda a, b: a - b}
    amount = r"(\d+(?:\.\d+)?) ?[^\d×÷−]*"
    for task in variant.scenario.tasks:
        for step in worked_solution(variant, task):
            found = re.fullmatch(rf"{amount} ([×÷−]) {amount}", step.put_in)
            shown = re.match(r"\d+(\.\d+)?", step.result)
            if found and shown and "°" not in step.put_in:
                expected = signs[found[2]](float(found[1]), float(found[3]))
                assert float(shown[0]) == pytest.approx(expected, rel=0.06, abs=0.06), step

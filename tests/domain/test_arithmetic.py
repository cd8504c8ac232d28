"""Keys that are arithmetic over references: how they read, what they come to, and what is refused.

What they come to is checked against Python's own arithmetic on the same text.
"""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.domain.arithmetic import DEEPEST, LONGEST, ArithmeticFault, parse, references_in
from app.domain.check import faults_of
from app.domain.draws import Seeds
from app.domain.marking import Mark, Verdict, mark_all, right_answer_text
from app.domain.measures import Measure, UnitSystem
from app.domain.model import quantity_of
from app.domain.model.reckoning import UnlikeMeasures
from app.domain.scenario import Scenario
from app.domain.variants import Variant, draw_many
from tests.domain.writing import assembly, heavy_spot, number, small, variant

INBOARD, OUTBOARD = (f"assembly[A].unbalance.{plane}.mass_g" for plane in ("inboard", "outboard"))
IN_DEG, OUT_DEG = (f"assembly[A].unbalance.{plane}.angle_deg" for plane in ("inboard", "outboard"))
STATIC = "assembly[A].static.size_gmm"


def two_planes(*tasks: dict[str, Any], inboard: Any = 30, outboard: Any = 12) -> Scenario:
    """Heavy spots of 30 g at 350 degrees inboard and of 12 g at 20 degrees outboard, both at radius 200."""
    spots = [heavy_spot(inboard, 350, -80, name="in"), heavy_spot(outboard, 20, 80, name="out")]
    return small(list(tasks), assembly(heavy_spots=spots))


def value(key: str) -> float:
    return float(variant(two_planes()).model.value(key))


@st.composite
def sums(draw: Any, depth: int = 0) -> str:
    """Arithmetic over plain numbers, as an author and as Python would write it."""
    if depth > 4 or draw(st.booleans()):
        return str(draw(st.integers(0, 999))) if draw(st.booleans()) else f"{draw(st.integers(0, 99))}.25"
    one, other = draw(sums(depth=depth + 1)), draw(sums(depth=depth + 1))
    shape = draw(st.sampled_from(["{} + {}", "{} - {}", "({}) * ({})", "{}*{}", "({} - {})", "({})/({})",
                                  "-({}) + {}", "min({}, {})", "max({},{})", "abs({} - ({}))"]))  # fmt: skip
    return str(shape.format(one, other))


@given(sums().filter(lambda text: len(text) <= LONGEST))
def test_arithmetic_comes_to_what_python_makes_of_it(text: str) -> None:
    try:
        expected = float(eval(text, {"__builtins__": {}}, {"min": min, "max": max, "abs": abs}))  # noqa: S307
    except ZeroDivisionError:
        expected = math.nan
    assert value(text) == pytest.approx(expected, rel=1e-12, nan_ok=True)


@given(sums().filter(lambda text: len(text) <= LONGEST))
def test_a_tree_reads_again_as_itself(text: str) -> None:
    again = str(parse(text))
    if len(again) <= LONGEST and again.count("(") < DEEPEST:
        assert str(parse(again)) == again


@pytest.mark.parametrize(
    ("key", "expected", "measure"),
    [
        (f"{INBOARD} + {OUTBOARD}", 42, Measure.MASS),
        (f"{INBOARD} - {OUTBOARD}", 18, Measure.MASS),
        (f"2 * {INBOARD} / 4", 15, Measure.MASS),
        (f"({INBOARD} + {OUTBOARD}) / 2 - 1 g", 20, Measure.MASS),
        (f"max({INBOARD}, {OUTBOARD}, 1 oz)", 30, Measure.MASS),
        (f"abs({OUTBOARD} - {INBOARD})", 18, Measure.MASS),
        (f"{OUTBOARD} / {INBOARD}", 0.4, Measure.NUMBER),
        (f"{INBOARD} * 200 mm", 6000, Measure.UNBALANCE),
        (f"{INBOARD} * 200 mm / {OUTBOARD}", 500, Measure.LENGTH),
        (f"{INBOARD} * 20 cm / 100 mm", 60, Measure.MASS),
        (f"{OUT_DEG} - {IN_DEG}", 30, Measure.TURN),
        (f"{IN_DEG} - {OUT_DEG}", -30, Measure.TURN),
        (f"{IN_DEG} + 30 deg", 20, Measure.ANGLE),
        (f"{IN_DEG} + ({OUT_DEG} - {IN_DEG}) / 2", 5, Measure.ANGLE),
        ("0.001 in * 1000", 25.4, Measure.LENGTH),
    ],
)
def test_quantities_are_reckoned_with_their_units(key: str, expected: float, measure: Measure) -> None:
    assert quantity_of(key).measure is measure
    assert value(key) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("key", "says"),
    [
        (f"{INBOARD} + {STATIC}", f"{STATIC} (an unbalance) can't be added to {INBOARD} (a mass)"),
        (f"{INBOARD} - 5", f"5 (a number) can't be taken from {INBOARD} (a mass)"),
        (f"{INBOARD} + {IN_DEG}", "can't be added to"),
        (f"{IN_DEG} + {OUT_DEG}", "can't be added to"),
        (f"{IN_DEG} * 2", "can't be multiplied by 2 (a number)"),
        (f"{INBOARD} * {OUTBOARD}", "can't be multiplied by"),
        (f"{INBOARD} / {STATIC}", "can't be divided by"),
        (f"min({INBOARD}, {STATIC})", "min can't take"),
        (f"5 stones + {INBOARD}", "“stones” is no unit known here"),
        ("car.comfort * 2", "car.comfort is a placement, with which nothing can be reckoned"),
    ],
)
def test_unlike_measures_are_not_reckoned_together(key: str, says: str) -> None:
    with pytest.raises(UnlikeMeasures) as refused:
        quantity_of(key)
    assert says in str(refused.value)
    faults = faults_of(two_planes(number("sum", key)))
    assert [(fault.place, says in fault.message) for fault in faults] == [("parts[0].tasks[0].key", True)]


@pytest.mark.parametrize(
    "text",
    ["2 ** 3", "9**9**9**9", "1 +", "(1", "1)", "abs(1, 2)", "min(1)", "__import__('os')", "A.x", "1 // 2",
     "assembly[A].x.mass_g.", "1.5.2", "1e9", "1 g g", "x", "lambda: 1", "assembly[A].x\n+ 1", "1;2"],
)  # fmt: skip
def test_what_is_no_arithmetic_is_refused(text: str) -> None:
    with pytest.raises(ArithmeticFault):
        parse(text)


def test_length_and_depth_are_bounded() -> None:
    with pytest.raises(ArithmeticFault, match=f"a key has at most {LONGEST}"):
        parse("+".join("1" * LONGEST))
    for deep in ("(" * 40 + "1" + ")" * 40, "-" * 40 + "1", "abs(" * 40 + "1" + ")" * 40):
        with pytest.raises(ArithmeticFault, match=f"nests more than {DEEPEST} deep"):
            parse(deep)
    assert value("+".join("1" * (LONGEST // 2))) == LONGEST // 2


def test_unknown_references_in_arithmetic_are_each_named_with_what_was_meant() -> None:
    scenario = two_planes(number("sum", "assembly[A].unbalanc.inboard.mass_g + assembly[B].static.size_gmm"))
    assert [str(fault) for fault in faults_of(scenario)] == [
        "parts[0].tasks[0].key: “assembly[A].unbalanc.inboard.mass_g” names no quantity; "
        "did you mean assembly[A].unbalance.inboard.mass_g?",
        "parts[0].tasks[0].key: there is no assembly B; there are A",
    ]


def test_a_division_by_zero_is_a_reason_to_refuse_a_draw_and_named_by_the_check() -> None:
    (fault,) = faults_of(two_planes(number("share", f"{INBOARD} / ({OUTBOARD} - 12 g)"), outboard=12))
    assert "share has no value: it divides by zero" in fault.message


def test_what_comes_to_less_than_nothing_is_a_reason_to_refuse_a_draw() -> None:
    (fault,) = faults_of(two_planes(number("less", f"{OUTBOARD} - {INBOARD}")))
    assert "less comes to less than nothing" in fault.message


def test_a_batch_of_variants_is_reckoned_at_once_and_as_one_by_one() -> None:
    drawn = {"low": 10, "high": 40, "step": 1}
    key = f"max({INBOARD}, {OUTBOARD}) * 2 - 1 g"
    scenario = two_planes(number("sum", key), inboard=drawn, outboard=drawn)
    seeds: Seeds = np.arange(20, dtype=np.uint64)
    together = draw_many(scenario, seeds, UnitSystem.METRIC).value(key)
    assert together.shape == (20,)
    one_by_one = [float(variant(scenario, seed=int(seed)).model.value(key)) for seed in seeds]
    assert together.tolist() == pytest.approx(one_by_one)


def test_a_sum_is_asked_of_every_assembly() -> None:
    spots = [heavy_spot(30, 350, -80)]
    key = "assembly[*].unbalance.inboard.mass_g + assembly[*].unbalance.outboard.mass_g"
    sheets = [assembly(letter, heavy_spots=spots) for letter in "AB"]
    scenario = small([number("sum", key)], *sheets)
    assert [task.id for task in scenario.tasks] == ["sum-a", "sum-b"]
    assert references_in(scenario.tasks[1].key) == (
        "assembly[B].unbalance.inboard.mass_g",
        "assembly[B].unbalance.outboard.mass_g",
    )


def marks_of(taken: Variant, **answers: str) -> dict[str, Mark]:
    return {mark.task_id: mark for mark in mark_all(taken, answers)}


def test_an_own_earlier_value_is_carried_into_arithmetic() -> None:
    sheet = two_planes(
        number("inboard", INBOARD),
        number("sum", f"{INBOARD} + {OUTBOARD}", follows=["inboard"]),
        number("half", f"({INBOARD} + {OUTBOARD}) / 2", follows=["sum"]),
    )
    taken = variant(sheet)
    assert right_answer_text(taken.scenario.tasks[1], taken) == "42.0 g"
    got = marks_of(taken, inboard="20", sum="32", half="16")
    assert [mark.verdict for mark in got.values()] == [Verdict.WRONG, Verdict.PART, Verdict.PART]
    assert got["half"].carried


def test_a_slip_in_one_of_its_parts_is_explained() -> None:
    taken = variant(two_planes(number("next", f"{IN_DEG} + 90 deg", 5)))
    mark = marks_of(taken, next="100")["next"]  # 350 counted the other way is 10
    assert (mark.verdict, mark.wrong_turn) == (Verdict.WRONG, "counted-the-other-way")
    assert mark.reason.startswith("In a value behind this one: This angle was counted counterclockwise.")

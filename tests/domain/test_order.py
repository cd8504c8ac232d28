"""The order of steps: which orders are right, what part of one counts, and which sheets are refused."""

import json
from itertools import permutations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from app.domain.answers import Raw
from app.domain.faults import faults_from
from app.domain.marking import Mark, Verdict, mark_all, right_answer_text
from app.domain.tasks import OrderTask
from tests.domain.writing import order, small, variant

TIRE_OFF = {"air": "", "weights": "", "beads": "air", "tire": "beads"}
"""Letting the air out comes before breaking the beads, and that before taking the tire off."""


def mark(steps: dict[str, str], answer: Raw) -> Mark:
    return mark_all(variant(small([order("steps", steps)])), {"steps": answer})[0]


def answered(names: str) -> dict[str, str]:
    return {name: str(place) for place, name in enumerate(names.split(), 1)}


def task_of(steps: dict[str, str]) -> OrderTask:
    return OrderTask.model_validate_json(json.dumps(order("steps", steps)))


@pytest.mark.parametrize(
    "names", ["weights air beads tire", "air beads tire weights", "air weights beads tire"]
)
def test_every_order_that_keeps_the_required_pairs_is_right(names: str) -> None:
    assert mark(TIRE_OFF, answered(names)).verdict is Verdict.RIGHT


def test_part_points_are_the_share_of_the_required_pairs_that_are_kept() -> None:
    # air-beads, air-tire and beads-tire are required; the weights may come at any time.
    got = mark(TIRE_OFF, answered("beads air tire weights"))
    assert (got.verdict, got.points) == (Verdict.PART, pytest.approx(2 * 2 / 3))
    assert got.reason == "2 of 3 required pairs are kept. “Do beads” comes after “Do air”."


def test_an_order_that_is_turned_round_earns_nothing_and_names_each_written_pair() -> None:
    got = mark(TIRE_OFF, answered("tire beads air weights"))
    assert (got.verdict, got.points) == (Verdict.WRONG, 0)
    assert "“Do beads” comes after “Do air”." in got.reason
    assert "“Do tire” comes after “Do beads”." in got.reason


def test_the_reason_quotes_why_a_step_waits() -> None:
    sheet = order("steps", {"air": "", "beads": "air"})
    sheet["steps"][1]["because"] = "under pressure the bead can burst off."
    got = mark_all(variant(small([sheet])), {"steps": answered("beads air")})[0]
    assert got.reason.endswith("“Do beads” comes after “Do air”: under pressure the bead can burst off.")


@pytest.mark.parametrize(
    ("answer", "says"),
    [
        ({"air": "1", "beads": "2", "tire": "3"}, "Give “Do weights” a place too."),
        ({"air": "1", "weights": "1", "beads": "2", "tire": "3"}, "Place 1 is given twice"),
        ({"air": "0", "weights": "1", "beads": "2", "tire": "3"}, "Type a number from 1 to 4"),
        ({"air": "5", "weights": "1", "beads": "2", "tire": "3"}, "Type a number from 1 to 4"),
        ({"air": "first", "weights": "1", "beads": "2", "tire": "3"}, "“first” is no place."),
        ({"air": "١", "weights": "2", "beads": "3", "tire": "4"}, "is no place."),
        ({"somewhere": "1"}, "Give each step its place."),
        ("air", "Give each step its place."),
    ],
)
def test_an_answer_that_is_no_order_says_what_to_type(answer: Raw, says: str) -> None:
    got = mark(TIRE_OFF, answer)
    assert (got.verdict, got.points) == (Verdict.WRONG, 0)
    assert says in got.reason


def test_boxes_that_are_all_empty_are_no_answer() -> None:
    assert mark(TIRE_OFF, dict.fromkeys(TIRE_OFF, "")).verdict is Verdict.BLANK


def test_the_key_is_a_right_order_also_where_the_author_wrote_the_steps_in_another() -> None:
    taken = variant(small([order("steps", {"tire": "beads", "beads": "air", "air": ""})]))
    assert right_answer_text(taken.scenario.tasks[0], taken) == "1. Do air\n2. Do beads\n3. Do tire"


def test_the_key_says_so_where_other_orders_are_right_too() -> None:
    taken = variant(small([order("steps", TIRE_OFF)]))
    assert right_answer_text(taken.scenario.tasks[0], taken).splitlines() == [
        *("1. Do air", "2. Do weights", "3. Do beads", "4. Do tire"),
        "Other orders that keep each required pair are right too.",
    ]


@st.composite
def partial_orders(draw: Any) -> dict[str, str]:
    """Up to five steps; a step may come after any that is earlier in a hidden right order."""
    names = draw(st.permutations("abcde"[: draw(st.integers(2, 5))]))
    after = {
        name: draw(st.sets(st.sampled_from(names[:place]))) if place else set()
        for place, name in enumerate(names)
    }
    after[names[-1]] |= {names[0]}
    return {name: " ".join(sorted(after[name])) for name in sorted(names)}


@given(partial_orders(), st.integers(0, 2**64 - 1))
def test_the_list_is_shuffled_the_same_for_a_seed_and_never_right_by_accident(
    steps: dict[str, str], seed: int
) -> None:
    task = task_of(steps)
    shown = task.shown_order(seed)
    assert sorted(shown) == sorted(steps)
    assert shown == task_of(steps).shown_order(seed)
    assert any(
        shown.index(first) > shown.index(second) for second, after in steps.items() for first in after.split()
    )


@given(partial_orders())
def test_an_order_is_right_exactly_when_each_step_stands_after_those_it_names(steps: dict[str, str]) -> None:
    # Checked against the author's own words, one permutation at a time.
    task = task_of(steps)
    for names in permutations(steps):
        done: set[str] = set()
        good = True
        for name in names:
            good = good and set(steps[name].split()) <= done
            done.add(name)
        kept = all(names.index(first) < names.index(second) for first, second in task.required_pairs)
        assert kept == good
    right = task.right_order
    assert all(right.index(first) < right.index(name) for name in right for first in steps[name].split())


@pytest.mark.parametrize(
    ("steps", "says"),
    [
        ({"a": "b", "b": "c", "c": "a"}, "the steps go in a circle: a"),
        ({"a": "a", "b": ""}, "the steps go in a circle: a before a"),
        ({"a": "", "b": ""}, "no step has to come after another"),
        ({"a": "", "b": "d"}, "step b comes after “d”, which is no step here"),
    ],
)
def test_steps_that_make_no_order_are_refused_with_what_is_wrong(steps: dict[str, str], says: str) -> None:
    with pytest.raises(ValidationError) as refused:
        small([order("steps", steps)])
    (fault,) = faults_from(refused.value)
    assert fault.place == "parts[0].tasks[0]"
    assert says in fault.message


def test_two_steps_with_one_id_are_refused() -> None:
    sheet = order("steps", {"a": "", "b": "a"})
    sheet["steps"].append(sheet["steps"][0])
    with pytest.raises(ValidationError, match="two steps have the id a"):
        small([sheet])

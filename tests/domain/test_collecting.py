"""Ticking own options and marking spots on the wheel: part points, and what is said about each too many."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from app.domain.answers import Raw
from app.domain.check import faults_of
from app.domain.faults import faults_from
from app.domain.marking import Mark, Verdict, mark_all, right_answer_text
from app.domain.variants import Variant
from tests.domain.writing import assembly, heavy_spot, number, several_of, small, spots, variant

IN_DEG, OUT_DEG = (f"assembly[A].unbalance.{plane}.angle_deg" for plane in ("inboard", "outboard"))
TOOLS = several_of("tools", "brush wrench hammer torch", "brush wrench", points=4)


def wheel(*tasks: dict[str, Any], inboard_deg: Any = 350, outboard_deg: Any = 100) -> Variant:
    """A heavy spot in each plane, as angles to mark."""
    heavy = [heavy_spot(30, inboard_deg, -80, name="in"), heavy_spot(20, outboard_deg, 80, name="out")]
    return variant(small(list(tasks), assembly(heavy_spots=heavy)))


def mark(taken: Variant, answer: Raw) -> Mark:
    return mark_all(taken, {taken.scenario.tasks[0].id: answer})[0]


@pytest.mark.parametrize(
    ("ticked", "points", "says"),
    [
        (["wrench", "brush"], 4, "Right: It is brush; It is wrench."),
        (["brush"], 2, "“It is wrench” belongs to it too. 1 of 2 ticked."),
        (["brush", "wrench", "torch"], 2, "does not belong to it. 2 of 2 ticked, 1 too many taken off."),
        (["brush", "torch"], 0, "“It is wrench” belongs to it too; “It is torch” does not."),
        (["hammer", "torch"], 0, "belong to it; “It is hammer”, “It is torch” do not."),
        (["brush", "wrench", "hammer", "torch"], 0, "“It is hammer”, “It is torch” do not belong to it."),
    ],
)
def test_each_right_tick_counts_and_each_wrong_one_takes_as_much_away(
    ticked: list[str], points: float, says: str
) -> None:
    got = mark(wheel(TOOLS), ticked)
    assert got.points == points
    assert says in got.reason


def test_an_option_that_was_missed_or_too_many_says_why() -> None:
    sheet = {**TOOLS, "options": [{**each, "because": f"{each['id']}!"} for each in TOOLS["options"]]}
    assert mark(wheel(sheet), ["brush", "torch"]).reason.endswith("wrench! torch!")


def test_the_key_names_the_right_options_in_the_authors_order() -> None:
    taken = wheel(TOOLS)
    assert right_answer_text(taken.scenario.tasks[0], taken) == "It is brush; It is wrench"
    assert "Tick options" in mark(taken, ["none"]).reason


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"right": []}, "needs key"),
        ({"right": ["saw"]}, "right names saw, which is no option; there are brush, wrench, hammer, torch"),
        ({"right": ["brush", "brush"]}, "right names brush twice"),
        ({"key": "car.over_limit"}, "give either key"),
        ({"options": TOOLS["options"][:1], "right": ["brush"]}, "two or more options"),
    ],
)
def test_options_that_can_t_be_ticked_are_refused(changes: dict[str, Any], says: str) -> None:
    with pytest.raises(ValidationError) as refused:
        small([TOOLS | changes])
    assert says in faults_from(refused.value)[0].message


SPOTS = spots("heavy", IN_DEG, OUT_DEG, points=4)


@pytest.mark.parametrize(
    ("typed", "points", "says"),
    [
        ("350, 100", 4, "Right: within 10° of 100°, 350°."),
        ("95; 0", 4, "Right"),
        ("3:20, 11:40", 4, "Right"),
        ("0", 2, "1 of 2 found. Missing: 100°."),
        ("350, 100, 40", 2, "2 of 2 found, 1 too many taken off. Your 40° is 50° clockwise of 350°."),
        ("350, 352", 0, "Missing: 100°."),
        ("30", 0, "Your 30° is 40° clockwise of 350°."),
    ],
)
def test_spots_are_found_around_the_circle_in_any_order(typed: str, points: float, says: str) -> None:
    got = mark(wheel(SPOTS), typed)
    assert (got.points, got.right_answer) == (points, "100°, 350°")
    assert says in got.reason


def test_a_spot_at_a_known_slip_is_explained() -> None:
    weights = [key.replace("unbalance", "correction") for key in (IN_DEG, OUT_DEG)]
    got = mark(wheel(spots("weights", *weights)), "350, 280")
    assert got.wrong_turn == "at-the-heavy-spot"
    assert "Your 350°: This is where the heavy spot is." in got.reason
    assert got.points == 0  # one found, one too many


@pytest.mark.parametrize(
    ("typed", "says"), [("left", "not a number"), ("1 2 3", "not a number"), ("1,5,x", "x")]
)
def test_spots_that_can_t_be_read_say_how_to_write_them(typed: str, says: str) -> None:
    got = mark(wheel(SPOTS), typed)
    assert (got.verdict, says in got.reason) == (Verdict.WRONG, True)
    assert "Write a comma between two places." in got.reason


def test_at_most_so_many_spots_are_read() -> None:
    assert "mark at most 16" in mark(wheel(SPOTS), ", ".join(["10"] * 17)).reason


def test_two_spots_that_one_mark_could_stand_for_are_a_reason_to_refuse_a_draw() -> None:
    heavy = [heavy_spot(30, 350, -80, name="in"), heavy_spot(20, 2, 80, name="out")]
    (fault,) = faults_of(small([SPOTS], assembly(heavy_spots=heavy)))
    assert "heavy has two spots in one place" in fault.message


def test_only_angles_can_be_marked() -> None:
    heavy = [heavy_spot(30, 350, -80)]
    scenario = small([spots("heavy", "assembly[A].static.size_gmm")], assembly(heavy_spots=heavy))
    (fault,) = faults_of(scenario)
    assert str(fault) == (
        "parts[0].tasks[0].keys[0]: “assembly[A].static.size_gmm” is an unbalance, "
        "which a spots task can't ask for"
    )


def test_spots_carry_an_own_earlier_angle_forward() -> None:
    first = number("at", IN_DEG, 5)
    taken = wheel(first, spots("opposite", f"{IN_DEG} + 180 deg", follows=["at"]))
    got = {each.task_id: each for each in mark_all(taken, {"at": "20", "opposite": "200"})}
    assert (got["at"].verdict, got["opposite"].verdict) == (Verdict.WRONG, Verdict.PART)
    assert got["opposite"].carried


@given(st.lists(st.integers(0, 359), max_size=6))
def test_more_marks_never_earn_more_than_the_places_they_find(marked: list[int]) -> None:
    # Counted by hand: a place is found when some mark is within 10 degrees; every other mark takes one away.
    def near(place: int, each: int) -> bool:
        return abs((each - place + 180) % 360 - 180) <= 10

    found = sum(any(near(place, each) for each in marked) for place in (350, 100))
    got = mark(wheel(SPOTS), ", ".join(map(str, marked)))
    expected = max(0, found - (len(marked) - found)) / 2 if marked else 0
    assert got.points == pytest.approx(4 * expected)

"""Marks: every kind of answer, its reason in the student's own numbers, and part points."""

from itertools import permutations
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from app.compute.placement import ARRANGEMENTS
from app.domain.answers import NONE_OF_THEM, Raw
from app.domain.marking import Mark, Verdict, mark_all, right_answer_text
from app.domain.measures import UnitSystem
from app.domain.variants import Variant
from tests.domain.writing import (
    SHIPPED,
    assembly,
    choice,
    first,
    heavy_spot,
    number,
    placement,
    several,
    several_of,
    shipped,
    small,
    text,
    variant,
)

POSITIONS = ("LF", "RF", "LR", "RR")


def marks(taken: Variant, answers: dict[str, Raw]) -> dict[str, Mark]:
    return {mark.task_id: mark for mark in mark_all(taken, answers)}


def one_spot(*tasks: dict[str, Any], units: UnitSystem = UnitSystem.METRIC) -> Variant:
    """A spot of 30 g at 40 degrees in the inboard plane at radius 200, so 6000 g.mm."""
    return variant(small(list(tasks), assembly(heavy_spots=[heavy_spot(30, 40, -80)])), units=units)


def two_spots(*tasks: dict[str, Any]) -> Variant:
    """18 g at 0 and 24 g at 90 degrees at radius 200: a 3-4-5 triangle of 30 g, so 6000 g.mm."""
    spots = [heavy_spot(18, 0, -80), heavy_spot(24, 90, -80)]
    return variant(small(list(tasks), assembly(heavy_spots=spots)))


def four(*tasks: dict[str, Any]) -> Variant:
    """First harmonics 18, 72, 95 and 31 N on round wheels; the limit is 80 N, a new tire 25 N."""
    sheets = [
        assembly(
            letter,
            wheel={"bead_seats": {"inboard": [], "outboard": []}},
            tire={"force": [first(force, 0)], "conicity_n": conicity},
        )
        for letter, force, conicity in zip("ABCD", (18, 72, 95, 31), (24, -15, 21, 3), strict=True)
    ]
    return variant(small(list(tasks), *sheets, vehicle={"first_harmonic_limit_n": 80}))


STATIC = number("static", "assembly[A].static.size_gmm", 100)
SINGLE = number("single", "assembly[A].single.mass_g", 0.6, follows=["static"])


@pytest.mark.parametrize(
    ("typed", "verdict", "says"),
    [
        ("30", Verdict.RIGHT, "Right: 30.0 g."),
        ("30.5 g", Verdict.RIGHT, "Right: within 0.6 g of 30.0 g."),
        ("1.06 oz", Verdict.RIGHT, "Right: within 0.6 g of 30.0 g."),
        ("30.7", Verdict.WRONG, "Your 30.7 g is 0.7 g more than 30.0 g."),
        ("22", Verdict.WRONG, "Your 22.0 g is 8.0 g less than 30.0 g."),
        ("15", Verdict.WRONG, "This is half of what is needed"),
    ],
)
def test_a_number_within_its_tolerance_is_right_in_any_unit(typed: str, verdict: Verdict, says: str) -> None:
    mark = marks(one_spot(SINGLE), {"single": typed})["single"]
    assert mark.verdict is verdict
    assert mark.reason.startswith(says)
    assert mark.points == (2 if verdict is Verdict.RIGHT else 0)
    assert mark.right_answer == "30.0 g"


def test_a_class_in_ounces_reads_and_is_told_ounces() -> None:
    taken = one_spot(SINGLE, units=UnitSystem.US)
    assert marks(taken, {"single": "1.06"})["single"].verdict is Verdict.RIGHT
    mark = marks(taken, {"single": "30"})["single"]
    assert mark.wrong_turn == "grams-as-ounces"
    assert mark.right_answer == "1.06 oz"


def test_nothing_at_all_is_not_called_a_unit_mixed_up() -> None:
    # 30 g are 1.06 oz: 1.06 typed in grams is the slip. 0 lies within the tolerance of that, but is not.
    taken = one_spot(number("single", "assembly[A].single.mass_g", 2))
    assert marks(taken, {"single": "1.06 g"})["single"].wrong_turn == "ounces-as-grams"
    assert marks(taken, {"single": "0"})["single"].wrong_turn is None


@pytest.mark.parametrize(
    ("typed", "verdict", "says"),
    [
        ("220", Verdict.RIGHT, "Right: 220°."),
        ("7:20", Verdict.RIGHT, "Right: 220°."),
        ("224", Verdict.RIGHT, "Right: within 5° of 220°."),
        ("-140", Verdict.RIGHT, "Right: 220°."),
        ("226", Verdict.WRONG, "Your 226° is 6° clockwise of 220°."),
        ("210", Verdict.WRONG, "Your 210° is 10° counterclockwise of 220°."),
        ("40", Verdict.WRONG, "This is where the heavy spot is."),
    ],
)
def test_an_angle_is_marked_around_the_circle(typed: str, verdict: Verdict, says: str) -> None:
    taken = one_spot(number("at", "assembly[A].single.angle_deg", 5))
    mark = marks(taken, {"at": typed})["at"]
    assert mark.verdict is verdict
    assert mark.reason.startswith(says)


@given(st.integers(0, 359), st.integers(-720, 720))
def test_the_tolerance_holds_across_the_valve(spot_deg: int, typed: int) -> None:
    sheet = assembly(heavy_spots=[heavy_spot(30, spot_deg, -80)])
    taken = variant(small([number("at", "assembly[A].static.angle_deg", 7)], sheet))
    off = (typed - spot_deg + 180) % 360 - 180
    expected = Verdict.RIGHT if abs(off) <= 7 else Verdict.WRONG
    assert marks(taken, {"at": str(typed)})["at"].verdict is expected


@pytest.mark.parametrize("typed", ["", "   ", None, [], {}])
def test_a_blank_earns_nothing_and_is_called_blank(typed: Raw) -> None:
    mark = marks(one_spot(SINGLE), {"single": typed})["single"]
    assert (mark.verdict, mark.points, mark.reason) == (Verdict.BLANK, 0, "No answer was given.")
    assert marks(one_spot(SINGLE), {})["single"].verdict is Verdict.BLANK


@pytest.mark.parametrize(
    "typed", ["nan", "inf", "heavy", "30 mm", "1e999", "9**9**9**9 g", ["30"], {"LF": "A"}]
)
def test_an_unreadable_answer_earns_nothing_and_says_why(typed: Raw) -> None:
    mark = marks(one_spot(SINGLE), {"single": typed})["single"]
    assert (mark.verdict, mark.points) == (Verdict.WRONG, 0)
    assert len(mark.reason) > 10
    assert mark.your_answer


def test_a_choice_is_right_by_the_key_or_by_its_fixed_option() -> None:
    keyed = choice("decision", "fit match-mount replace", key="assembly[C].decision")
    fixed = choice("why", "couple looks", right="couple")
    taken = four(keyed, fixed)
    right = marks(taken, {"decision": "replace", "why": "couple"})
    assert [mark.verdict for mark in right.values()] == [Verdict.RIGHT, Verdict.RIGHT]
    wrong = marks(taken, {"decision": "fit", "why": "looks"})
    assert [mark.verdict for mark in wrong.values()] == [Verdict.WRONG, Verdict.WRONG]
    assert wrong["decision"].reason == "It is “It is replace”."
    assert wrong["why"].your_answer == "It is looks"
    unread = marks(taken, {"why": "neither"})["why"]
    assert (unread.verdict, unread.reason) == (Verdict.WRONG, "Choose one of the options shown.")


@pytest.mark.parametrize(
    ("ticked", "verdict", "says"),
    [
        (["C"], Verdict.RIGHT, "Right: C."),
        ("C", Verdict.RIGHT, "Right: C."),
        (["C", "A"], Verdict.WRONG, "A does not belong to it."),
        (["A", "B"], Verdict.WRONG, "C belongs to it; A, B do not."),
        (["B"], Verdict.WRONG, "C belongs to it; B does not."),
        ([NONE_OF_THEM], Verdict.WRONG, "C belongs to it."),
        ([NONE_OF_THEM, "C"], Verdict.WRONG, "Tick either"),
        (["E"], Verdict.WRONG, "Tick assemblies from the list."),
    ],
)
def test_several_letters_are_right_together(ticked: Raw, verdict: Verdict, says: str) -> None:
    mark = marks(four(several("over", "car.over_limit")), {"over": ticked})["over"]
    assert mark.verdict is verdict
    assert mark.reason.startswith(says)


@pytest.mark.parametrize("objective", ["comfort", "tracking"])
def test_a_placement_earns_points_between_worst_and_best(objective: str) -> None:
    taken = four(placement("place", f"car.{objective}"))
    forces, conicities = (18, 72, 25, 31), (24, -15, 0, 3)  # C has its new tire

    def cost(order: tuple[int, ...]) -> float:
        if objective == "comfort":
            return sum(weight * forces[i] for weight, i in zip((1, 0.85, 0.65, 0.5), order, strict=True))
        lf, rf, lr, rr = (conicities[i] for i in order)
        return abs(rf - lf) + 0.3 * abs(rr - lr)

    costs = {order: cost(order) for order in permutations(range(4))}
    best, worst = min(costs.values()), max(costs.values())
    for order, own in costs.items():
        answer = {position: "ABCD"[i] for position, i in zip(POSITIONS, order, strict=True)}
        mark = marks(taken, {"place": answer})["place"]
        # Forces are read to a newton.
        assert mark.points == pytest.approx(2 * (worst - own) / (worst - best), abs=0.06)
        right = own == pytest.approx(best)
        assert (mark.verdict is Verdict.RIGHT) == right
        assert (mark.points == 2) == right
        expected = Verdict.WRONG if mark.points == 0 else Verdict.PART
        assert right or mark.verdict is expected


def test_a_placement_for_the_other_driver_is_told_so() -> None:
    taken = four(placement("place", "car.comfort"))
    mark = marks(taken, {"place": {"LF": "C", "RF": "A", "LR": "B", "RR": "D"}})["place"]
    assert mark.wrong_turn == "drive-side-mirrored"
    assert "Look again at where the driver sits." in mark.reason
    assert 0 < mark.points < 2


def test_a_class_in_pounds_is_told_the_cost_of_a_placement_in_pounds() -> None:
    # LF 72, RF 18, LR 25, RR 31 N: 72 + 0.85 x 18 + 0.65 x 25 + 0.5 x 31 = 119.05 N, 26.76 lbf at 4.4482 N.
    wheels = {"bead_seats": {"inboard": [], "outboard": []}}
    sheets = [
        assembly(letter, wheel=wheels, tire={"force": [first(force, 0)]})
        for letter, force in zip("ABCD", (18, 72, 25, 31), strict=True)
    ]
    scenario = small([placement("place", "car.comfort")], *sheets, vehicle={"first_harmonic_limit_n": 80})
    taken = variant(scenario, units=UnitSystem.US)
    reason = marks(taken, {"place": {"LF": "B", "RF": "A", "LR": "C", "RR": "D"}})["place"].reason
    costs = [float(words.split(" lbf")[0].split()[-1]) for words in reason.split(" costs ")[1:2]]
    assert costs == pytest.approx([119.05 / 4.4482], abs=0.15)  # read to a fifth of a pound
    assert " N" not in reason


def test_the_key_of_a_placement_names_every_best_arrangement() -> None:
    taken = four(placement("place", "car.tracking"))
    key = right_answer_text(taken.scenario.tasks[0], taken)
    costs = np.asarray(taken.model.value("car.tracking"))
    best = [ARRANGEMENTS[row] for row in np.flatnonzero(costs - costs.min() < 1e-9)]
    assert len(best) == 4
    assert sorted(key.split(" or ")) == sorted(
        ", ".join(f"{position} {'ABCD'[i]}" for position, i in zip(POSITIONS, order, strict=True))
        for order in best
    )


@pytest.mark.parametrize(
    ("answer", "says"),
    [
        ({"LF": "A", "RF": "B", "LR": "C"}, "RR too"),
        ({"LF": "A", "RF": "A", "LR": "C", "RR": "D"}, "A stands at two positions"),
        ({"LF": "A", "RF": "B", "LR": "C", "RR": "E"}, "from the list"),
        ({"spare": "A"}, "each position"),
        ("ABCD", "each position"),
    ],
)
def test_an_incomplete_placement_says_what_is_missing(answer: Raw, says: str) -> None:
    mark = marks(four(placement("place", "car.comfort")), {"place": answer})["place"]
    assert (mark.verdict, mark.points) == (Verdict.WRONG, 0)
    assert says in mark.reason


def test_words_wait_for_the_instructor() -> None:
    mark = marks(one_spot(text("why")), {"why": "Because the arrows add."})["why"]
    assert (mark.verdict, mark.points, mark.out_of) == (Verdict.WAITING, 0, 2)
    assert mark.your_answer == "Because the arrows add."
    too_long = marks(one_spot(text("why", longest=20)), {"why": "x" * 21})["why"]
    assert (too_long.verdict, "at most 20" in too_long.reason) == (Verdict.WRONG, True)
    unseen = marks(one_spot(text("why")), {"why": "a\x00\u202eb"})["why"]
    assert (unseen.verdict, unseen.your_answer) == (Verdict.WAITING, "ab")
    for each in (mark, too_long, marks(one_spot(text("why")), {})["why"]):
        assert each.right_answer == "", "what is looked for in words is the instructor's to tell"


@pytest.mark.parametrize("typed", ["30\x00", "\ufeff30 g", "30\u2060", "\u200e30\r\n"])
def test_signs_that_cannot_be_seen_are_left_out_of_a_number(typed: str) -> None:
    assert marks(one_spot(SINGLE), {"single": typed})["single"].verdict is Verdict.RIGHT
    assert marks(one_spot(SINGLE), {"single": typed.replace("30", "").replace("g", "")})[
        "single"
    ].verdict is (Verdict.BLANK)


def test_right_use_of_an_own_wrong_value_earns_the_carried_share() -> None:
    # The sizes added as plain numbers are 8400 g.mm, not 6000: over 200 mm that is 42 g.
    taken = two_spots(STATIC, SINGLE)
    got = marks(taken, {"static": "8400", "single": "42"})
    assert (got["static"].verdict, got["static"].wrong_turn) == (Verdict.WRONG, "added-as-numbers")
    assert (got["single"].verdict, got["single"].points, got["single"].carried) == (Verdict.PART, 1, True)
    assert got["single"].reason == (
        "This follows rightly from your own “static”, 8400 g·mm: 42.0 g. It earns 50% of the points."
    )
    assert marks(taken, {"static": "8400", "single": "30"})["single"].verdict is Verdict.RIGHT
    assert marks(taken, {"static": "8400", "single": "50"})["single"].verdict is Verdict.WRONG
    assert marks(taken, {"static": "6000", "single": "42"})["single"].verdict is Verdict.WRONG
    assert marks(taken, {"static": "", "single": "42"})["single"].verdict is Verdict.WRONG
    assert marks(taken, {"static": "nan", "single": "42"})["single"].verdict is Verdict.WRONG


def test_the_carried_share_is_the_scenarios() -> None:
    taken = two_spots(STATIC, {**SINGLE, "carried_share": 0.25})
    assert marks(taken, {"static": "8400", "single": "42"})["single"].points == 0.5
    unfollowed = two_spots(STATIC, {**SINGLE, "follows": []})
    assert marks(unfollowed, {"static": "8400", "single": "42"})["single"].points == 0


def test_a_value_that_nothing_can_follow_from_carries_nothing() -> None:
    sheet = assembly(tire={"tin": {"prefix": "1AB", "week": 20, "year": 2020}})
    week = number("week", "assembly[A].tire.week", 0.1)
    age = number("age", "assembly[A].tire.age_years", 0.1, follows=["week"])
    taken = variant(small([week, age], sheet))
    got = marks(taken, {"week": "60", "age": "5"})
    assert (got["week"].verdict, got["age"].verdict) == (Verdict.WRONG, Verdict.WRONG)
    assert marks(taken, {"week": "45", "age": "5"})["age"].carried


def test_a_wrong_decision_carries_through_the_whole_job() -> None:
    taken = variant(shipped("four-assemblies"), seed=1)
    model = taken.model
    letter = next(each for each in "ABCD" if str(model.value(f"assembly[{each}].decision")) == "match-mount")
    own = model.with_given({f"assembly[{letter}].decision": np.asarray("fit")})
    ending = f"-{letter.lower()}"
    as_it_is = float(model.value(f"assembly[{letter}].force.first_n"))
    costs = np.asarray(own.value("car.comfort"))
    place = dict(zip(POSITIONS, ("ABCD"[i] for i in ARRANGEMENTS[int(costs.argmin())]), strict=True))
    sent: dict[str, Raw] = {f"decision{ending}": "fit", f"placed-first{ending}": f"{as_it_is:.1f}"}
    got = marks(taken, {**sent, "comfort": place})
    assert got[f"decision{ending}"].verdict is Verdict.WRONG
    assert got[f"placed-first{ending}"].carried
    assert got["comfort"].carried
    assert got["comfort"].points == 2.0
    for row in np.argsort(costs)[1:3]:
        second_best = dict(zip(POSITIONS, ("ABCD"[i] for i in ARRANGEMENTS[row]), strict=True))
        assert not marks(taken, {**sent, "comfort": second_best})["comfort"].carried


def test_what_follows_from_right_values_is_right_though_their_tolerances_add_up() -> None:
    # 10 and 8 degrees off are right within 14 and 10; the turn between them is 18 degrees off, above its 15.
    taken = variant(shipped("runout-and-match-mounting"), seed=1)
    exact = {
        name: float(taken.model.value(f"assembly[A].{name}"))
        for name in ("runout.average.high_deg", "tire_force.high_deg", "match.turn_deg")
    }
    wheel, tire, turn = exact.values()
    sent: dict[str, Raw] = {
        "average-high": f"{wheel + 10:.1f}",
        "match-turn": f"{(turn + 198) % 360 - 180:.1f}",
    }
    chain = marks(taken, {**sent, "tire-high": f"{tire - 8:.1f}"})
    for task_id in ("average-high", "tire-high", "match-turn"):
        assert chain[task_id].verdict is Verdict.RIGHT
        assert chain[task_id].points == chain[task_id].out_of
        assert not chain[task_id].carried
    assert "your own earlier values, which are right" in chain["match-turn"].reason
    alone = {"match-turn": sent["match-turn"]}
    assert marks(taken, alone)["match-turn"].verdict is Verdict.WRONG
    exactly = {**alone, "average-high": f"{wheel:.1f}", "tire-high": f"{tire:.1f}"}
    assert marks(taken, exactly)["match-turn"].verdict is Verdict.WRONG
    one_wrong = marks(
        taken, {**sent, "tire-high": f"{tire - 20:.1f}", "match-turn": f"{(turn + 210) % 360 - 180:.1f}"}
    )
    assert one_wrong["tire-high"].verdict is Verdict.WRONG
    assert (one_wrong["match-turn"].verdict, one_wrong["match-turn"].carried) == (Verdict.PART, True)


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_no_answer_at_all_is_marked_blank_throughout(scenario_id: str) -> None:
    taken = variant(shipped(scenario_id))
    got = mark_all(taken, {})
    assert [mark.task_id for mark in got] == [task.id for task in taken.scenario.tasks]
    assert {mark.verdict for mark in got} == {Verdict.BLANK}
    assert sum(mark.out_of for mark in got) == taken.scenario.out_of


RAW = st.one_of(
    st.none(),
    st.text(max_size=80),
    st.lists(st.sampled_from(["A", "B", "none", "Z", ""]), max_size=5),
    st.dictionaries(
        st.sampled_from([*POSITIONS, "x"]), st.sampled_from(["A", "B", "C", "D", "E", ""]), max_size=5
    ),
    st.integers(0, 10**11).map(str),
)


@pytest.mark.parametrize("scenario_id", SHIPPED)
@given(answers=st.dictionaries(st.integers(0, 60), RAW, max_size=30))
def test_whatever_is_sent_is_marked_between_nothing_and_full_points(
    scenario_id: str, answers: dict[int, Raw]
) -> None:
    taken = variant(shipped(scenario_id))
    tasks = taken.scenario.tasks
    sent = {tasks[number % len(tasks)].id: raw for number, raw in answers.items()}
    for mark in mark_all(taken, sent):
        assert 0 <= mark.points <= mark.out_of
        assert mark.reason


HINTS = [{"text": "Add arrows.", "cost": 0.5}, {"text": "Opposite.", "cost": 1}, {"text": "Look again."}]


@pytest.mark.parametrize(
    ("typed", "shown", "points", "says"),
    [
        ("220", 0, 2, "Right: 220°."),
        ("220", 1, 1.5, "Right: 220°. For 1 hint 0.5 points were taken off."),
        ("220", 2, 0.5, "Right: 220°. For 2 hints 1.5 points were taken off."),
        ("220", 3, 0.5, "Right: 220°. For 3 hints 1.5 points were taken off."),
        ("100", 2, 0, "Your 100° is 120° counterclockwise of 220°."),
    ],
)
def test_hints_cost_what_they_say_and_never_more_than_was_earned(
    typed: str, shown: int, points: float, says: str
) -> None:
    taken = one_spot(number("at", "assembly[A].single.angle_deg", 5, hints=HINTS))
    (mark,) = mark_all(taken, {"at": typed}, hints={"at": shown})
    assert (mark.points, mark.reason) == (points, says)


def test_hints_never_take_more_than_part_points_hold() -> None:
    taken = one_spot({**several_of("tools", "a b", "a b"), "hints": [{"text": "Two.", "cost": 2}]})
    (mark,) = mark_all(taken, {"tools": ["a"]}, hints={"tools": 1})
    assert (mark.points, mark.taken_off) == (0, 1)
    assert mark.reason.endswith("For 1 hint 1 point was taken off.")


def test_a_text_that_waits_says_what_its_hints_will_take() -> None:
    taken = one_spot(text("why", hints=HINTS))
    (mark,) = mark_all(taken, {"why": "So."}, hints={"why": 2})
    assert (mark.verdict, mark.points) == (Verdict.WAITING, 0)
    assert mark.reason == "Your instructor marks this one. For 2 hints 1.5 points will be taken off."


def test_a_hint_that_costs_more_than_its_task_is_refused() -> None:
    with pytest.raises(ValidationError, match="a hint costs 3 points, more than the 2 of its task"):
        one_spot(text("why", hints=[{"text": "Dear.", "cost": 3}]))

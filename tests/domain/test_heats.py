"""Timed heats: times, penalties, places and what was taken back. Common practice of races, no source."""

from datetime import UTC, datetime, timedelta

import pytest

from app.domain.heats import Act, Pressed, best_totals, places_by, standing_acts, started_at, team_times

NINE = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)


def pressed(key: str, act: Act, team: str | None = None, *, s: float = 0, **more: object) -> Pressed:
    """An act that the server heard of `s` seconds after nine."""
    return Pressed(key, act, team, NINE + timedelta(seconds=s), **more)  # type: ignore[arg-type]


def test_a_team_s_total_is_its_time_with_its_penalties():
    acts = [
        pressed("a", Act.START, page="p", page_ms=1000.0),
        pressed("b", Act.LAP, "red", s=20, page="p", page_ms=21_000.0),
        pressed("c", Act.PENALTY, "red", s=21, penalty_s=10.0, reason="torque not checked"),
        pressed("d", Act.STOP, "red", s=50, page="p", page_ms=51_500.0),
    ]
    [red] = team_times(["red"], acts)
    assert [lap.seconds for lap in red.laps] == [20.0]
    assert red.stopped is not None
    assert red.stopped.seconds == 50.5
    assert (red.total_s, red.place) == (60.5, 1)


def test_the_page_s_own_clock_is_trusted_for_the_interval_and_a_slow_network_is_told():
    acts = [
        pressed("a", Act.START, page="p", page_ms=0.0),
        pressed("b", Act.STOP, "red", s=75, page="p", page_ms=60_000.0),
    ]
    [red] = team_times(["red"], acts)
    assert red.stopped is not None
    assert (red.stopped.seconds, red.stopped.by_server, red.stopped.differ_s) == (60.0, False, 15.0)


def test_another_page_has_only_the_server_s_clock():
    acts = [
        pressed("a", Act.START, page="p", page_ms=500_000.0),
        pressed("b", Act.STOP, "red", s=61.5, page="q", page_ms=3_000.0),
    ]
    [red] = team_times(["red"], acts)
    assert red.stopped is not None
    assert (red.stopped.seconds, red.stopped.by_server, red.stopped.differ_s) == (61.5, True, None)


def test_clocks_that_agree_within_two_seconds_are_not_talked_of():
    acts = [
        pressed("a", Act.START, page="p", page_ms=0.0),
        pressed("b", Act.STOP, "red", s=61.9, page="p", page_ms=60_000.0),
    ]
    assert team_times(["red"], acts)[0].stopped.differ_s is None


def test_a_stop_that_is_undone_lets_the_team_run_on():
    acts = [
        pressed("a", Act.START),
        pressed("b", Act.STOP, "red", s=30),
        pressed("c", Act.UNDO, s=31, undoes="b"),
        pressed("d", Act.STOP, "red", s=40),
    ]
    assert team_times(["red"], acts)[0].total_s == 40.0
    assert [act.key for act in standing_acts(acts)] == ["a", "d"]


def test_a_second_start_and_a_second_stop_are_slips():
    acts = [
        pressed("a", Act.START),
        pressed("b", Act.START, s=5),
        pressed("c", Act.STOP, "red", s=30),
        pressed("d", Act.STOP, "red", s=33),
    ]
    assert team_times(["red"], acts)[0].total_s == 30.0
    assert started_at(acts).key == "a"


def test_an_undone_start_leaves_the_heat_not_begun():
    acts = [pressed("a", Act.START), pressed("b", Act.STOP, "red", s=9), pressed("c", Act.UNDO, undoes="a")]
    assert started_at(acts) is None
    assert team_times(["red"], acts)[0].total_s is None


def test_penalties_decide_the_places():
    acts = [
        pressed("a", Act.START),
        pressed("b", Act.STOP, "red", s=50),
        pressed("c", Act.STOP, "blue", s=55),
        pressed("d", Act.PENALTY, "red", s=56, penalty_s=10.0, reason="a weight fell off"),
    ]
    red, blue, green = team_times(["red", "blue", "green"], acts)
    assert (red.place, blue.place, green.place) == (2, 1, None)


@pytest.mark.parametrize(
    ("totals", "places"),
    [
        ([30.0, 20.0, 20.0, 40.0], (3, 1, 1, 4)),
        ([None, 5.0], (None, 1)),
        ([20.04, 20.01], (1, 1)),  # both are shown as 20.0
        ([20.04, 20.06], (1, 2)),
        ([], ()),
    ],
)
def test_equals_share_a_place_and_the_next_is_left_out(totals, places):
    assert places_by(totals) == places


def test_a_team_s_best_of_several_heats_counts():
    first = team_times(["red"], [pressed("a", Act.START), pressed("b", Act.STOP, "red", s=50)])
    second = team_times(["red"], [pressed("a", Act.START), pressed("b", Act.STOP, "red", s=45)])
    unfinished = team_times(["red"], [pressed("a", Act.START)])
    assert best_totals(["red", "blue"], [first, second, unfinished]) == {"red": 45.0, "blue": None}


def test_a_clock_that_ran_backwards_gives_no_negative_time():
    acts = [
        pressed("a", Act.START, s=10, page="p", page_ms=9_000.0),
        pressed("b", Act.STOP, "red", s=5, page="p", page_ms=1_000.0),
    ]
    assert team_times(["red"], acts)[0].stopped.seconds == 0.0

"""Contests of a class: teams, heats, and what the timekeeper presses."""

from datetime import timedelta

import pytest

from app.domain.heats import Act
from app.services import classes, heats
from app.services.errors import NotFound, Refused
from tests import factories


@pytest.fixture
def pupils(database, teacher, class_id):
    return [
        factories.student(database, class_id=class_id, instructor=teacher, name=name)
        for name in ("Ana Lund", "Bo Diaz", "Sam Okafor")
    ]


def make(database, teacher, class_id, now, teams, title="Wheel change"):
    return heats.make_contest(
        database, class_id=class_id, instructor=teacher, title=title, teams=teams, now=now
    )


@pytest.fixture
def contest_id(database, teacher, class_id, pupils, now):
    ana, bo, sam = (each.public_id for each in pupils)
    return make(database, teacher, class_id, now, {"Red": [ana, bo], "Blue": [sam]})


def view(database, teacher, class_id, contest_id, now):
    return heats.contest(database, class_id=class_id, instructor=teacher, contest_id=contest_id, now=now)


def press(database, teacher, class_id, contest_id, now, act, key, **more):
    heat = view(database, teacher, class_id, contest_id, now).heats[0]
    return heats.press(
        database,
        class_id=class_id,
        instructor=teacher,
        contest_id=contest_id,
        heat_id=more.pop("heat_id", heat.heat_id),
        act=act,
        key=key,
        now=now,
        **more,
    )


def test_a_contest_has_its_teams_and_a_first_heat(database, teacher, class_id, contest_id, now):
    seen = view(database, teacher, class_id, contest_id, now)
    assert [(team.name, team.members) for team in seen.teams] == [
        ("Red", ("Bo Diaz", "Ana Lund")),
        ("Blue", ("Sam Okafor",)),
    ]
    assert [heat.number for heat in seen.heats] == [1]
    assert [each.place for each in seen.ranking] == [None, None]


def test_a_heat_is_timed_and_ranked_over_all_heats(database, teacher, class_id, contest_id, now):
    where = (database, teacher, class_id, contest_id)
    red, blue = (team.team_id for team in view(*where, now).teams)
    press(*where, now, Act.START, "key-start-1", page="page-number-1", page_ms=100.0)
    press(
        *where,
        now + timedelta(seconds=40),
        Act.STOP,
        "key-stop-r1",
        team_id=red,
        page="page-number-1",
        page_ms=40_100.0,
    )
    press(
        *where,
        now + timedelta(seconds=45),
        Act.STOP,
        "key-stop-b1",
        team_id=blue,
        page="page-number-1",
        page_ms=45_100.0,
    )
    press(*where, now, Act.PENALTY, "key-penalty", team_id=red, penalty_s=10.0, reason="no torque check")
    seen = view(*where, now)
    assert [(each.team.name, each.best_s, each.place) for each in seen.ranking] == [
        ("Blue", 45.0, 1),
        ("Red", 50.0, 2),
    ]
    heats.add_heat(database, class_id=class_id, instructor=teacher, contest_id=contest_id, now=now)
    second = view(*where, now).heats[1].heat_id
    press(*where, now, Act.START, "key-start-2", heat_id=second)
    press(*where, now + timedelta(seconds=30), Act.STOP, "key-stop-r2", team_id=red, heat_id=second)
    assert [(each.team.name, each.best_s) for each in view(*where, now).ranking] == [
        ("Red", 30.0),
        ("Blue", 45.0),
    ]


def test_a_press_that_is_sent_again_changes_nothing(database, teacher, class_id, contest_id, now):
    where = (database, teacher, class_id, contest_id)
    red = view(*where, now).teams[0].team_id
    press(*where, now, Act.START, "key-start-1")
    for _ in range(2):
        heat = press(*where, now + timedelta(seconds=9), Act.LAP, "key-lap-1", team_id=red)
    assert len(heat.times[0].laps) == 1


def test_an_act_can_be_undone_once_it_is_there(database, teacher, class_id, contest_id, now):
    where = (database, teacher, class_id, contest_id)
    red = view(*where, now).teams[0].team_id
    press(*where, now, Act.START, "key-start-1")
    press(*where, now, Act.STOP, "key-stop-1", team_id=red)
    heat = press(*where, now, Act.UNDO, "key-undo-1", undoes="key-stop-1")
    assert heat.times[0].stopped is None
    with pytest.raises(Refused, match="nothing to undo"):
        press(*where, now, Act.UNDO, "key-undo-2", undoes="key-never-was")


@pytest.mark.parametrize(
    ("act", "more", "field"),
    [
        (Act.STOP, {}, "act"),
        (Act.UNDO, {}, "act"),
        (Act.PENALTY, {"team": True, "penalty_s": 0.0, "reason": "x"}, "penalty_s"),
        (Act.PENALTY, {"team": True, "penalty_s": float("nan"), "reason": "x"}, "penalty_s"),
        (Act.PENALTY, {"team": True, "penalty_s": 3601.0, "reason": "x"}, "penalty_s"),
        (Act.PENALTY, {"team": True, "penalty_s": 5.0, "reason": " "}, "reason"),
        (Act.PENALTY, {"team": True, "penalty_s": 5.0, "reason": "x" * 121}, "reason"),
        (Act.START, {"page_ms": float("nan"), "page": "page-number-1"}, "page_ms"),
        (Act.START, {"page_ms": 10**400, "page": "page-number-1"}, "page_ms"),
        (Act.START, {"page": "no page"}, "key"),
    ],
    ids=str,
)
def test_a_press_that_cannot_be_is_refused(database, teacher, class_id, contest_id, now, act, more, field):
    where = (database, teacher, class_id, contest_id)
    more = dict(more)
    if more.pop("team", False):
        more["team_id"] = view(*where, now).teams[0].team_id
    with pytest.raises(Refused) as refusal:
        press(*where, now, act, "key-number-1", **more)
    assert refusal.value.field == field


def test_a_team_or_heat_of_another_contest_is_not_found(database, teacher, class_id, contest_id, now):
    where = (database, teacher, class_id, contest_id)
    other = make(database, teacher, class_id, now, {"Green": []})
    green = view(database, teacher, class_id, other, now)
    press(*where, now, Act.START, "key-start-1")
    with pytest.raises(NotFound):
        press(*where, now, Act.STOP, "key-stop-1", team_id=green.teams[0].team_id)
    with pytest.raises(NotFound):
        press(*where, now, Act.START, "key-start-2", heat_id=green.heats[0].heat_id)
    with pytest.raises(NotFound):
        view(database, factories.instructor(database), class_id, contest_id, now)


@pytest.mark.parametrize(
    ("teams", "title", "message"),
    [
        ({}, "Job", "1 to 12 teams"),
        ({f"T{number}": [] for number in range(13)}, "Job", "1 to 12 teams"),
        ({"Red": [], " red ": []}, "Job", "same name"),
        ({"": []}, "Job", "name of at most"),
        ({"Red": []}, " ", "what is timed"),
    ],
    ids=str,
)
def test_teams_that_cannot_be_are_refused(database, teacher, class_id, now, teams, title, message):
    with pytest.raises(Refused, match=message):
        make(database, teacher, class_id, now, teams, title)


def test_a_student_is_in_one_team_and_in_the_class(database, teacher, class_id, pupils, now):
    ana = pupils[0].public_id
    with pytest.raises(Refused, match="one team only"):
        make(database, teacher, class_id, now, {"Red": [ana], "Blue": [ana]})
    classes.drop_student(database, class_id=class_id, instructor=teacher, student_id=ana, now=now)
    with pytest.raises(NotFound):
        make(database, teacher, class_id, now, {"Red": [ana]})


def test_a_class_that_is_put_away_takes_no_press(database, teacher, class_id, contest_id, now):
    classes.archive_class(database, class_id=class_id, instructor=teacher, archived=True, now=now)
    with pytest.raises(Refused, match="put away"):
        press(database, teacher, class_id, contest_id, now, Act.START, "key-start-1")

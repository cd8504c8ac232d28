"""The rules in words, as students and instructors read them."""

from datetime import timedelta

import pytest

from app.domain.standing import Counts, Solutions, Unlock, duration_words, rule_lines
from tests.domain.standing.ordinary import DAY, DUE, OPENS, rules

CLOSES = DUE + 2 * DAY


def told(**changed) -> dict[str, str]:
    return {line.name: line.words for line in rule_lines(rules(**changed), OPENS)}


def test_the_usual_rules_are_told_with_dates_in_the_class_s_zone():
    assert told() == {
        "Opens": "Mon, Mar 4, 9:00 AM.",
        "Due": "Wed, Mar 6, 9:00 AM.",
        "Late work": "Taken, and called late; it costs no points.",
        "Attempts": "2, each with numbers of its own; the best one counts.",
        "Solutions": "Shown with the marks, when an attempt is handed in.",
    }


@pytest.mark.parametrize(
    ("changed", "line", "words"),
    [
        ({"closes_at": DUE}, "Late work", "None is taken: what is saved at the due time is handed in then."),
        (
            {"closes_at": CLOSES, "late_percent_per_day": 10.0, "late_floor_percent": 50.0},
            "Late work",
            "Taken until Fri, Mar 8, 9:00 AM, and called late; each day begun costs 10 % of its points, "
            "and 50 % of them always stay. What is saved at the closing is handed in then.",
        ),
        (
            {"late_percent_per_day": 10.0},
            "Late work",
            "Taken, and called late; each day begun costs 10 % of its points.",
        ),
        ({"late_percent_per_day": 10.0, "practice": True}, "Late work", "Taken, and called late."),
        ({"attempts_allowed": 1}, "Attempts", "One."),
        (
            {"attempts_allowed": None, "counts": Counts.LAST},
            "Attempts",
            "As many as you like, each with numbers of its own; the last one handed in counts.",
        ),
        (
            {"counts": Counts.AVERAGE},
            "Attempts",
            "2, each with numbers of its own; the average of those handed in counts.",
        ),
        (
            {"minutes": 40},
            "Time limit",
            "40 min from the start of an attempt. The clock runs on when the page is closed; when the "
            "time is up, what is saved is handed in.",
        ),
        ({"practice": True}, "Practice", "Marks are shown, and nothing counts toward the total."),
        (
            {"solutions": Solutions.AFTER_CLOSING, "closes_at": CLOSES},
            "Solutions",
            "Shown once the lab is closed.",
        ),
        ({"unlock": Unlock("Lab 0", None)}, "Opens", "Mon, Mar 4, 9:00 AM, once “Lab 0” is handed in."),
        (
            {"unlock": Unlock("Lab 0", 70.0)},
            "Opens",
            "Mon, Mar 4, 9:00 AM, once 70 % of the points at “Lab 0” are reached.",
        ),
        ({"excused": "ill"}, "Excused", "It need not be done: ill."),
        ({"reason": "away with the team."}, "For you", "These rules are your own: away with the team."),
    ],
)
def test_each_rule_is_told_in_words(changed, line, words):
    assert told(**changed)[line] == words


def test_own_extra_time_is_told_with_how_it_comes_about():
    assert told(minutes=30, time_factor=1.5)["Time limit"].startswith("45 min (1.5 times the usual 30 min)")


@pytest.mark.parametrize(
    ("span", "words"),
    [
        (timedelta(minutes=45), "45 min"),
        (timedelta(minutes=90), "1 h 30 min"),
        (timedelta(hours=2), "2 h"),
        (timedelta(minutes=22.5), "22 min 30 s"),
        (timedelta(0), "0 min"),
    ],
)
def test_a_duration_is_told_in_hours_minutes_and_seconds(span, words):
    assert duration_words(span) == words

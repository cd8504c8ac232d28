"""The rules in words: the same lines for the student before the start and for the instructor who set them."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from app.domain.local_clock import time_words
from app.domain.standing.rules import Counts, Rules, Solutions
from app.domain.standing.scoring import Scored

_COUNTS = {
    Counts.BEST: "the best one counts",
    Counts.LAST: "the last one handed in counts",
    Counts.AVERAGE: "the average of those handed in counts",
}


@dataclass(frozen=True)
class RuleLine:
    """One rule: its name, and what it says."""

    name: str
    words: str


def rule_lines(rules: Rules, now: datetime) -> tuple[RuleLine, ...]:
    """Every rule that applies, in the order in which it matters; dates in the rules' zone."""

    def at(moment: datetime) -> str:
        return time_words(moment, rules.time_zone, now)

    lines = [
        RuleLine("Opens", _opens(rules, at(rules.opens_at))),
        RuleLine("Due", f"{at(rules.due_at)}."),
        RuleLine("Late work", _late(rules, None if rules.closes_at is None else at(rules.closes_at))),
        RuleLine("Attempts", _attempts(rules)),
    ]
    limit = rules.time_allowed
    if limit is not None:
        lines.append(RuleLine("Time limit", _limit(rules, limit)))
    if rules.practice:
        lines.append(RuleLine("Practice", "Marks are shown, and nothing counts toward the total."))
    lines.append(RuleLine("Solutions", _solutions(rules)))
    if rules.excused is not None:
        lines.append(RuleLine("Excused", f"It need not be done: {rules.excused}."))
    if rules.reason:
        lines.append(RuleLine("For you", f"These rules are your own: {rules.reason.rstrip('.')}."))
    return tuple(lines)


def deduction_words(rules: Rules, attempt: Scored) -> str:
    """What being late cost: `−10 % a day, 2 days late: 8 of 10 → 6.4`; empty when it cost nothing."""
    if attempt.kept_percent == 100:
        return ""
    days = f"{attempt.days_late} {'day' if attempt.days_late == 1 else 'days'} late"
    floor = f", at least {rules.late_floor_percent:g} % stay" if _at_the_floor(rules, attempt) else ""
    return (
        f"\N{MINUS SIGN}{rules.late_percent_per_day:g} % a day, {days}{floor}: "
        f"{_number(attempt.earned)} of {_number(attempt.out_of)} → {_number(attempt.points)}"
    )


def _at_the_floor(rules: Rules, attempt: Scored) -> bool:
    return attempt.kept_percent > 100 - attempt.days_late * rules.late_percent_per_day


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _opens(rules: Rules, at: str) -> str:
    if rules.unlock is None:
        return f"{at}."
    first = rules.unlock
    if first.percent is None:
        return f"{at}, once “{first.title}” is handed in."
    return f"{at}, once {first.percent:g} % of the points at “{first.title}” are reached."


def _late(rules: Rules, closes: str | None) -> str:
    if rules.closes_at is not None and rules.closes_at <= rules.due_at:
        return "None is taken: what is saved at the due time is handed in then."
    taken = "Taken, and called late" if closes is None else f"Taken until {closes}, and called late"
    if rules.late_percent_per_day == 0 or rules.practice:
        cost = "; it costs no points." if not rules.practice else "."
    else:
        cost = f"; each day begun costs {rules.late_percent_per_day:g} % of its points"
        floor = rules.late_floor_percent
        cost += f", and {floor:g} % of them always stay." if floor else "."
    end = "" if closes is None else " What is saved at the closing is handed in then."
    return taken + cost + end


def _attempts(rules: Rules) -> str:
    if rules.attempts_allowed == 1:
        return "One."
    how_many = "As many as you like" if rules.attempts_allowed is None else str(rules.attempts_allowed)
    return f"{how_many}, each with numbers of its own; {_COUNTS[rules.counts]}."


def _limit(rules: Rules, limit: timedelta) -> str:
    factor = f" ({rules.time_factor:g} times the usual {rules.minutes} min)" if rules.time_factor != 1 else ""
    return (
        f"{duration_words(limit)}{factor} from the start of an attempt. The clock runs on when the page is "
        "closed; when the time is up, what is saved is handed in."
    )


def duration_words(span: timedelta) -> str:
    """`45 min`, `1 h 30 min`, `22 min 30 s`."""
    seconds = round(span.total_seconds())
    hours, minutes, rest = seconds // 3600, seconds % 3600 // 60, seconds % 60
    parts = [(hours, "h"), (minutes, "min"), (rest, "s")]
    return " ".join(f"{count} {unit}" for count, unit in parts if count) or "0 min"


def _solutions(rules: Rules) -> str:
    if rules.solutions is Solutions.AFTER_ATTEMPT:
        return "Shown with the marks, when an attempt is handed in."
    return "Shown once the lab is closed."

"""The rules of an assignment and where a student stands by them: pure functions of rules, attempts and time.

The student's list, the lab, the gradebook and the exports all ask `standing`, so that they never disagree.
"""

from app.domain.standing.rules import GRACE, Counts, Exceptional, Rules, Solutions, Unlock
from app.domain.standing.scoring import Counted, Scored, Try, counted, days_late, kept_percent, scored
from app.domain.standing.standing import Standing, State, standing
from app.domain.standing.words import RuleLine, deduction_words, duration_words, rule_lines

__all__ = [
    "GRACE",
    "Counted",
    "Counts",
    "Exceptional",
    "RuleLine",
    "Rules",
    "Scored",
    "Solutions",
    "Standing",
    "State",
    "Try",
    "Unlock",
    "counted",
    "days_late",
    "deduction_words",
    "duration_words",
    "kept_percent",
    "rule_lines",
    "scored",
    "standing",
]

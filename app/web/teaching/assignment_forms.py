"""Forms that give a scenario to a class and change what was given."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import datetime, timedelta
from typing import Any

from wtforms.validators import StopValidation

from app.domain.standing import Counts, Solutions
from app.services.assignments import (
    LONGEST_MINUTES,
    LONGEST_TITLE,
    MOST_ATTEMPTS,
    AssignmentDetail,
    AssignmentRow,
    RuleEntries,
)
from app.services.classes import ClassRow
from app.web.fields import FiniteField, TextField, TickField, WholeField, grouped_choices, radio, select
from app.web.formatting import zone_name
from app.web.forms import BaseForm
from app.web.teaching.local_times import LocalTimeField, in_zone

CHOOSE_CLASS = "Choose the class that works this lab."
USUAL_SPAN = timedelta(days=7)
DATES = ("opens_at", "due_at", "closes_at")


class AssignForm(BaseForm):
    """Call `offer` before `validate`: the dates are meant in the time zone of the class that is chosen."""

    class_id = select("Class", (), missing=CHOOSE_CLASS)
    title = TextField(
        "Title",
        longest=LONGEST_TITLE,
        missing="Give the assignment a title.",
        hint="As students see it in their list.",
    )
    opens_at = LocalTimeField(
        "Opens",
        missing="Choose the day and time from which students may start.",
        hint="In the class’s time zone. Students see the lab from then on.",
    )
    due_at = LocalTimeField(
        "Due",
        missing="Choose the day and time by which it is to be handed in.",
        hint="In the class’s time zone. Work handed in later is called late.",
    )
    closes_at = LocalTimeField(
        "Closes",
        hint="Nothing is taken after this; what is saved then is handed in. "
        "Leave it empty to take late work always.",
    )
    attempts_allowed = WholeField(
        "Attempts allowed",
        least=1,
        most=MOST_ATTEMPTS,
        example="3",
        hint="Each attempt has new numbers. Leave it empty for as many as they like.",
    )
    counts = radio(
        "Which attempt counts",
        (
            (Counts.BEST.value, "The best"),
            (Counts.LAST.value, "The last one handed in"),
            (Counts.AVERAGE.value, "The average of those handed in"),
        ),
        missing="Choose which attempt counts.",
        default=Counts.BEST.value,
    )
    minutes = WholeField(
        "Time limit in minutes",
        least=1,
        most=LONGEST_MINUTES,
        example="45",
        hint="For one attempt, from its start. A student’s extra time stretches it. "
        "Leave it empty for no limit.",
    )
    late_percent_per_day = FiniteField(
        "Late work loses, in % a day",
        least=0,
        most=100,
        example="10",
        hint="Of its points, for each 24 hours begun after the due time. Leave it empty for none.",
    )
    late_floor_percent = FiniteField(
        "Late work keeps at least, in %",
        least=0,
        most=100,
        example="50",
        hint="Of its points, however late. Leave it empty for nothing.",
    )
    unlock_after = select("Opens after another lab", (), missing="Choose a lab of this class, or none.")
    unlock_percent = FiniteField(
        "Share to reach there first, in %",
        least=0,
        most=100,
        example="70",
        hint="Of its points. Leave it empty where handing it in is enough.",
    )
    solutions = radio(
        "Worked solutions are shown",
        (
            (Solutions.AFTER_ATTEMPT.value, "With the marks, after each attempt"),
            (Solutions.AFTER_CLOSING.value, "Once the lab is closed"),
        ),
        missing="Choose when the worked solutions are shown.",
        default=Solutions.AFTER_ATTEMPT.value,
    )
    practice = TickField("Practice: marks are shown, and nothing counts toward the total")

    zone: str | None = None

    def offer(self, classes: Sequence[ClassRow], given: Mapping[str, Sequence[AssignmentRow]]) -> None:
        """Let the instructor choose among these classes, and among what each was given already."""
        labels = [(row.public_id, f"{row.name} ({zone_name(row.time_zone)} time)") for row in classes]
        self.class_id.choices = [("", "Choose a class"), *labels]
        self.zone = {row.public_id: row.time_zone for row in classes}.get(self.class_id.data)
        firsts = {row.name: _labels(given[row.public_id]) for row in classes if given[row.public_id]}
        self.unlock_after.choices = grouped_choices({"": [("", "None")], **firsts})

    def validate_class_id(self, field: Any) -> None:
        if not field.data:
            raise StopValidation(CHOOSE_CLASS)

    def validate_opens_at(self, field: LocalTimeField) -> None:
        field.place_in(self.zone)

    def validate_due_at(self, field: LocalTimeField) -> None:
        field.place_in(self.zone)

    def validate_closes_at(self, field: LocalTimeField) -> None:
        field.place_in(self.zone)

    def rules(self) -> RuleEntries:
        """The entries of a valid form under the names the service gives them, without the class."""
        return {
            "title": self.title.data,
            "opens_at": self.opens_at.sure_moment,
            "due_at": self.due_at.sure_moment,
            "closes_at": self.closes_at.moment,
            "attempts_allowed": self.attempts_allowed.data,
            "counts": Counts(self.counts.data),
            "minutes": self.minutes.data,
            "late_percent_per_day": self.late_percent_per_day.data or 0.0,
            "late_floor_percent": self.late_floor_percent.data or 0.0,
            "unlock_after": self.unlock_after.data or None,
            "unlock_percent": self.unlock_percent.data,
            "solutions": Solutions(self.solutions.data),
            "practice": self.practice.data,
        }


class ChangeForm(AssignForm):
    """As AssignForm; the class stays, so `place` it instead of calling `offer`."""

    class_id = None

    def place(self, zone: str, others: Sequence[AssignmentRow]) -> None:
        """others: what else the class was given."""
        self.zone = zone
        self.unlock_after.choices = [("", "None"), *_labels(others)]


def _labels(rows: Sequence[AssignmentRow]) -> list[tuple[str, str]]:
    return [(row.public_id, row.title) for row in rows]


def usual_rules(title: str, school_class: ClassRow | None, now: datetime) -> dict[str, Any]:
    """What an empty form starts from: open at once and due at the end of the day a week later.

    Without a class there is no time zone yet, so the times stay empty.
    """
    if school_class is None:
        return {"title": title}
    opens = in_zone(now, school_class.time_zone)
    due = (opens + USUAL_SPAN).replace(hour=23, minute=59)
    return {"title": title, "class_id": school_class.public_id, "opens_at": opens, "due_at": due}


def present_rules(assignment: AssignmentDetail) -> dict[str, Any]:
    """What the form to change an assignment starts from."""
    row, zone = assignment.row, assignment.time_zone
    rules = asdict(row.rules)
    dates = {name: in_zone(rules[name], zone) if rules[name] else None for name in DATES}
    unlock = row.rules.unlock
    return {
        **rules,
        **dates,
        "title": row.title,
        "late_percent_per_day": row.rules.late_percent_per_day or None,
        "late_floor_percent": row.rules.late_floor_percent or None,
        "unlock_after": row.unlock_after or "",
        "unlock_percent": None if unlock is None else unlock.percent,
    }

"""Forms that give a scenario to a class and change what was given."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from wtforms.validators import StopValidation, ValidationError

from app.services.assignments import LONGEST_TITLE, MOST_ATTEMPTS, AssignmentDetail
from app.services.classes import ClassRow
from app.web.fields import FiniteField, TextField, select
from app.web.formatting import zone_name
from app.web.forms import BaseForm
from app.web.teaching.local_times import LocalTimeField, in_zone

CHOOSE_CLASS = "Choose the class that works this lab."
USUAL_SPAN = timedelta(days=7)


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
        hint="In the class’s time zone. Work handed in later is taken, and called late.",
    )
    attempts_allowed = FiniteField(
        "Attempts allowed",
        least=1,
        most=MOST_ATTEMPTS,
        example="3",
        hint="Each attempt has new numbers, and the best counts. Leave it empty for as many as they like.",
    )

    zone: str | None = None

    def offer(self, classes: Sequence[ClassRow]) -> None:
        """Let the instructor choose among these classes."""
        labels = [(row.public_id, f"{row.name} ({zone_name(row.time_zone)} time)") for row in classes]
        self.class_id.choices = [("", "Choose a class"), *labels]
        self.zone = {row.public_id: row.time_zone for row in classes}.get(self.class_id.data)

    def validate_class_id(self, field: Any) -> None:
        if not field.data:
            raise StopValidation(CHOOSE_CLASS)

    def validate_opens_at(self, field: LocalTimeField) -> None:
        field.place_in(self.zone)

    def validate_due_at(self, field: LocalTimeField) -> None:
        field.place_in(self.zone)

    def validate_attempts_allowed(self, field: FiniteField) -> None:
        if field.data is not None and field.data != int(field.data):
            raise ValidationError("Enter a whole number, like 3.")

    def rules(self) -> dict[str, Any]:
        """The entries of a valid form under the names the service gives them, without the class."""
        attempts = self.attempts_allowed.data
        return {
            "title": self.title.data,
            "opens_at": self.opens_at.moment,
            "due_at": self.due_at.moment,
            "attempts_allowed": None if attempts is None else int(attempts),
        }


class ChangeForm(AssignForm):
    """As AssignForm; the class stays, so set `zone` instead of calling `offer`."""

    class_id = None


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
    return {
        "title": row.title,
        "opens_at": in_zone(row.opens_at, zone),
        "due_at": in_zone(row.due_at, zone),
        "attempts_allowed": row.attempts_allowed,
    }

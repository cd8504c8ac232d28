"""Forms of what is otherwise for one student."""

from typing import Any

from app.domain.standing import Exceptional
from app.services.assignments import MOST_ATTEMPTS
from app.services.classes import MOST_EXTRA_TIME
from app.services.exceptions import LONGEST_REASON, ExceptionRow
from app.web.fields import FiniteField, TextField, TickField, WholeField
from app.web.forms import BaseForm
from app.web.teaching.local_times import LocalTimeField, in_zone

DATES = ("opens_at", "due_at", "closes_at")


class ExceptionForm(BaseForm):
    """Set `zone` before `validate`. What is left empty is as for the class."""

    opens_at = LocalTimeField("Opens")
    due_at = LocalTimeField("Due", hint="One after the closing lets this student in until then.")
    closes_at = LocalTimeField("Closes")
    attempts_allowed = WholeField("Attempts allowed", least=1, most=MOST_ATTEMPTS, example="3")
    time_factor = FiniteField(
        "Times the usual time",
        least=1,
        most=MOST_EXTRA_TIME,
        example="1.5",
        hint="Of this lab’s time limit, 1.5 for half as much again. Empty: the student’s time in the class.",
    )
    excused = TickField("Excused: it need not be done and counts nowhere")
    reason = TextField("Reason", longest=LONGEST_REASON, hint="The student reads it. Needed when excused.")

    zone: str | None = None

    def validate_opens_at(self, field: LocalTimeField) -> None:
        field.place_in(self.zone)

    def validate_due_at(self, field: LocalTimeField) -> None:
        field.place_in(self.zone)

    def validate_closes_at(self, field: LocalTimeField) -> None:
        field.place_in(self.zone)

    def exception(self, removed: bool) -> Exceptional:
        """The entries of a valid form; none when it is taken away."""
        if removed:
            return Exceptional()
        return Exceptional(
            opens_at=self.opens_at.moment,
            due_at=self.due_at.moment,
            closes_at=self.closes_at.moment,
            attempts_allowed=self.attempts_allowed.data,
            time_factor=self.time_factor.data,
            excused=self.excused.data,
            reason=self.reason.data or "",
        )


class ExtraTimeForm(BaseForm):
    extra_time_factor = FiniteField(
        "Times the usual time",
        least=1,
        most=MOST_EXTRA_TIME,
        example="1.5",
        missing="Enter 1 for the usual time, or up to 4, like 1.5 for half as much again.",
        hint="1 is the usual time, 1.5 half as much again. It stretches every time limit of this class.",
    )


def present_exception(row: ExceptionRow | None, zone: str) -> dict[str, Any]:
    """What the form starts from."""
    if row is None:
        return {}
    own = row.exception
    dates = {name: getattr(own, name) for name in DATES}
    return {
        **{name: in_zone(moment, zone) for name, moment in dates.items() if moment is not None},
        "attempts_allowed": own.attempts_allowed,
        "time_factor": own.time_factor,
        "excused": own.excused,
        "reason": own.reason,
    }

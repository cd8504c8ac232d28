"""Forms about lists of students, instructors of a class, and one student."""

from typing import Any

from wtforms import FileField
from wtforms.validators import StopValidation

from app.services.classes import ClassRow
from app.services.names import LONGEST_NAME, LONGEST_SIGN_IN_NAME
from app.services.oneroster_import import NEW_CLASS, Offer
from app.services.roster_columns import Columns, labels
from app.services.roster_import import Preview
from app.web.fields import MultiCheckboxField, TextField, TickField, radio, select
from app.web.forms import BaseForm
from app.web.teaching.class_forms import ClassForm, zone_options

NO_COLUMN = ""
COLUMN_FIELDS = ("name", "given", "family", "number", "sign_in")


class UploadForm(BaseForm):
    """One file; `content` has its bytes after validation."""

    file = FileField("File")
    content: bytes = b""

    def validate_file(self, field: Any) -> None:
        self.content = field.data.read() if field.data else b""
        if not self.content:
            raise StopValidation("Choose the file to send.")


def _column(label: str, hint: str = "") -> Any:
    return select(label, (), missing="Choose a column of the list, or none.", hint=hint, default=NO_COLUMN)


class ColumnsForm(BaseForm):
    """Which column holds what."""

    name = _column(
        "Whole name", "“Sam Okafor” or “Okafor, Sam”. Leave it at none where there are two columns."
    )
    given = _column("First name")
    family = _column("Last name")
    number = _column("Student number", "Kept, so that the next list finds the same student.")
    sign_in = _column("Sign-in name", "Made for each student where the list has none.")
    has_heads = TickField("The first line names the columns")
    leave_out = TickField("Leave out the lines with a fault and take the others")

    def offer(self, preview: Preview, *, show: bool) -> "ColumnsForm":
        """Set the columns to choose from; with `show`, choose those of the preview."""
        options = [(NO_COLUMN, "none")] + [
            (str(place), label) for place, label in enumerate(labels(preview.table))
        ]
        for name in COLUMN_FIELDS:
            self._fields[name].choices = options
            if show:
                place = getattr(preview.columns, name)
                self._fields[name].data = NO_COLUMN if place is None else str(place)
        if show:
            self.has_heads.data = preview.columns.has_heads
        return self

    def columns(self) -> Columns:
        places = {name: self._fields[name].data for name in COLUMN_FIELDS}
        return Columns(
            self.has_heads.data,
            **{name: None if place == NO_COLUMN else int(place) for name, place in places.items()},
        )


class ZipForm(BaseForm):
    """What to do about a new class that is made from a roster."""

    time_zone = select(
        "Time zone of new classes", zone_options(), missing="Choose a time zone for the new classes."
    )
    units = ClassForm.units
    leave_out = TickField("Leave out the students with a fault and take the others")

    def validate_time_zone(self, field: Any) -> None:
        if not field.data:
            raise StopValidation("Choose a time zone for the new classes.")


def class_options(offer: Offer) -> list[tuple[str, str]]:
    """Where a class of the roster can go."""
    return [
        ("", "Leave it out"),
        (NEW_CLASS, "Make a new class"),
        *((class_id, f"Into {name}") for class_id, name in offer.own),
    ]


class InstructorForm(BaseForm):
    sign_in_name = TextField(
        "Sign-in name of the other instructor",
        longest=LONGEST_SIGN_IN_NAME,
        missing="Type the name that the other instructor signs in with.",
    )


class JoinForm(BaseForm):
    students = MultiCheckboxField("Students of your other classes", missing="Tick the students who join.")


class MoveForm(BaseForm):
    to_class = radio("Into", (), missing="Choose the class they move into.")

    def offer(self, rows: list[ClassRow]) -> "MoveForm":
        self.to_class.choices = [(row.public_id, row.name) for row in rows]
        return self


class DeleteForm(BaseForm):
    typed_name = TextField(
        "The student’s name, to say that you mean it",
        longest=LONGEST_NAME,
        missing="Type the student’s name as it stands on this page.",
    )

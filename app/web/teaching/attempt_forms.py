"""The form that marks an answer in words."""

from typing import Any

from werkzeug.datastructures import MultiDict

from app.domain.tasks import TextTask
from app.services.review import LONGEST_COMMENT
from app.web.fields import FiniteField, LongTextField
from app.web.formatting import number
from app.web.forms import BaseForm


def text_mark_form(
    task: TextTask, sent: MultiDict[str, str] | None = None, *, points: float | None, comment: str
) -> Any:
    """A form for one task: takes up to the task's points, and its ids differ from another task's."""
    example = number(task.points / 2)

    class TextMarkForm(BaseForm):
        points = FiniteField(
            "Points",
            least=0,
            most=task.points,
            example=example,
            missing=f"Enter the points, from 0 to {number(task.points)}.",
        )
        comment = LongTextField(
            "Comment", longest=LONGEST_COMMENT, hint="The student reads it beside the answer."
        )

    form = TextMarkForm(sent, data={"points": points, "comment": comment})
    for field in (form.points, form.comment):
        field.id = f"{field.name}-{task.id}"
    return form

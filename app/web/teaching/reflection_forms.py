"""Forms of an instructor round reflection sheets: returning one, what they ask, what they are worth."""

from typing import Any

from werkzeug.datastructures import MultiDict

from app.services.reflection_prompts import LONGEST_PROMPT, MOST_POINTS
from app.services.reflection_sheets import Sheet
from app.services.reflection_workflow import LONGEST_COMMENT
from app.web.fields import FiniteField, LongTextField
from app.web.formatting import number
from app.web.forms import BaseForm


def return_form(sheet: Sheet, sent: MultiDict[str, str] | None = None) -> Any:
    """Takes a comment and, where the sheets are worth some, points; starts from those given last."""

    class ReturnForm(BaseForm):
        if sheet.out_of is not None:
            points = FiniteField(
                "Points", least=0, most=sheet.out_of, example=number(sheet.out_of / 2), hint="May stay empty."
            )
        comment = LongTextField(
            "Comment", longest=LONGEST_COMMENT, hint="The student reads it over the sheet."
        )

    return ReturnForm(sent, data={"points": sheet.points, "comment": sheet.comment})


class PromptForm(BaseForm):
    text = LongTextField(
        "Another question",
        longest=LONGEST_PROMPT,
        missing="Write the question.",
        hint="It stands on every sheet of this assignment at once, after the scenario’s questions.",
    )


class PointsForm(BaseForm):
    out_of = FiniteField(
        "Points for a sheet",
        least=0,
        most=MOST_POINTS,
        example="4",
        hint="Leave it empty when sheets are read and not graded.",
    )

"""The form that marks an answer in words."""

from collections.abc import Mapping
from typing import Any

from werkzeug.datastructures import MultiDict

from app.domain.marking.by_hand import Earned
from app.domain.tasks import RubricCriterion, TextTask
from app.services.review import CRITERION, LONGEST_COMMENT
from app.web.fields import FiniteField, LongTextField, radio
from app.web.formatting import number
from app.web.forms import BaseForm


class TextMarkForm(BaseForm):
    """What all these forms have. criteria: the ids of the rubric's, none where it is plain words."""

    criteria: tuple[str, ...] = ()
    comment = LongTextField(
        "Comment", longest=LONGEST_COMMENT, hint="The student reads it beside the answer."
    )

    @property
    def point_fields(self) -> list[Any]:
        """One for the whole, or one for each criterion."""
        return [self[CRITERION + name] for name in self.criteria] or [self["points"]]

    @property
    def earned(self) -> Earned:
        """The points of a valid form."""
        if not self.criteria:
            return float(self["points"].data)
        return {name: float(self[CRITERION + name].data) for name in self.criteria}


def text_mark_form(
    task: TextTask,
    sent: MultiDict[str, str] | None = None,
    *,
    points: float | None,
    by_criterion: Mapping[str, float],
    comment: str,
) -> Any:
    """A form for one task: takes what its rubric gives, and its ids differ from another task's.

    points, by_criterion: as marked before, None and empty while it waits.
    """
    fields = {CRITERION + each.id: _criterion_field(each) for each in task.criteria} or {
        "points": _points_field("Points", task.points)
    }
    kind = type("OwnTextMarkForm", (TextMarkForm,), {"criteria": tuple(each.id for each in task.criteria)})
    for name, made in fields.items():
        setattr(kind, name, made)
    before = {CRITERION + name: _as_chosen(task, name, each) for name, each in by_criterion.items()}
    form = kind(sent, data={"points": points, "comment": comment, **before})
    for field in (*form.point_fields, form.comment):
        field.id = f"{field.name}-{task.id}"
    return form


def _criterion_field(criterion: RubricCriterion) -> Any:
    label = f"{criterion.text} ({number(criterion.points)})"
    if not criterion.levels:
        return _points_field(label, criterion.points)
    options = [(f"{each.points:g}", f"{each.text}: {number(each.points)}") for each in criterion.levels]
    return radio(label, options, missing="Choose one of the levels.")


def _points_field(label: str, most: float) -> Any:
    missing = f"Enter the points, from 0 to {number(most)}."
    return FiniteField(label, least=0, most=most, example=number(most / 2), missing=missing)


def _as_chosen(task: TextTask, name: str, points: float) -> float | str:
    """Points as a field holds them: of levels the value of the button."""
    levels = any(each.levels for each in task.criteria if each.id == name)
    return f"{points:g}" if levels else points

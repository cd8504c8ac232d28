"""Routes of marking an assignment again: who changes and by how much, then doing it."""

from dataclasses import dataclass

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from wtforms import HiddenField

from app.services import regrading
from app.services.regrading import RegradePreview
from app.services.remarking import AttemptPlan, TaskChange
from app.web import current
from app.web.access import Rule, access
from app.web.formatting import counted
from app.web.forms import BaseForm
from app.web.teaching import blueprint

MOST_ROWS = 300
"""Marks that the page lists; the numbers above the list are of all."""


class RegradeForm(BaseForm):
    """What was looked at, sent back with the button."""

    expect = HiddenField()


@dataclass(frozen=True)
class RegradePage:
    preview: RegradePreview
    form: RegradeForm

    @property
    def moves(self) -> bool:
        return self.preview.version != self.preview.to_version

    @property
    def others(self) -> list[int]:
        """The versions that the assignment could be moved to instead."""
        return [number for number in self.preview.versions if number != self.preview.to_version]

    @property
    def rows(self) -> list[tuple[AttemptPlan, TaskChange]]:
        return self.preview.task_changes[:MOST_ROWS]

    @property
    def not_listed(self) -> int:
        return max(0, len(self.preview.task_changes) - MOST_ROWS)


@blueprint.get("/assignments/<public_id:assignment_id>/regrade")
@access(Rule.INSTRUCTOR)
def regrade(assignment_id: str) -> ResponseReturnValue:
    """The preview; `?version=` says to which version the work is moved."""
    preview = _preview(assignment_id)
    form = RegradeForm(data={"expect": preview.stamp})
    return render_template("teaching/regrade.html", page=RegradePage(preview, form))


@blueprint.post("/assignments/<public_id:assignment_id>/regrade")
@access(Rule.INSTRUCTOR)
def do_regrade(assignment_id: str) -> ResponseReturnValue:
    form = RegradeForm(request.form)
    if form.validate():
        with form.shows_refusals():
            done = regrading.regrade(
                current.database(),
                assignment_id=assignment_id,
                instructor=current.someone(),
                to_version=_asked_version(),
                expect=form.expect.data or "",
                now=current.now(),
            )
            flash(f"Marked again: {counted(len(done.changed), 'attempt')} changed in points.")
            return redirect(url_for("teaching.assignment", assignment_id=assignment_id), 303)
    preview = _preview(assignment_id)
    form.expect.data = preview.stamp
    return render_template("teaching/regrade.html", page=RegradePage(preview, form)), form.status


def _preview(assignment_id: str) -> RegradePreview:
    return regrading.preview_regrade(
        current.database(),
        assignment_id=assignment_id,
        instructor=current.someone(),
        to_version=_asked_version(),
    )


def _asked_version() -> int | None:
    """The version that the address names; one that is no number is one that isn't there."""
    typed = request.args.get("version")
    if typed is None:
        return None
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else 0

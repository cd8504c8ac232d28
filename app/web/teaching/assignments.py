"""Routes of assignments: giving a scenario to a class, looking at how far the class is, changing dates."""

from typing import Any

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import assignments, classes, exceptions, handing_in, rule_changes, scenarios
from app.services.errors import NotFound
from app.web import current
from app.web.access import Rule, access
from app.web.teaching import blueprint
from app.web.teaching.assignment_forms import AssignForm, ChangeForm, present_rules, usual_rules
from app.web.teaching.assignment_pages import AssignmentPage, AssignmentSettingsPage, AssignPage

CARRY_CLASS = {"teaching.scenarios", "teaching.scenario", "teaching.assign"}
"""The way from a class to giving it a scenario; each of these pages hands `?class=` on to the next."""


@blueprint.url_defaults
def carry_class(endpoint: str, values: dict[str, Any]) -> None:
    if endpoint in CARRY_CLASS and request.endpoint in CARRY_CLASS and "class" in request.args:
        values.setdefault("class", request.args["class"])


@blueprint.get("/scenarios/<public_id:scenario_id>/assign")
@access(Rule.INSTRUCTOR)
def assign(scenario_id: str) -> ResponseReturnValue:
    """An empty form; `?class=` says for which class, without it the only one there is."""
    card, rows = _card(scenario_id), _open_classes()
    asked = request.args.get("class") or (rows[0].public_id if len(rows) == 1 else "")
    chosen = next((row for row in rows if row.public_id == asked), None)
    form = AssignForm(data=usual_rules(card.title, chosen, current.now()))
    form.offer(rows, _given(rows))
    return render_template("teaching/assign.html", page=AssignPage(card, form, rows))


@blueprint.post("/scenarios/<public_id:scenario_id>/assign")
@access(Rule.INSTRUCTOR)
def give(scenario_id: str) -> ResponseReturnValue:
    card, rows, form = _card(scenario_id), _open_classes(), AssignForm(request.form)
    form.offer(rows, _given(rows))
    if form.validate():
        with form.shows_refusals():
            assignment_id = assignments.assign(
                current.database(),
                class_id=form.class_id.data,
                instructor=current.someone(),
                scenario_id=scenario_id,
                now=current.now(),
                **form.rules(),
            )
            flash(f"{form.title.data} is given to the class.")
            return redirect(url_for("teaching.assignment", assignment_id=assignment_id), 303)
    return render_template("teaching/assign.html", page=AssignPage(card, form, rows)), form.status


@blueprint.get("/assignments/<public_id:assignment_id>")
@access(Rule.INSTRUCTOR)
def assignment(assignment_id: str) -> ResponseReturnValue:
    handing_in.hand_in_what_is_over(current.database(), now=current.now(), assignment_id=assignment_id)
    own = exceptions.exceptions_of(
        current.database(), assignment_id=assignment_id, instructor=current.someone()
    )
    page = AssignmentPage(own_assignment(assignment_id), current.now(), own)
    return render_template("teaching/assignment.html", page=page)


@blueprint.get("/assignments/<public_id:assignment_id>/settings")
@access(Rule.INSTRUCTOR)
def assignment_settings(assignment_id: str) -> ResponseReturnValue:
    detail = own_assignment(assignment_id)
    form = ChangeForm(data=present_rules(detail))
    form.place(detail.time_zone, _others(detail))
    page = AssignmentSettingsPage(detail, form)
    return render_template("teaching/assignment_settings.html", page=page)


@blueprint.post("/assignments/<public_id:assignment_id>/settings")
@access(Rule.INSTRUCTOR)
def change_assignment(assignment_id: str) -> ResponseReturnValue:
    detail, form = own_assignment(assignment_id), ChangeForm(request.form)
    form.place(detail.time_zone, _others(detail))
    if form.validate() and "look" in request.form:
        with form.shows_refusals():
            return _look_at_change(detail, form)
    elif form.validate():
        with form.shows_refusals():
            assignments.change(
                current.database(),
                assignment_id=assignment_id,
                instructor=current.someone(),
                now=current.now(),
                **form.rules(),
            )
            flash("The assignment is changed.")
            return redirect(url_for("teaching.assignment", assignment_id=assignment_id), 303)
    page = AssignmentSettingsPage(detail, form)
    return render_template("teaching/assignment_settings.html", page=page), form.status


def _look_at_change(detail: assignments.AssignmentDetail, form: ChangeForm) -> ResponseReturnValue:
    """The same form with who would change by it; nothing is saved."""
    changes = rule_changes.preview_change(
        current.database(),
        assignment_id=detail.row.public_id,
        instructor=current.someone(),
        now=current.now(),
        **form.rules(),
    )
    page = AssignmentSettingsPage(detail, form, changes)
    return render_template("teaching/assignment_settings.html", page=page)


def own_assignment(assignment_id: str) -> assignments.AssignmentDetail:
    """An assignment of the signed-in instructor. Raises NotFound, which becomes the page for it."""
    return assignments.one(current.database(), assignment_id=assignment_id, instructor=current.someone())


def _card(scenario_id: str) -> scenarios.ScenarioCard:
    for card in scenarios.library(current.database()):
        if card.public_id == scenario_id:
            return card
    raise NotFound("There is no such scenario.")


def _open_classes() -> list[classes.ClassRow]:
    rows = classes.classes_of(current.database(), instructor=current.someone())
    return [row for row in rows if row.archived_at is None]


def _given(rows: list[classes.ClassRow]) -> dict[str, list[assignments.AssignmentRow]]:
    """What each of these classes was given, by class."""
    return {row.public_id: _of_class(row.public_id) for row in rows}


def _others(detail: assignments.AssignmentDetail) -> list[assignments.AssignmentRow]:
    """What else the class was given."""
    return [row for row in _of_class(detail.class_id) if row.public_id != detail.row.public_id]


def _of_class(class_id: str) -> list[assignments.AssignmentRow]:
    return assignments.of_class(current.database(), class_id=class_id, instructor=current.someone())

"""Routes of what is otherwise for one student: an exception at an assignment, extra time in a class."""

from dataclasses import dataclass
from datetime import datetime

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.domain.standing import RuleLine, Rules, rule_lines
from app.services import classes, exceptions
from app.services.assignments import AssignmentDetail
from app.services.errors import NotFound
from app.web import current
from app.web.access import Rule, access
from app.web.teaching import blueprint
from app.web.teaching.assignments import own_assignment
from app.web.teaching.classes import own_class
from app.web.teaching.exception_forms import ExceptionForm, ExtraTimeForm, present_exception


@dataclass(frozen=True)
class ExceptionsPage:
    """Whom to make an exception for."""

    detail: AssignmentDetail
    students: tuple[classes.StudentRow, ...]
    with_exception: frozenset[str]


@dataclass(frozen=True)
class ExceptionPage:
    detail: AssignmentDetail
    student: classes.StudentRow
    form: ExceptionForm
    rules_now: Rules
    now: datetime
    has_exception: bool

    @property
    def rules(self) -> tuple[RuleLine, ...]:
        """What holds for the student at present."""
        return rule_lines(self.rules_now, self.now)


@dataclass(frozen=True)
class ExtraTimePage:
    school_class: classes.ClassDetail
    student: classes.StudentRow
    form: ExtraTimeForm


@blueprint.get("/assignments/<public_id:assignment_id>/exceptions", endpoint="exceptions")
@access(Rule.INSTRUCTOR)
def list_exceptions(assignment_id: str) -> ResponseReturnValue:
    detail = own_assignment(assignment_id)
    rows = _exceptions_at(assignment_id)
    page = ExceptionsPage(
        detail, own_class(detail.class_id).students, frozenset(each.student_id for each in rows)
    )
    return render_template("teaching/exceptions.html", page=page)


@blueprint.get("/assignments/<public_id:assignment_id>/exceptions/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def exception(assignment_id: str, student_id: str) -> ResponseReturnValue:
    detail = own_assignment(assignment_id)
    form = ExceptionForm(data=present_exception(_exception_of(detail, student_id), detail.time_zone))
    return render_template("teaching/exception.html", page=_exception_page(detail, student_id, form))


@blueprint.post("/assignments/<public_id:assignment_id>/exceptions/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def set_exception(assignment_id: str, student_id: str) -> ResponseReturnValue:
    """Keep the exception; the button `remove` takes it away."""
    detail, form = own_assignment(assignment_id), ExceptionForm(request.form)
    form.zone = detail.time_zone
    page = _exception_page(detail, student_id, form)
    if form.validate():
        with form.shows_refusals():
            exceptions.set_exception(
                current.database(),
                assignment_id=assignment_id,
                instructor=current.someone(),
                student_id=student_id,
                exception=form.exception("remove" in request.form),
                now=current.now(),
            )
            flash(f"The rules for {page.student.display_name} are changed.")
            return redirect(url_for("teaching.assignment", assignment_id=assignment_id), 303)
    return render_template("teaching/exception.html", page=page), form.status


@blueprint.get("/classes/<public_id:class_id>/students/<public_id:student_id>/extra-time")
@access(Rule.INSTRUCTOR)
def extra_time(class_id: str, student_id: str) -> ResponseReturnValue:
    school_class = own_class(class_id)
    student = _student(school_class, student_id)
    form = ExtraTimeForm(data={"extra_time_factor": student.extra_time_factor})
    return render_template("teaching/extra_time.html", page=ExtraTimePage(school_class, student, form))


@blueprint.post("/classes/<public_id:class_id>/students/<public_id:student_id>/extra-time")
@access(Rule.INSTRUCTOR)
def set_extra_time(class_id: str, student_id: str) -> ResponseReturnValue:
    school_class, form = own_class(class_id), ExtraTimeForm(request.form)
    student = _student(school_class, student_id)
    if form.validate():
        with form.shows_refusals():
            classes.set_extra_time(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                student_id=student_id,
                extra_time_factor=form.extra_time_factor.data or 1.0,
                now=current.now(),
            )
            flash(f"The time of {student.display_name} is changed.")
            return redirect(
                url_for("teaching.student_settings", class_id=class_id, student_id=student_id), 303
            )
    page = ExtraTimePage(school_class, student, form)
    return render_template("teaching/extra_time.html", page=page), form.status


def _exceptions_at(assignment_id: str) -> list[exceptions.ExceptionRow]:
    return exceptions.exceptions_of(
        current.database(), assignment_id=assignment_id, instructor=current.someone()
    )


def _exception_of(detail: AssignmentDetail, student_id: str) -> exceptions.ExceptionRow | None:
    return next(
        (each for each in _exceptions_at(detail.row.public_id) if each.student_id == student_id), None
    )


def _exception_page(detail: AssignmentDetail, student_id: str, form: ExceptionForm) -> ExceptionPage:
    rules = exceptions.rules_for(
        current.database(),
        assignment_id=detail.row.public_id,
        instructor=current.someone(),
        student_id=student_id,
    )
    student = _student(own_class(detail.class_id), student_id)
    return ExceptionPage(
        detail, student, form, rules, current.now(), _exception_of(detail, student_id) is not None
    )


def _student(school_class: classes.ClassDetail, student_id: str) -> classes.StudentRow:
    for student in school_class.students:
        if student.public_id == student_id:
            return student
    raise NotFound("There is no such student in this class.")

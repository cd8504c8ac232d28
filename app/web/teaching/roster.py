"""Routes of a class's students: adding them, their sign-in cards, leaving and coming back."""

from collections.abc import Callable

from flask import flash, redirect, render_template, request, session, url_for
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import NotFound

from app.services import cards
from app.services import classes as service
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.class_forms import CardsForm, NamesForm, fresh_once
from app.web.teaching.class_pages import NamesPage, cards_page, only_here
from app.web.teaching.classes import own_class, page_of

LAST_CARDS = "last_cards"


@blueprint.get("/classes/<public_id:class_id>/add-students")
@access(Rule.INSTRUCTOR)
def names(class_id: str) -> ResponseReturnValue:
    page = NamesPage(own_class(class_id), NamesForm(), [], only_here())
    return render_template("teaching/names.html", page=page)


@blueprint.post("/classes/<public_id:class_id>/add-students")
@access(Rule.INSTRUCTOR)
def add_students(class_id: str) -> ResponseReturnValue:
    """Show how the list is read or, for the button `add`, make the students and show their cards."""
    school_class, form = own_class(class_id), NamesForm(request.form)
    valid = form.validate()
    lines = form.lines(_known(school_class)) if valid else []
    page = NamesPage(school_class, form, lines, only_here())
    if page.ready and "add" in request.form:
        with form.shows_refusals():
            made = cards.add_students(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                names=[line.entry for line in lines],
                now=current.now(),
            )
            return render_template("teaching/cards.html", page=cards_page(school_class, made))
    return render_template(
        "teaching/names.html", page=page
    ), 200 if page.ready and not form.errors else form.status


def _known(school_class: service.ClassDetail) -> dict[str, str]:
    """What to say of names that are in the class already."""
    present = {student.display_name: "is in this class already" for student in school_class.students}
    left = {
        student.display_name: "was in this class; take that student back instead"
        for student in school_class.dropped
    }
    return left | present


@blueprint.post("/classes/<public_id:class_id>/cards")
@access(Rule.INSTRUCTOR)
def new_cards(class_id: str) -> ResponseReturnValue:
    """New pass phrases for the ticked students, or everyone, on cards that are shown this once."""
    school_class, form = own_class(class_id), CardsForm(request.form)
    form.students.offer([(student.public_id, student.display_name) for student in school_class.students])
    if "everyone" in request.form:
        form.students.data = [student.public_id for student in school_class.students]
    if form.validate():
        if session.get(LAST_CARDS) != form.once.data:
            made = cards.new_cards(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                student_ids=form.students.data,
                now=current.now(),
            )
            session[LAST_CARDS] = form.once.data
            return render_template("teaching/cards.html", page=cards_page(school_class, made))
        form.add_error(
            "students", "These cards have been made already; their pass phrases can’t be shown again."
        )
    form.once.data = fresh_once()
    return render_template("teaching/class_page.html", page=page_of(school_class, form)), form.status


@blueprint.post("/classes/<public_id:class_id>/students/<public_id:student_id>/drop")
@access(Rule.INSTRUCTOR)
def drop_student(class_id: str, student_id: str) -> ResponseReturnValue:
    return _move(service.drop_student, class_id, student_id, "has left the class. The work is kept.")


@blueprint.post("/classes/<public_id:class_id>/students/<public_id:student_id>/restore")
@access(Rule.INSTRUCTOR)
def restore_student(class_id: str, student_id: str) -> ResponseReturnValue:
    return _move(
        service.restore_student, class_id, student_id, "is back in the class, with all earlier work."
    )


def _move(change: Callable[..., None], class_id: str, student_id: str, done: str) -> ResponseReturnValue:
    student, form = own_student(own_class(class_id), student_id), SendForm(request.form)
    if form.validate():
        change(
            current.database(),
            class_id=class_id,
            instructor=current.someone(),
            student_id=student_id,
            now=current.now(),
        )
        flash(f"{student.display_name} {done}")
    else:
        flash(form.stale_message, "error")
    return redirect(url_for("teaching.class_page", class_id=class_id), 303)


def own_student(school_class: service.ClassDetail, student_id: str) -> service.StudentRow:
    """A student who is or was in the class. Raises NotFound."""
    for student in school_class.students + school_class.dropped:
        if student.public_id == student_id:
            return student
    raise NotFound

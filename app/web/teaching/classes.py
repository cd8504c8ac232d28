"""Routes of classes: the list, a new one, one class, its settings."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import assignments, upkeep
from app.services import classes as service
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.assignment_pages import Given
from app.web.teaching.class_forms import CardsForm, ClassForm, SettingsForm
from app.web.teaching.class_pages import ClassesPage, ClassPage, NewClassPage, SettingsPage, only_here


@blueprint.get("")
@access(Rule.INSTRUCTOR)
def classes() -> ResponseReturnValue:
    rows = service.classes_of(current.database(), instructor=current.someone())
    page = ClassesPage(
        classes=[row for row in rows if row.archived_at is None],
        archived=[row for row in rows if row.archived_at is not None],
        days_without_backup=upkeep.days_without_backup(current.database(), now=current.now()),
    )
    return render_template("teaching/classes.html", page=page)


@blueprint.get("/classes/new")
@access(Rule.INSTRUCTOR)
def new_class() -> ResponseReturnValue:
    """An empty form, with the time zone and units of another class where there is one."""
    rows = service.classes_of(current.database(), instructor=current.someone())
    usual = {"time_zone": rows[-1].time_zone, "units": rows[-1].units} if rows else None
    return render_template("teaching/new_class.html", page=NewClassPage(ClassForm(data=usual)))


@blueprint.post("/classes/new")
@access(Rule.INSTRUCTOR)
def make_class() -> ResponseReturnValue:
    form = ClassForm(request.form)
    if form.validate():
        with form.shows_refusals():
            class_id = service.make_class(
                current.database(), instructor=current.someone(), now=current.now(), **form.fields()
            )
            flash(f"{form.name.data} is ready. Add its students.")
            return redirect(url_for("teaching.class_page", class_id=class_id), 303)
    return render_template("teaching/new_class.html", page=NewClassPage(form)), form.status


@blueprint.get("/classes/<public_id:class_id>")
@access(Rule.INSTRUCTOR)
def class_page(class_id: str) -> ResponseReturnValue:
    school_class = own_class(class_id)
    return render_template("teaching/class_page.html", page=page_of(school_class, CardsForm()))


@blueprint.get("/classes/<public_id:class_id>/settings")
@access(Rule.INSTRUCTOR)
def class_settings(class_id: str) -> ResponseReturnValue:
    school_class = own_class(class_id)
    form = SettingsForm(obj=school_class)
    return render_template("teaching/class_settings.html", page=SettingsPage(school_class, form, SendForm()))


@blueprint.post("/classes/<public_id:class_id>/settings")
@access(Rule.INSTRUCTOR)
def change_class(class_id: str) -> ResponseReturnValue:
    school_class, form = own_class(class_id), SettingsForm(request.form)
    if form.validate():
        with form.shows_refusals():
            service.update_class(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                now=current.now(),
                **form.fields(),
            )
            flash("The class’s settings are saved.")
            return redirect(url_for("teaching.class_page", class_id=class_id), 303)
    page = SettingsPage(school_class, form, SendForm())
    return render_template("teaching/class_settings.html", page=page), form.status


@blueprint.post("/classes/<public_id:class_id>/archive")
@access(Rule.INSTRUCTOR)
def archive_class(class_id: str) -> ResponseReturnValue:
    return _archive(class_id, archived=True, done="is put away. Nothing in it is lost.")


@blueprint.post("/classes/<public_id:class_id>/reopen")
@access(Rule.INSTRUCTOR)
def reopen_class(class_id: str) -> ResponseReturnValue:
    return _archive(class_id, archived=False, done="is open again.")


def _archive(class_id: str, *, archived: bool, done: str) -> ResponseReturnValue:
    school_class, form = own_class(class_id), SendForm(request.form)
    if not form.validate():
        flash(form.stale_message, "error")
        return redirect(url_for("teaching.class_settings", class_id=class_id), 303)
    service.archive_class(
        current.database(),
        class_id=class_id,
        instructor=current.someone(),
        archived=archived,
        now=current.now(),
    )
    flash(f"{school_class.name} {done}")
    return redirect(url_for("teaching.classes"), 303)


def page_of(school_class: service.ClassDetail, form: CardsForm) -> ClassPage:
    """The page of a class with what it was given to do."""
    rows = assignments.of_class(
        current.database(), class_id=school_class.public_id, instructor=current.someone()
    )
    given = [Given(row, current.now()) for row in rows]
    return ClassPage(school_class, form, SendForm(), only_here(), given)


def own_class(class_id: str) -> service.ClassDetail:
    """The class of the signed-in instructor. Raises NotFound, which becomes the page for it."""
    return service.class_page(current.database(), class_id=class_id, instructor=current.someone())

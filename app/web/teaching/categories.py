"""Routes of a class's categories: their weights, and which assignment counts in which."""

from dataclasses import dataclass
from typing import Any

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import categories as services
from app.services.gradebook import Gradebook, gradebook
from app.web import current
from app.web.access import Rule, access
from app.web.fields import FiniteField, TextField, WholeField
from app.web.forms import BaseForm, SendForm
from app.web.teaching import blueprint


class CategoryForm(BaseForm):
    name = TextField("Name", longest=services.LONGEST_NAME, missing="Give the category a name, like Labs.")
    weight = FiniteField(
        "Weight",
        least=0.01,
        most=services.HEAVIEST,
        example="40",
        missing="Give its weight, like 40.",
        hint="Against the other categories; percents are easy to read.",
    )
    drop_lowest = WholeField(
        "Lowest that don’t count",
        least=0,
        most=services.MOST_DROPPED,
        example="1",
        missing="Give 0 when all count.",
    )


@dataclass(frozen=True)
class CategoriesPage:
    """forms: of each category by its id; new_form: of one more."""

    book: Gradebook
    forms: dict[Any, CategoryForm]
    new_form: CategoryForm
    send_form: SendForm

    @property
    def options(self) -> list[tuple[Any, str]]:
        """Where an assignment may count."""
        return [("", "In no category"), *((each.id, each.name) for each in self.book.categories)]


@blueprint.get("/classes/<public_id:class_id>/categories")
@access(Rule.INSTRUCTOR)
def categories(class_id: str) -> ResponseReturnValue:
    return render_template("teaching/categories.html", page=_page(class_id))


@blueprint.post("/classes/<public_id:class_id>/categories")
@access(Rule.INSTRUCTOR)
def add_category(class_id: str) -> ResponseReturnValue:
    form = CategoryForm(request.form)
    if form.validate():
        with form.shows_refusals():
            services.add_category(**_place(class_id), **_entries(form))
            return _done(class_id, f"The category {form.name.data} is added.")
    return render_template("teaching/categories.html", page=_page(class_id, new_form=form)), form.status


@blueprint.post("/classes/<public_id:class_id>/categories/<public_id:category_id>")
@access(Rule.INSTRUCTOR)
def change_category(class_id: str, category_id: str) -> ResponseReturnValue:
    form = CategoryForm(request.form)
    if "remove" in request.form and SendForm(request.form).validate():
        services.remove_category(**_place(class_id), category_id=category_id)
        return _done(class_id, "The category is removed; its assignments are in none now.")
    if form.validate():
        with form.shows_refusals():
            services.change_category(**_place(class_id), category_id=category_id, **_entries(form))
            return _done(class_id, "The category is changed.")
    return render_template(
        "teaching/categories.html", page=_page(class_id, changed={category_id: form})
    ), form.status


@blueprint.post("/classes/<public_id:class_id>/categories/assignments")
@access(Rule.INSTRUCTOR)
def sort_assignments(class_id: str) -> ResponseReturnValue:
    """Which assignment is in which category: all of them at once."""
    form = SendForm(request.form)
    book = _book(class_id)
    if form.validate():
        known = {each.id for each in book.categories}
        sent = {each.assignment_id: request.form.get(each.assignment_id) or None for each in book.columns}
        changed = {
            each.assignment_id: sent[each.assignment_id]
            for each in book.columns
            if sent[each.assignment_id] != each.category
        }
        good = {name: chosen for name, chosen in changed.items() if chosen is None or chosen in known}
        services.sort(**_place(class_id), chosen=good)
        return _done(class_id, "Saved: the totals count by these categories now.")
    return render_template("teaching/categories.html", page=_page(class_id, send_form=form)), form.status


def _place(class_id: str) -> dict[str, Any]:
    return {
        "database": current.database(),
        "class_id": class_id,
        "instructor": current.someone(),
        "now": current.now(),
    }


def _entries(form: CategoryForm) -> dict[str, Any]:
    return {"name": form.name.data, "weight": form.weight.data, "drop_lowest": form.drop_lowest.data}


def _book(class_id: str) -> Gradebook:
    return gradebook(**_place(class_id))


def _page(
    class_id: str,
    *,
    new_form: CategoryForm | None = None,
    changed: dict[str, CategoryForm] | None = None,
    send_form: SendForm | None = None,
) -> CategoriesPage:
    book = _book(class_id)
    forms = {
        each.id: (changed or {}).get(str(each.id))
        or CategoryForm(data={"name": each.name, "weight": each.weight, "drop_lowest": each.drop_lowest})
        for each in book.categories
    }
    for category_id, form in forms.items():
        for field in (form.name, form.weight, form.drop_lowest):
            field.id = f"{field.name}-{category_id}"
    return CategoriesPage(
        book, forms, new_form or CategoryForm(data={"drop_lowest": 0}), send_form or SendForm()
    )


def _done(class_id: str, message: str) -> ResponseReturnValue:
    flash(message)
    return redirect(url_for("teaching.categories", class_id=class_id), 303)

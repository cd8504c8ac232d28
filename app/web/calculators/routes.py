"""The calculators' pages. All are read with GET and change nothing: an address is a whole calculation."""

from flask import abort, render_template, request
from flask.typing import ResponseReturnValue

from app.web import current
from app.web.access import Rule, access
from app.web.calculators import blueprint
from app.web.calculators.pages import (
    CalculatorsPage,
    SwitchedOffPage,
    calculator_page,
    left_out_page,
)
from app.web.calculators.reach import own_classes, switched_off_in, usual_units
from app.web.calculators.sheets import CALCULATORS, GROUPS


@blueprint.get("")
@access(Rule.SIGNED_IN)
def index() -> ResponseReturnValue:
    if off := switched_off_in(own_classes()):
        return _switched_off(off)
    page = CalculatorsPage(GROUPS, for_instructor=current.someone().role == "instructor")
    return render_template("calculators/index.html", page=page)


@blueprint.get("/<slug>")
@access(Rule.SIGNED_IN)
def show(slug: str) -> ResponseReturnValue:
    """One calculator; 422 where an entry is at fault, with no result at all."""
    classes = own_classes()
    if off := switched_off_in(classes):
        return _switched_off(off)
    calculator = CALCULATORS.get(slug) or abort(404)
    today = current.now().date().isoformat()
    page = calculator_page(calculator, request.args, usual_units(classes), today)
    return render_template("calculators/show.html", page=page), 200 if page.outcome else 422


@blueprint.get("/model")
@access(Rule.INSTRUCTOR)
def model() -> ResponseReturnValue:
    return render_template("calculators/model.html", page=left_out_page())


def _switched_off(class_names: list[str]) -> ResponseReturnValue:
    return render_template("calculators/off.html", page=SwitchedOffPage(class_names)), 403

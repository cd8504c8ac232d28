"""Students' pages: their labs. `/labs` is where a student comes in."""

from flask import Blueprint

blueprint = Blueprint("labs", __name__, url_prefix="/labs")

# The routes need the blueprint.
from app.web.labs import assignments, attempts, bench, grades, hints, home, own_record, reflection  # noqa: E402, F401

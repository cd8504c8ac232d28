"""Students' pages: their labs. `/labs` is where a student comes in."""

from flask import Blueprint

blueprint = Blueprint("labs", __name__, url_prefix="/labs")

from app.web.labs import home  # noqa: E402, F401 (the routes need the blueprint)

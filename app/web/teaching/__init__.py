"""Instructors' pages. One file of routes for each kind of thing: import a new one at the end of this file."""

from flask import Blueprint

blueprint = Blueprint("teaching", __name__, url_prefix="/teaching")

from app.web.teaching import classes, roster  # noqa: E402, F401 (the routes need the blueprint)

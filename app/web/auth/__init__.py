"""Coming in, going out, and the first instructor."""

from flask import Blueprint

blueprint = Blueprint("auth", __name__)

from app.web.auth import account, routes  # noqa: E402, F401 (the routes need the blueprint)

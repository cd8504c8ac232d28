"""Instructors' pages. One file of routes for each kind of thing: import a new one at the end of this file."""

from flask import Blueprint

blueprint = Blueprint("teaching", __name__, url_prefix="/teaching")

from app.web.teaching import (  # noqa: E402 (the routes need the blueprint)
    assignments,  # noqa: F401
    attempts,  # noqa: F401
    authoring,  # noqa: F401
    categories,  # noqa: F401
    classes,  # noqa: F401
    exceptions,  # noqa: F401
    gradebook,  # noqa: F401
    grades,  # noqa: F401
    hands_on,  # noqa: F401
    heats,  # noqa: F401
    people,  # noqa: F401
    reflection_exports,  # noqa: F401
    reflection_questions,  # noqa: F401
    reflections,  # noqa: F401
    regrading,  # noqa: F401
    room,  # noqa: F401
    roster,  # noqa: F401
    scenario_trial,  # noqa: F401
    scenarios,  # noqa: F401
    understanding,  # noqa: F401
    worksheets,  # noqa: F401
)

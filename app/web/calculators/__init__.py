"""The calculators: `/calculators` for students and instructors, and the instructors' page on the models.

Every number on these pages comes from `app.calculations`, the same door that `heavyspot calc` uses. A
calculator is one description in `sheets/`; one route and one template show them all.
"""

from flask import Blueprint

blueprint = Blueprint("calculators", __name__, url_prefix="/calculators")

# The routes need the blueprint.
from app.web.calculators import routes  # noqa: E402, F401

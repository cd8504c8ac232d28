"""Pages about skills at the machine and who was seen doing them."""

from app.web.teaching.hands_on import checks, skills  # noqa: F401

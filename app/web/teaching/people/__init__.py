"""Pages about who is in a class and who teaches it."""

from app.web.teaching.people import (
    class_list,  # noqa: F401
    instructors,  # noqa: F401
    records,  # noqa: F401
    roster_zip,  # noqa: F401
    students,  # noqa: F401
)

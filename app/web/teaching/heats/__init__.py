"""Pages of timed heats of teams."""

from app.web.teaching.heats import contests, timing  # noqa: F401

"""Writing scenarios in the browser. One file of routes for each kind of page."""

from app.web.teaching.authoring import (  # importing registers the routes
    drafts,  # noqa: F401
    files,  # noqa: F401
    history,  # noqa: F401
    images,  # noqa: F401
    publishing,  # noqa: F401
    sheets,  # noqa: F401
    trying,  # noqa: F401
)

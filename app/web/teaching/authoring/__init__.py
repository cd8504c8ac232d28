"""Writing scenarios in the browser. One file of routes for each kind of page."""

from app.web.teaching.authoring import drafts, publishing, sheets  # noqa: F401 (importing registers the routes)

"""A client of the application that looks at every answer it gets."""

from typing import Any

from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from app.web.current import SIGN_IN
from tests.web import checks


class CheckedClient(FlaskClient):
    """Checks headers and markup of every answer, and sends forms as a browser would, with a token."""

    csrf_token = ""

    def open(self, *args: Any, **kwargs: Any) -> TestResponse:
        response = super().open(*args, **{"buffered": True, **kwargs})
        checks.check_headers(response)
        if response.mimetype == "text/html" and response.status_code not in (301, 302, 303, 308):
            page = checks.check_page(response.text)
            self.csrf_token = checks.csrf_token(page) or self.csrf_token
        return response

    def send(self, path: str, page: str | None = None, **entries: Any) -> TestResponse:
        """Open `page` (usually the same path) for its token, then send `entries` to `path`."""
        self.get(page or path)
        return self.post(path, data={"csrf_token": self.csrf_token, **entries})

    def sign_in_as(self, token: str) -> "CheckedClient":
        with self.session_transaction() as session:
            session[SIGN_IN] = token
        return self

"""What protects every answer: headers, limits on what is sent, and the session cookie."""

import hashlib
from pathlib import Path
from typing import Any

from flask import Flask, Response, request
from flask.sessions import SecureCookieSessionInterface

HEADERS = {
    "Content-Security-Policy": "; ".join(
        [
            "default-src 'none'",
            "script-src 'self'",
            "style-src 'self'",
            "img-src 'self' data:",
            "font-src 'self'",
            "connect-src 'self'",
            "form-action 'self'",
            "base-uri 'none'",
            "frame-ancestors 'none'",
        ]
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}

LIMITS = {
    "MAX_CONTENT_LENGTH": 1024 * 1024,  # a scenario file or a class list is far smaller
    "MAX_FORM_MEMORY_SIZE": 512 * 1024,
    "MAX_FORM_PARTS": 1000,
}

ONE_YEAR_SECONDS = 365 * 24 * 60 * 60


class SessionCookie(SecureCookieSessionInterface):
    """Flask's signed cookie, marked Secure whenever the page came over TLS.

    A plain-http server in a classroom can't mark it so: the browser would never send it back.
    """

    def __init__(self, app: Flask) -> None:
        """With one signer for all requests; `app` has its secret key."""
        self._signer = super().get_signing_serializer(app)

    def get_signing_serializer(self, app: Flask) -> Any:  # noqa: ARG002
        return self._signer

    def get_cookie_secure(self, app: Flask) -> bool:
        return request.is_secure or super().get_cookie_secure(app)


def static_digest(folder: Path) -> str:
    """Twelve hex digits that change whenever any file under `folder` does.

    The digest stands in the path of every static file, so browsers may keep them for a year, and a script
    that imports another by a relative path gets the matching one.
    """
    digest = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            digest.update(path.relative_to(folder).as_posix().encode())
            digest.update(path.read_bytes())
    return digest.hexdigest()[:12]


def protect(response: Response) -> Response:
    """Put the headers on one answer: pages are never kept by a browser, static files for a year."""
    response.headers.extend(HEADERS)
    if request.endpoint == "static" and response.status_code in (200, 206, 304):
        response.cache_control.immutable = True
    else:
        response.headers["Cache-Control"] = "no-store"
    return response


def install(app: Flask) -> None:
    """Protect every answer of `app`, errors included."""
    app.config.update(
        LIMITS,
        SESSION_COOKIE_NAME="heavyspot",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        SEND_FILE_MAX_AGE_DEFAULT=ONE_YEAR_SECONDS,
    )
    app.session_interface = SessionCookie(app)
    app.after_request(protect)

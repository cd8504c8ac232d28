"""Errors as answers: a page for a person, `{"message": ...}` for a fetch.

The one place that knows which status a service's error becomes.
"""

from dataclasses import dataclass
from math import ceil

from flask import Flask, g, jsonify, make_response, render_template, request
from werkzeug.exceptions import BadHost, HTTPException
from werkzeug.wrappers import Response

from app.services import errors as services
from app.web import current


@dataclass(frozen=True)
class ErrorPage:
    """What `errors/error.html` shows."""

    status: int
    title: str
    message: str


TEXTS = {
    400: ("This request can't be read", "Go back and try again. If it happens again, reload the page first."),
    401: (
        "You are signed out",
        "Nothing was saved. Sign in in a new tab, then come back to this tab and reload it: "
        "your entries are sent again.",
    ),
    403: (
        "This page is not for your account",
        "Sign in with the account it belongs to, or go to the start page.",
    ),
    404: ("There is no such page", "Check the address, or go to the start page."),
    405: ("This address can't be opened like that", "Go back and use the buttons on the page."),
    413: ("That is too much to send at once", "Send less text or a smaller file. The limit is 1 MB."),
    415: ("This request can't be read", "Reload the page and try again."),
    422: ("That can't be done", "Go back, check your entries and try again."),
    429: ("Too many tries", "Wait a little, then try again."),
    503: (
        "The database is busy",
        "Nothing was saved. Wait a moment, then reload this page: your entries are sent again.",
    ),
    500: (
        "Something went wrong on the server",
        "What was saved before is safe. Go back and try again; if it happens again, tell your instructor.",
    ),
}

SIGNED_OUT_OF_A_PAGE = (
    "You are signed out; what you type is not saved. Sign in in a new tab, then press “Save” in this one: "
    "all that stands here is sent."
)
"""What a script is told on 401: unlike a form that was sent, its page loses its entries on a reload."""


def wants_json() -> bool:
    """Whether a script is asking: it sends JSON or accepts JSON rather than a page."""
    accepted = request.accept_mimetypes
    return request.is_json or accepted["application/json"] > accepted["text/html"]


def answer(status: int, message: str | None = None, field: str | None = None) -> Response:
    """The answer for an error: JSON where a script asked, else the error page."""
    title, usual = TEXTS.get(status) or TEXTS[400 if status < 500 else 500]
    if wants_json():
        told = SIGNED_OUT_OF_A_PAGE if status == 401 else f"{title}. {usual}"
        body = {"message": message or told} | ({"field": field} if field else {})
        response = jsonify(body)
    else:
        page = ErrorPage(status, title, message or usual)
        response = make_response(render_template("errors/error.html", page=page))
    response.status_code = status
    return response


def _http(error: HTTPException) -> Response:
    status = error.code or 500
    if status >= 500:
        g.setdefault("person", None)  # the database may be what failed: don't ask it again
    response = answer(status)
    for name, value in error.get_headers():
        if name in ("Allow", "Retry-After"):
            response.headers[name] = value
    return response


def _impossible_host(_: BadHost) -> Response:
    """A page asks for addresses, which a request with an impossible host has not."""
    title, what_to_do = TEXTS[400]
    return make_response(f"{title}. {what_to_do}", 400, {"Content-Type": "text/plain; charset=utf-8"})


def _too_many_tries(error: services.TooManyTries) -> Response:
    response = answer(429, wait_message(error))
    response.headers["Retry-After"] = str(seconds_left(error))
    return response


def _unavailable(_: services.Unavailable) -> Response:
    g.setdefault("person", None)  # the page's head would ask the same database
    response = answer(503)
    response.headers["Retry-After"] = "5"
    return response


def seconds_left(error: services.TooManyTries) -> int:
    """Whole seconds until another try is allowed, at least 1."""
    return max(1, ceil((error.until - current.now()).total_seconds()))


def wait_message(error: services.TooManyTries) -> str:
    """What to do after too many wrong pass phrases."""
    minutes = ceil(seconds_left(error) / 60)
    wait = "1 minute" if minutes == 1 else f"{minutes} minutes"
    return f"Too many wrong tries for this sign-in name. Wait {wait}, then try again, or ask for a new card."


def install(app: Flask) -> None:
    """Answer every error of `app` here."""
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(BadHost, _impossible_host)
    app.register_error_handler(services.NotFound, lambda _: answer(404))
    app.register_error_handler(services.NotAllowed, lambda _: answer(403))
    app.register_error_handler(services.Refused, lambda error: answer(422, error.message, error.field))
    app.register_error_handler(services.TooManyTries, _too_many_tries)
    app.register_error_handler(services.Unavailable, _unavailable)

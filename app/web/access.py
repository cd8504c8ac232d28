"""Who may open which page.

Every view carries one rule: `@access(Rule.INSTRUCTOR)` under its route decorator. One guard reads the rule
before each request, and an application with a view that has no rule does not start. Whose class or attempt a
page shows is not decided here: services are told who asks and answer "not found" for what is another's.
"""

from collections.abc import Callable
from enum import Enum
from typing import Any, TypeVar
from urllib.parse import urlsplit

from flask import Flask, abort, current_app, redirect, request, url_for
from werkzeug.wrappers import Response

from app.web import current
from app.web.errors import wants_json

View = TypeVar("View", bound=Callable[..., Any])


class Rule(Enum):
    """Who may open a page."""

    ANYONE = "anyone"
    SIGNED_IN = "signed in"
    STUDENT = "student"
    INSTRUCTOR = "instructor"


class UnlistedViewError(Exception):
    """A view was registered without a rule: a fault of the program, found when it starts."""


def access(rule: Rule) -> Callable[[View], View]:
    """Mark a view with the rule the guard will hold it to."""

    def mark(view: View) -> View:
        view.access_rule = rule  # type: ignore[attr-defined]
        return view

    return mark


def rules_by_endpoint(app: Flask) -> dict[str, Rule]:
    """Every endpoint with its rule. Raises UnlistedViewError naming those that have none."""
    unlisted = sorted(name for name, view in app.view_functions.items() if not hasattr(view, "access_rule"))
    if unlisted:
        raise UnlistedViewError(f"No access rule on {', '.join(unlisted)}. Put @access(Rule...) on each.")
    return {name: _rule(view) for name, view in app.view_functions.items()}


def _rule(view: Any) -> Rule:
    rule: Rule = view.access_rule
    return rule


def guard() -> Response | None:
    """Let the request pass, ask for a sign-in, or refuse it. Runs before every view."""
    if request.endpoint is None:
        return None  # no such page: the error page follows
    rule = _rule(current_app.view_functions[request.endpoint])
    if rule is Rule.ANYONE:
        return None
    person = current.person()
    if person is None:
        return _ask_to_sign_in()
    if rule is not Rule.SIGNED_IN and rule.value != person.role:
        abort(403)
    return None


def _ask_to_sign_in() -> Response:
    """A page that was asked for waits behind the sign-in; a form or a fetch gets 401, so nothing is lost."""
    if request.method not in ("GET", "HEAD") or wants_json():
        abort(401)
    return redirect(url_for("auth.sign_in", next=request.full_path.rstrip("?")), 303)


def own_path(candidate: str | None) -> str | None:
    """`candidate` when it is a path on this server, else None: a link must not send people elsewhere.

    Browsers read a backslash as a slash and skip tabs and line ends, so `/\\host` and `/<tab>/host` are other
    hosts as well.
    """
    if not candidate or not candidate.startswith("/") or candidate.startswith("//"):
        return None
    if "\\" in candidate or any(ord(sign) < 33 or ord(sign) == 127 for sign in candidate):
        return None
    parts = urlsplit(candidate)
    return None if parts.scheme or parts.netloc else candidate


def install(app: Flask) -> None:
    """Guard every request of `app`; its own static files are for anyone."""
    app.view_functions["static"] = access(Rule.ANYONE)(app.view_functions["static"])
    app.before_request(guard)

"""What belongs to the request that is being answered: the database, the time, the person.

Routes ask here and pass what they get to a service; nothing else in `app/web` reads the application object.
"""

from datetime import datetime
from typing import Any

from flask import current_app, g, session

from app.services import accounts

SIGN_IN = "sign_in"
"""Where the browser's session keeps the one thing it knows of a person: the random sign-in token."""


def database() -> Any:
    """The store's database handle, first argument of every service."""
    return current_app.extensions["database"]


def now() -> datetime:
    """The time of the request, aware, UTC. One request sees one time, so two services agree on "late"."""
    if "now" not in g:
        g.now = current_app.extensions["clock"]()
    now: datetime = g.now
    return now


def token() -> str:
    """This browser's sign-in token; empty when nobody is signed in."""
    return str(session.get(SIGN_IN, ""))


def person() -> accounts.Person | None:
    """The signed-in person, looked up once a request; None when nobody is signed in."""
    if "person" not in g:
        g.person = accounts.who_is(database(), token=token(), now=now()) if token() else None
    who: accounts.Person | None = g.person
    return who


def someone() -> accounts.Person:
    """The signed-in person, on a page that only signed-in people reach."""
    who = person()
    if who is None:
        raise LookupError("Nobody is signed in: this view's access rule is wrong.")
    return who


def remember_sign_in(signed_in: accounts.SignedIn) -> None:
    """Start a fresh browser session for this person: whatever an earlier visitor left is gone."""
    session.clear()
    session[SIGN_IN] = signed_in.token
    g.person = signed_in.person


def forget_sign_in() -> None:
    """End the stored sign-in and empty the browser's session."""
    if token():
        accounts.sign_out(database(), token=token(), now=now())
    session.clear()
    g.person = None

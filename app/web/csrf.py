"""Tokens against forged requests: a page that can change something brings one, and each change sends it back.

A token is the moment until which it is good, signed together with a secret in the browser's session.
"""

import hmac
import secrets
from datetime import timedelta

from flask import current_app, g, request, session

from app.web import current

SCHOOL_DAY = timedelta(hours=12)
MOMENT = "%Y%m%d%H%M%S"

STALE = "This page had been open too long. Your entries are kept; press the button again."
NO_COOKIE = "Your browser sent no cookie back. Allow cookies for this address, then press the button again."


def new_token() -> str:
    """For this browser, good for a school day; the same for every form of one page."""
    if "csrf_token" not in g:
        session.setdefault("csrf", secrets.token_hex(20))
        until = (current.now() + SCHOOL_DAY).strftime(MOMENT)
        g.csrf_token = f"{until}##{_signature(until)}"
    token: str = g.csrf_token
    return token


def problem_of(token: str, *, stale: str = STALE) -> str | None:
    """What is wrong with a token that came back, in the words of `stale` when it is too old or forged."""
    if not request.cookies:
        return NO_COOKIE
    if "csrf" not in session:
        return stale  # this browser was never given a token
    until, _, signature = token.partition("##")
    right = hmac.compare_digest(_signature(until).encode(), signature.encode())
    return None if right and until >= current.now().strftime(MOMENT) else stale


def _signature(until: str) -> str:
    signed = (session["csrf"] + until).encode()
    return hmac.new(str(current_app.secret_key).encode(), signed, digestmod="sha1").hexdigest()

"""Trying a pass phrase: slow to check, and after a few wrong tries each sign-in name makes its owner wait.

Per name and never per address: a whole class sits behind one address. A name that waits answers without a
look at the phrase, so guessing faster gains nothing. A name that nobody has waits as any other, so that the
waiting doesn't tell who is in a class.
"""

from datetime import datetime, timedelta
from typing import Protocol

from app.services import hashing
from app.services.errors import TooManyTries

TRIES_BEFORE_WAITING = 5
FIRST_WAIT = timedelta(seconds=30)
LONGEST_WAIT = timedelta(minutes=15)
FORGOTTEN_AFTER = timedelta(days=1)
"""Without a try: far longer than the longest wait, so whoever guesses gains nothing by pausing."""
MOST_UNKNOWN_NAMES = 20_000


class Tried(Protocol):
    """Wrong tries in a row. refused_until: when the wait after the last one ends; the first few have none."""

    failed_sign_ins: int
    refused_until: datetime | None


class Account(Tried, Protocol):
    """The part of a person's row that is needed here."""

    pass_phrase_hash: str


def is_right(account: Account, pass_phrase: str, now: datetime) -> bool:
    """Takes about 20 ms: call it outside a writing transaction, then `count` what it said inside one.
    Raises TooManyTries."""
    refuse_while_waiting(account, now)
    return hashing.is_right(account.pass_phrase_hash, pass_phrase)


def count(account: Account, *, right: bool, checked_hash: str, now: datetime) -> bool:
    """Note a try on the row as it is now; returns whether it passes. Tries checked at the same time are
    counted one after another, so that many at once get no more guesses than one by one. Raises
    TooManyTries."""
    if not (right and account.pass_phrase_hash == checked_hash):
        count_wrong(account, now)
        return False
    refuse_while_waiting(account, now)
    account.failed_sign_ins, account.refused_until = 0, None
    return True


def count_wrong(tried: Tried, now: datetime) -> None:
    """Note a wrong try on the row as it is now. Raises TooManyTries."""
    refuse_while_waiting(tried, now)
    if tried.refused_until and now - tried.refused_until >= FORGOTTEN_AFTER:
        tried.failed_sign_ins = 0
    tried.failed_sign_ins += 1
    doublings = tried.failed_sign_ins - TRIES_BEFORE_WAITING
    wait = FIRST_WAIT * 2 ** min(doublings, 10) if doublings >= 0 else timedelta(0)
    tried.refused_until = now + min(wait, LONGEST_WAIT)


def refuse_while_waiting(tried: Tried, now: datetime) -> None:
    """Raises TooManyTries."""
    if tried.refused_until and now < tried.refused_until:
        raise TooManyTries(tried.refused_until)

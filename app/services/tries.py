"""Trying a pass phrase: slow to check, and after a few wrong tries each account makes its owner wait.

Per account and never per address: a whole class sits behind one address. An account that waits answers
without a look at the phrase, so guessing faster gains nothing.
"""

from datetime import datetime, timedelta
from typing import Protocol

from app.services import hashing
from app.services.errors import TooManyTries

TRIES_BEFORE_WAITING = 5
FIRST_WAIT = timedelta(seconds=30)
LONGEST_WAIT = timedelta(minutes=15)


class Account(Protocol):
    """The part of a person's row that is needed here."""

    pass_phrase_hash: str
    failed_sign_ins: int
    refused_until: datetime | None


def is_right(account: Account, pass_phrase: str, now: datetime) -> bool:
    """Takes about 20 ms: call it outside a writing transaction, then `count` what it said inside one.
    Raises TooManyTries."""
    _refuse_while_waiting(account, now)
    return hashing.is_right(account.pass_phrase_hash, pass_phrase)


def count(account: Account, *, right: bool, checked_hash: str, now: datetime) -> bool:
    """Note a try on the row as it is now; returns whether it passes. Tries checked at the same time are
    counted one after another, so that many at once get no more guesses than one by one. Raises
    TooManyTries."""
    _refuse_while_waiting(account, now)
    if right and account.pass_phrase_hash == checked_hash:
        account.failed_sign_ins, account.refused_until = 0, None
        return True
    account.failed_sign_ins += 1
    doublings = account.failed_sign_ins - TRIES_BEFORE_WAITING
    if doublings >= 0:
        account.refused_until = now + min(FIRST_WAIT * 2 ** min(doublings, 10), LONGEST_WAIT)
    return False


def _refuse_while_waiting(account: Account, now: datetime) -> None:
    if account.refused_until and now < account.refused_until:
        raise TooManyTries(account.refused_until)

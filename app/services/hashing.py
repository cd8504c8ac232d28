"""How pass phrases and tokens are kept: never as they are.

A pass phrase is hashed slowly (Argon2id), a token is random and long enough for a plain SHA-256.
"""

import hashlib
import secrets
from base64 import b64encode

from argon2 import PasswordHasher
from argon2.exceptions import VerifyMismatchError
from argon2.low_level import ARGON2_VERSION

from app.domain.pass_phrases import LONGEST_PASS_PHRASE, normalised

# 19 MiB, 2 passes, 1 lane: the Argon2id setting of OWASP's Password Storage Cheat Sheet, with RFC 9106's
# lengths. About 20 ms on a small server, so that a class signing in at once doesn't wait.
HASHER = PasswordHasher(time_cost=2, memory_cost=19 * 1024, parallelism=1, hash_len=32, salt_len=16)


def _hash_of_no_phrase() -> str:
    """A hash as HASHER writes them, of random bytes in the place of any phrase's."""
    salt, digest = (
        b64encode(secrets.token_bytes(length)).decode().rstrip("=")
        for length in (HASHER.salt_len, HASHER.hash_len)
    )
    costs = f"m={HASHER.memory_cost},t={HASHER.time_cost},p={HASHER.parallelism}"
    return f"$argon2id$v={ARGON2_VERSION}${costs}${salt}${digest}"


NOBODYS_HASH = _hash_of_no_phrase()
"""Checked when a sign-in name is unknown, so that the answer takes as long as for a known one."""


def hash_pass_phrase(pass_phrase: str) -> str:
    return HASHER.hash(normalised(pass_phrase))


def is_right(pass_phrase_hash: str, pass_phrase: str) -> bool:
    """A phrase that is longer than any that was ever set is wrong without being hashed."""
    if len(pass_phrase) > LONGEST_PASS_PHRASE:
        return False
    try:
        return HASHER.verify(pass_phrase_hash, normalised(pass_phrase))
    except VerifyMismatchError:
        return False


def renewed(pass_phrase_hash: str, pass_phrase: str) -> str:
    """The hash of a right pass phrase, made again where an earlier release made it with another setting."""
    return hash_pass_phrase(pass_phrase) if HASHER.check_needs_rehash(pass_phrase_hash) else pass_phrase_hash


def new_token() -> str:
    """256 random bits that fit in a cookie and in an address."""
    return secrets.token_urlsafe(32)


def token_hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()

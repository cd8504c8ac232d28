"""Frozen scenario versions as domain objects. They never change, so each is read and drawn once and kept."""

from functools import lru_cache

from app.domain.draws import seed_of
from app.domain.measures import UnitSystem
from app.domain.scenario import Scenario, parse
from app.domain.variants import Variant, draw
from app.services.records import VersionRecord


@lru_cache(maxsize=128)
def _parsed(sha256: str, content: str) -> Scenario:
    del sha256  # the key that makes looking up a long text cheap to compare
    return parse(content)


def scenario_of(version: VersionRecord) -> Scenario:
    """The scenario of a stored version."""
    return _parsed(version.sha256, version.content)


@lru_cache(maxsize=512)
def _drawn(sha256: str, content: str, seed: int, units: UnitSystem, drawing_version: int) -> Variant:
    return draw(_parsed(sha256, content), seed, units, version=drawing_version)


def variant_of(version: VersionRecord, *, seed: int, units: UnitSystem, drawing_version: int) -> Variant:
    """The variant of a stored version and a seed."""
    return _drawn(version.sha256, version.content, seed, units, drawing_version)


def attempt_seed(*, sha256: str, assignment: str, student: str, number: int) -> int:
    """The seed of one attempt: own numbers for each student, and new ones for each attempt."""
    return seed_of(sha256, assignment, student, str(number))

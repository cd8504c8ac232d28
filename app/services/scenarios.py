"""The library: loading shipped scenarios, looking through them, and a sample variant beside its key."""

import hashlib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from app.domain.draws import DRAWING_VERSION, seed_of
from app.domain.faults import Fault
from app.domain.marking import right_answer_text
from app.domain.measures import UnitSystem
from app.domain.scenario import Level, Scenario, ScenarioFaults
from app.domain.variants import Variant
from app.library import checked_scenario, ids_by_sum, read_content, scenario_files
from app.services.errors import NotFound
from app.services.records import VersionRecord
from app.services.versions import scenario_of, variant_of
from app.store import scenarios
from app.store.db import Database


@dataclass(frozen=True)
class ScenarioCard:
    """A scenario as the library lists it, in its newest version."""

    public_id: str
    slug: str
    title: str
    summary: str
    level: Level
    course_place: int
    minutes: int
    skills: tuple[str, ...]
    version_number: int


@dataclass(frozen=True)
class KeyRow:
    task_id: str
    title: str
    right_answer: str
    points: float


@dataclass(frozen=True)
class Sample:
    """A variant that no student has, with the answer to each of its tasks."""

    card: ScenarioCard
    variant: Variant
    key: tuple[KeyRow, ...]


def load_shipped(database: Database, *, folder: Path, now: datetime) -> int:
    """Make the scenario files of a folder the current versions: a file that differs from the newest version,
    also one that was put back to an older text, becomes a new one. Each is checked, except those that were
    checked before they were shipped.

    Returns how many were added. Raises ScenarioFaults for a file that can't be used and for an id in two
    files; then none is added.
    """
    contents = [read_content(path) for path in scenario_files(folder)]
    with database.read() as session:
        newest = {version.sha256: version.scenario.slug for version in scenarios.newest_versions(session)}
    by_slug: dict[str, str] = {}
    known = ids_by_sum(folder) | newest
    for content in contents:
        slug = known.get(_sha256(content)) or checked_scenario(content).id
        if slug in by_slug:
            raise ScenarioFaults([Fault("id", f"“{slug}” stands in two files; give each an id of its own")])
        by_slug[slug] = content
    new = {slug: content for slug, content in by_slug.items() if _sha256(content) not in newest}
    if not new:
        return 0
    with database.write() as session:
        return sum(_add_version(session, slug, content, now) for slug, content in new.items())


def _add_version(session: Any, slug: str, content: str, now: datetime) -> int:
    row = scenarios.scenario_by_slug(session, slug) or scenarios.add_scenario(session, slug=slug, now=now)
    newest = scenarios.newest_version_of(session, row.public_id)
    sha256 = _sha256(content)
    if newest is not None and newest.sha256 == sha256:
        return 0
    number = newest.number + 1 if newest is not None else 1
    scenarios.add_version(
        session, scenario_key=row.id, number=number, content=content, sha256=sha256, now=now
    )
    return 1


def _sha256(content: str) -> str:
    return hashlib.sha256(content.encode()).hexdigest()


def library(database: Database) -> list[ScenarioCard]:
    """Every scenario in its newest version, in the order of a course: from first steps to capstone."""
    with database.read() as session:
        cards = [_card(version) for version in scenarios.newest_versions(session)]
    levels = list(Level)
    return sorted(cards, key=lambda card: (levels.index(card.level), card.course_place, card.title))


def sample(database: Database, *, scenario_id: str, seed: int, units: UnitSystem) -> Sample:
    """The variant of sample number `seed` with its key. Raises NotFound."""
    with database.read() as session:
        version = scenarios.newest_version_of(session, scenario_id)
        if version is None:
            raise NotFound("There is no such scenario.")
        card = _card(version)
    variant = variant_of(
        version,
        seed=seed_of(version.sha256, "sample", str(seed)),
        units=units,
        drawing_version=DRAWING_VERSION,
    )
    return Sample(card, variant, answer_key(variant))


def answer_key(variant: Variant) -> tuple[KeyRow, ...]:
    """The right answer to each task of a variant, in order."""
    return tuple(
        KeyRow(task.id, task.title, right_answer_text(task, variant), task.points)
        for task in variant.scenario.tasks
    )


def _card(version: VersionRecord) -> ScenarioCard:
    scenario: Scenario = scenario_of(version)
    return ScenarioCard(
        public_id=version.scenario.public_id,
        slug=version.scenario.slug,
        title=scenario.title,
        summary=" ".join(scenario.summary.split()),  # a file wraps its lines, a list must not
        level=scenario.level,
        course_place=scenario.course_place,
        minutes=scenario.minutes,
        skills=scenario.skills,
        version_number=version.number,
    )

"""Questions about scenarios and their frozen versions."""

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session, joinedload

from app.store.models import Scenario, ScenarioVersion


def scenario_by_slug(session: Session, slug: str) -> Scenario | None:
    return session.scalar(select(Scenario).where(Scenario.slug == slug))


def add_scenario(session: Session, *, slug: str, now: datetime) -> Scenario:
    row = Scenario(slug=slug, created_at=now)
    session.add(row)
    session.flush()
    return row


def add_version(
    session: Session, *, scenario_key: int, number: int, content: str, sha256: str, now: datetime
) -> None:
    session.add(
        ScenarioVersion(
            scenario_id=scenario_key, number=number, content=content, sha256=sha256, created_at=now
        )
    )
    session.flush()


def newest_versions(session: Session) -> Sequence[ScenarioVersion]:
    """The newest version of each scenario that isn't archived, with its scenario, by slug."""
    newest = (
        select(ScenarioVersion.scenario_id, func.max(ScenarioVersion.number).label("number"))
        .group_by(ScenarioVersion.scenario_id)
        .subquery()
    )
    return session.scalars(
        select(ScenarioVersion)
        .join(
            newest,
            (newest.c.scenario_id == ScenarioVersion.scenario_id)
            & (newest.c.number == ScenarioVersion.number),
        )
        .join(ScenarioVersion.scenario)
        .where(Scenario.archived_at.is_(None))
        .options(joinedload(ScenarioVersion.scenario))
        .order_by(Scenario.slug)
    ).all()


def newest_version_of(session: Session, scenario_id: str) -> ScenarioVersion | None:
    """The newest version of one scenario, archived or not, with its scenario."""
    return session.scalar(
        select(ScenarioVersion)
        .join(ScenarioVersion.scenario)
        .where(Scenario.public_id == scenario_id)
        .options(joinedload(ScenarioVersion.scenario))
        .order_by(ScenarioVersion.number.desc())
        .limit(1)
    )

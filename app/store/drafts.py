"""Questions about drafts, who published which version, and images."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from sqlalchemy import delete, select
from sqlalchemy.orm import Session, joinedload

from app.store.models import (
    Assignment,
    Attempt,
    Draft,
    DraftImage,
    Enrolment,
    Image,
    Publication,
    Scenario,
    ScenarioVersion,
    SchoolClass,
    Teaching,
    VersionImage,
)

ImageRow = DraftImage | VersionImage


def add_draft(
    session: Session, *, author_key: int, scenario_key: int | None, content: str, now: datetime
) -> Draft:
    row = Draft(person_id=author_key, scenario_id=scenario_key, content=content, created_at=now, saved_at=now)
    session.add(row)
    session.flush()
    return row


def drafts_of(session: Session, author_key: int) -> Sequence[Draft]:
    """A person's drafts with their scenarios, the newest change first."""
    return session.scalars(
        select(Draft)
        .where(Draft.person_id == author_key)
        .options(joinedload(Draft.scenario))
        .order_by(Draft.saved_at.desc(), Draft.id.desc())
    ).all()


def draft_by(session: Session, draft_id: str, author_key: int) -> Draft | None:
    """A person's own draft, with its scenario."""
    return session.scalar(
        select(Draft)
        .where(Draft.public_id == draft_id, Draft.person_id == author_key)
        .options(joinedload(Draft.scenario))
    )


def delete_draft(session: Session, draft: Draft) -> None:
    """With its images' names; the images themselves stay, versions may show them."""
    session.execute(delete(DraftImage).where(DraftImage.draft_id == draft.id))
    session.delete(draft)
    session.flush()


def scenario_by(session: Session, scenario_id: str) -> Scenario | None:
    return session.scalar(select(Scenario).where(Scenario.public_id == scenario_id))


def version_by(session: Session, version_id: str) -> ScenarioVersion | None:
    """A version by its own public id, with its scenario."""
    return session.scalar(
        select(ScenarioVersion)
        .where(ScenarioVersion.public_id == version_id)
        .options(joinedload(ScenarioVersion.scenario))
    )


def versions_of(session: Session, scenario_key: int) -> Sequence[ScenarioVersion]:
    """Every version with its scenario, newest first."""
    return session.scalars(
        select(ScenarioVersion)
        .where(ScenarioVersion.scenario_id == scenario_key)
        .options(joinedload(ScenarioVersion.scenario))
        .order_by(ScenarioVersion.number.desc())
    ).all()


def publications_of(session: Session, scenario_key: int) -> Mapping[int, Publication]:
    """By the version's key, each with the person who published it."""
    rows = session.scalars(
        select(Publication)
        .join(Publication.scenario_version)
        .where(ScenarioVersion.scenario_id == scenario_key)
        .options(joinedload(Publication.person))
    )
    return {row.scenario_version_id: row for row in rows}


def own_scenarios(session: Session) -> set[int]:
    """The keys of the scenarios that were published in the browser."""
    return set(
        session.scalars(
            select(ScenarioVersion.scenario_id).join(
                Publication, Publication.scenario_version_id == ScenarioVersion.id
            )
        )
    )


def publish(
    session: Session,
    *,
    scenario_key: int,
    author_key: int,
    content: str,
    sha256: str,
    note: str,
    now: datetime,
) -> ScenarioVersion:
    """Add the scenario's next version with the name of its publisher."""
    newest = next(iter(versions_of(session, scenario_key)), None)
    version = ScenarioVersion(
        scenario_id=scenario_key,
        number=1 if newest is None else newest.number + 1,
        content=content,
        sha256=sha256,
        created_at=now,
    )
    session.add(version)
    session.flush()
    session.add(Publication(scenario_version_id=version.id, person_id=author_key, note=note))
    session.flush()
    return version


def archived_scenarios(session: Session) -> Sequence[Scenario]:
    return session.scalars(
        select(Scenario).where(Scenario.archived_at.is_not(None)).order_by(Scenario.slug)
    ).all()


def assignments_of_scenario(session: Session, scenario_key: int, instructor_key: int) -> Sequence[Assignment]:
    """What a person's open classes were given of a scenario, with version and class, oldest version first."""
    return session.scalars(
        select(Assignment)
        .join(Assignment.scenario_version)
        .join(Assignment.school_class)
        .join(Teaching, Teaching.class_id == SchoolClass.id)
        .where(
            ScenarioVersion.scenario_id == scenario_key,
            Teaching.person_id == instructor_key,
            SchoolClass.archived_at.is_(None),
        )
        .options(joinedload(Assignment.scenario_version), joinedload(Assignment.school_class))
        .order_by(ScenarioVersion.number, SchoolClass.name, Assignment.id)
    ).all()


def is_given_to(session: Session, version_key: int, student_key: int) -> bool:
    """Whether a class of the student has this version, or an attempt of theirs was worked with it."""
    given = (
        select(Assignment.id)
        .join(Enrolment, Enrolment.class_id == Assignment.class_id)
        .where(
            Assignment.scenario_version_id == version_key,
            Enrolment.person_id == student_key,
            Enrolment.dropped_at.is_(None),
        )
    )
    worked = select(Attempt.id).where(
        Attempt.scenario_version_id == version_key, Attempt.person_id == student_key
    )
    return session.scalar(given.limit(1)) is not None or session.scalar(worked.limit(1)) is not None


def keep_image(
    session: Session, *, sha256: str, media_type: str, width: int, height: int, content: bytes
) -> Image:
    """The image with this content, added when it isn't there yet."""
    row = session.scalar(select(Image).where(Image.sha256 == sha256))
    if row is None:
        row = Image(sha256=sha256, media_type=media_type, width=width, height=height, content=content)
        session.add(row)
        session.flush()
    return row


def images_of_draft(session: Session, draft_key: int) -> Sequence[DraftImage]:
    return session.scalars(
        select(DraftImage)
        .where(DraftImage.draft_id == draft_key)
        .options(joinedload(DraftImage.image))
        .order_by(DraftImage.name)
    ).all()


def images_of_version(session: Session, version_key: int) -> Sequence[VersionImage]:
    return session.scalars(
        select(VersionImage)
        .where(VersionImage.scenario_version_id == version_key)
        .options(joinedload(VersionImage.image))
        .order_by(VersionImage.name)
    ).all()


def show_in_draft(session: Session, draft_key: int, *, name: str, image_key: int, alt: str) -> None:
    """Put an image into a draft under a name; one that had the name goes."""
    session.execute(delete(DraftImage).where(DraftImage.draft_id == draft_key, DraftImage.name == name))
    session.add(DraftImage(draft_id=draft_key, name=name, image_id=image_key, alt=alt))
    session.flush()


def take_from_draft(session: Session, draft_key: int, name: str) -> None:
    session.execute(delete(DraftImage).where(DraftImage.draft_id == draft_key, DraftImage.name == name))


def show_in_version(session: Session, version_key: int, images: Sequence[ImageRow]) -> None:
    """Let a version keep these images."""
    session.add_all(
        VersionImage(scenario_version_id=version_key, name=each.name, image_id=each.image_id, alt=each.alt)
        for each in images
    )
    session.flush()

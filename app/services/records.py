"""What services read of the store's rows of an attempt: mypy finds a misspelt column by it."""

from datetime import datetime
from typing import Any, Protocol

from app.domain.measures import UnitSystem
from app.domain.standing import Counts, Solutions
from app.store.choices import AttemptState, EventKind


class ScenarioRecord(Protocol):
    public_id: str
    slug: str


class VersionRecord(Protocol):
    id: int
    public_id: str
    number: int
    content: str
    sha256: str

    @property
    def scenario(self) -> ScenarioRecord: ...


class ClassRecord(Protocol):
    id: int
    public_id: str
    name: str
    time_zone: str
    units: UnitSystem
    archived_at: datetime | None


class AssignmentRecord(Protocol):
    id: int
    public_id: str
    class_id: int
    title: str
    opens_at: datetime
    due_at: datetime
    closes_at: datetime | None
    attempts_allowed: int | None
    counts: Counts
    late_percent_per_day: float
    late_floor_percent: float
    minutes: int | None
    practice: bool
    solutions: Solutions
    unlock_after_id: int | None
    unlock_percent: float | None
    category_id: int | None
    scenario_version_id: int

    @property
    def school_class(self) -> ClassRecord: ...

    @property
    def scenario_version(self) -> VersionRecord: ...

    @property
    def unlock_after(self) -> "AssignmentRecord | None": ...


class PersonRecord(Protocol):
    public_id: str
    display_name: str


class AttemptRecord(Protocol):
    id: int
    public_id: str
    person_id: int
    assignment_id: int
    number: int
    seed: str
    drawing_version: int
    units: UnitSystem
    state: AttemptState
    started_at: datetime
    handed_in_at: datetime | None
    points: float | None
    out_of: float | None

    @property
    def assignment(self) -> AssignmentRecord: ...

    @property
    def scenario_version(self) -> VersionRecord: ...

    @property
    def person(self) -> PersonRecord: ...


class OwnAttemptRecord(AttemptRecord, Protocol):
    """otherwise: what is so for its student alone."""

    @property
    def otherwise(self) -> Any: ...


class EventRecord(Protocol):
    number: int
    kind: EventKind
    body: dict[str, Any]
    at: datetime


class MarkRecord(Protocol):
    task_id: str
    verdict: str
    points: float
    out_of: float
    detail: dict[str, Any]

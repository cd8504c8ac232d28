"""What the templates about assignments receive as `page`."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from app.services.assignments import AssignmentDetail, AssignmentRow
from app.services.classes import ClassRow
from app.services.scenarios import ScenarioCard
from app.web.teaching.assignment_forms import AssignForm, ChangeForm


@dataclass(frozen=True)
class AssignPage:
    card: ScenarioCard
    form: AssignForm
    classes: Sequence[ClassRow]
    """That may be chosen; without one there is nothing to fill in yet."""


@dataclass(frozen=True)
class Given:
    """One assignment with what its dates mean now."""

    row: AssignmentRow
    now: datetime

    @property
    def state(self) -> str:
        if self.now < self.row.opens_at:
            return "not open yet"
        return "open" if self.now <= self.row.due_at else "past due"

    @property
    def not_started(self) -> int:
        return self.row.students - self.row.started

    @property
    def in_progress(self) -> int:
        """Students with an attempt begun and none handed in."""
        return self.row.started - self.row.handed_in

    @property
    def attempts(self) -> str:
        allowed = self.row.attempts_allowed
        return "as many as they like" if allowed is None else str(allowed)


@dataclass(frozen=True)
class AssignmentPage:
    detail: AssignmentDetail
    now: datetime

    @property
    def given(self) -> Given:
        return Given(self.detail.row, self.now)


@dataclass(frozen=True)
class AssignmentSettingsPage:
    detail: AssignmentDetail
    form: ChangeForm

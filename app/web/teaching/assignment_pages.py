"""What the templates about assignments receive as `page`."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from app.domain.standing import RuleLine, rule_lines
from app.services.assignments import AssignmentDetail, AssignmentRow
from app.services.classes import ClassRow
from app.services.exceptions import ExceptionRow
from app.services.rule_changes import RuleChange
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
        rules = self.row.rules
        if self.now < rules.opens_at:
            return "not open yet"
        if rules.closes_at is not None and self.now >= rules.closes_at:
            return "closed"
        return "open" if self.now <= rules.due_at else "past due"

    @property
    def is_over(self) -> bool:
        return self.state in ("past due", "closed")

    @property
    def not_started(self) -> int:
        return self.row.students - self.row.started

    @property
    def in_progress(self) -> int:
        """Students with an attempt begun and none handed in."""
        return self.row.started - self.row.handed_in


@dataclass(frozen=True)
class AssignmentPage:
    detail: AssignmentDetail
    now: datetime
    exceptions: Sequence[ExceptionRow]

    @property
    def rules(self) -> tuple[RuleLine, ...]:
        return rule_lines(self.detail.row.rules, self.now)

    @property
    def given(self) -> Given:
        return Given(self.detail.row, self.now)


@dataclass(frozen=True)
class AssignmentSettingsPage:
    detail: AssignmentDetail
    form: ChangeForm
    changes: Sequence[RuleChange] | None = None
    """Who would change by what is typed; None before it was asked."""

"""A reflection sheet as it is read: the prompts with a student's words, its way to and fro, the result."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.measures import UnitSystem
from app.domain.scenario import Scenario
from app.services.labs import Result, is_put_away
from app.services.records import AssignmentRecord
from app.services.versions import scenario_of
from app.store.choices import ReflectionState as ReflectionState  # of Sheet and Step, for the pages too

NO_LONGER_ASKED = "A question that is no longer asked"


@dataclass(frozen=True)
class Prompt:
    """One question of a sheet. own: the instructor's, not the scenario's. closed: it is asked no more."""

    id: str
    text: str
    own: bool
    closed: bool


@dataclass(frozen=True)
class Aside:
    """What was typed on a page that was out of date: kept until the student decides. id: its opened page."""

    id: str
    text: str
    saved_at: datetime


@dataclass(frozen=True)
class PromptRow:
    """A prompt with what one student wrote under it."""

    id: str
    text: str
    response: str
    saved_at: datetime | None
    closed: bool = False
    own: bool = False
    asides: tuple[Aside, ...] = ()


@dataclass(frozen=True)
class Step:
    """The sheet went from one hand to the other. texts: by prompt, as they stood then."""

    number: int
    state: ReflectionState
    made_at: datetime
    made_by: str
    by_student: bool
    comment: str
    points: float | None
    out_of: float | None
    texts: Mapping[str, str]


@dataclass(frozen=True)
class Sheet:
    """One student's sheet.

    changes: of its texts so far. result: of the attempt that counts, None before any is handed in. put_away:
    its class is, so it can only be read. points: given of out_of; either is None where none are.
    """

    assignment_id: str
    title: str
    class_name: str
    time_zone: str
    units: UnitSystem
    scenario_title: str
    prompts: tuple[PromptRow, ...]
    result: Result | None
    put_away: bool
    state: ReflectionState = ReflectionState.WRITING
    changes: int = 0
    points: float | None = None
    out_of: float | None = None
    steps: tuple[Step, ...] = ()

    @property
    def written(self) -> int:
        return sum(bool(prompt.response.strip()) for prompt in self.prompts)

    @property
    def saved_at(self) -> datetime | None:
        return max((prompt.saved_at for prompt in self.prompts if prompt.saved_at), default=None)

    @property
    def with_the_student(self) -> bool:
        return is_with_the_student(self.state)

    @property
    def comment(self) -> str:
        """The instructor's newest words about it."""
        return next((step.comment for step in reversed(self.steps) if step.comment), "")

    @property
    def handed_in_at(self) -> datetime | None:
        """When it was handed in last, and not taken back since."""
        if self.state is ReflectionState.WRITING:
            return None
        handed_in = (step for step in reversed(self.steps) if step.state is ReflectionState.HANDED_IN)
        return next((step.made_at for step in handed_in), None)


@dataclass(frozen=True)
class StudentSheet:
    student_id: str
    student_name: str
    sheet: Sheet
    sign_in_name: str = ""
    sort_name: str = ""


def is_with_the_student(state: ReflectionState) -> bool:
    return state in (ReflectionState.WRITING, ReflectionState.ASKED_AGAIN)


def prompts_of(scenario: Scenario, rows: Sequence[Any]) -> tuple[Prompt, ...]:
    """The scenario's prompts, then the instructor's own; rows: of the store's prompts."""
    closed = {row.prompt_id for row in rows if row.closed_at is not None}
    given = [Prompt(prompt.id, prompt.text, False, prompt.id in closed) for prompt in scenario.reflection]
    own = [
        Prompt(row.prompt_id, row.text, True, row.prompt_id in closed) for row in rows if row.text is not None
    ]
    return (*given, *own)


def sheet_of(
    assignment: AssignmentRecord,
    *,
    prompts: Sequence[Prompt],
    written: Sequence[Any],
    row: Any | None,
    out_of: float | None,
    result: Result | None,
) -> Sheet:
    """One student's sheet; row: of the store's sheet, None before anything was written."""
    scenario = scenario_of(assignment.scenario_version)
    return Sheet(
        assignment_id=assignment.public_id,
        title=assignment.title,
        class_name=assignment.school_class.name,
        time_zone=assignment.school_class.time_zone,
        units=assignment.school_class.units,
        scenario_title=scenario.title,
        prompts=_rows(prompts, written),
        result=result,
        put_away=is_put_away(assignment),
        state=row.state if row else ReflectionState.WRITING,
        changes=row.changes if row else 0,
        points=row.points if row and out_of is not None else None,
        out_of=out_of,
        steps=tuple(_step(each, row) for each in row.steps) if row else (),
    )


def _rows(prompts: Sequence[Prompt], written: Sequence[Any]) -> tuple[PromptRow, ...]:
    """A closed prompt stands on the sheets of those who wrote under it; so do words whose prompt is gone."""
    by_prompt = {each.prompt_id: each for each in written}
    known = {prompt.id for prompt in prompts}
    gone = [Prompt(key, NO_LONGER_ASKED, False, True) for key in by_prompt if key not in known]
    shown = [
        prompt for prompt in (*prompts, *gone) if not prompt.closed or _has_words(by_prompt.get(prompt.id))
    ]
    return tuple(_row(prompt, by_prompt.get(prompt.id)) for prompt in shown)


def _has_words(written: Any | None) -> bool:
    return written is not None and bool(written.text or written.asides)


def _row(prompt: Prompt, written: Any | None) -> PromptRow:
    return PromptRow(
        id=prompt.id,
        text=prompt.text,
        response=written.text if written else "",
        saved_at=written.saved_at if written else None,
        closed=prompt.closed,
        own=prompt.own,
        asides=tuple(Aside(each.opened_page, each.text, each.saved_at) for each in written.asides)
        if written
        else (),
    )


def _step(step: Any, sheet: Any) -> Step:
    return Step(
        number=step.number,
        state=step.state,
        made_at=step.made_at,
        made_by=step.maker.display_name,
        by_student=step.made_by == sheet.person_id,
        comment=step.comment,
        points=step.points,
        out_of=step.out_of,
        texts=step.texts,
    )

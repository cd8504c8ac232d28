"""What the templates of reflection sheets receive as `page`."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Any

from app.services.assignments import AssignmentDetail, AssignmentRow
from app.services.classes import ClassDetail
from app.services.reflection_prompts import Asked
from app.services.reflection_sheets import Prompt, PromptRow, ReflectionState, Step
from app.services.reflections import StudentSheet
from app.web.forms import SendForm
from app.web.lab_sheet import MarkedPart, marked_parts
from app.web.marked import score_text
from app.web.reflection_words import kind_of_stamp, points_text, standing, step_text


@dataclass(frozen=True)
class SheetRow:
    """One student in the list, and the sheet to read."""

    student: StudentSheet

    @property
    def written(self) -> str:
        sheet = self.student.sheet
        return f"{sheet.written} of {len(sheet.prompts)}"

    @property
    def standing(self) -> str:
        return standing(self.student.sheet)

    @property
    def stamp(self) -> str:
        return kind_of_stamp(self.student.sheet)

    @property
    def points(self) -> str:
        return points_text(self.student.sheet) or ""

    @property
    def saved_at(self) -> datetime | None:
        return self.student.sheet.saved_at

    @property
    def score(self) -> str:
        result = self.student.sheet.result
        return score_text(result) if result else "not handed in"

    @cached_property
    def results(self) -> tuple[MarkedPart, ...]:
        result = self.student.sheet.result
        return marked_parts(result) if result else ()

    @property
    def steps(self) -> list[tuple[Step, str]]:
        return [(step, step_text(step)) for step in self.student.sheet.steps]


@dataclass(frozen=True)
class SheetsPage:
    """The sheets of a class as a list. undrawn: signs of names and words that no font of the server has."""

    detail: AssignmentDetail
    students: Sequence[StudentSheet]
    undrawn: str

    @cached_property
    def rows(self) -> list[SheetRow]:
        return [SheetRow(student) for student in self.students]

    @property
    def wrote(self) -> int:
        """Students who wrote under at least one prompt."""
        return sum(student.sheet.written > 0 for student in self.students)

    @property
    def handed_in(self) -> int:
        return len(to_read(self.students))

    @property
    def worth_points(self) -> bool:
        return any(student.sheet.out_of is not None for student in self.students)

    @property
    def next_to_read(self) -> str | None:
        return next((student.student_id for student in to_read(self.students)), None)


@dataclass(frozen=True)
class SheetPage:
    """One sheet to read and return. students: of the whole class in order, for the ways on from here."""

    detail: AssignmentDetail
    row: SheetRow
    form: Any
    students: Sequence[StudentSheet]

    @property
    def place(self) -> int:
        ids = [student.student_id for student in self.students]
        return ids.index(self.row.student.student_id)

    @property
    def before(self) -> StudentSheet | None:
        return self.students[self.place - 1] if self.place > 0 else None

    @property
    def after(self) -> StudentSheet | None:
        return self.students[self.place + 1] if self.place + 1 < len(self.students) else None

    @property
    def next_to_read(self) -> StudentSheet | None:
        """The nearest handed-in sheet after this one, else the first of all; not this one itself."""
        behind = [*self.students[self.place + 1 :], *self.students[: self.place]]
        return next(iter(to_read(behind)), None)


@dataclass(frozen=True)
class QuestionPage:
    """What everybody wrote under one prompt; prompts: all that can be read so, in order."""

    detail: AssignmentDetail
    prompts: Sequence[Prompt]
    prompt: Prompt
    students: Sequence[StudentSheet]

    @property
    def place(self) -> int:
        return self.prompts.index(self.prompt)

    @property
    def before(self) -> Prompt | None:
        return self.prompts[self.place - 1] if self.place > 0 else None

    @property
    def after(self) -> Prompt | None:
        return self.prompts[self.place + 1] if self.place + 1 < len(self.prompts) else None

    @property
    def answers(self) -> list[tuple[StudentSheet, PromptRow]]:
        """Of those who wrote something under it."""
        return [
            (student, row)
            for student in self.students
            for row in student.sheet.prompts
            if row.id == self.prompt.id and row.response.strip()
        ]

    @property
    def silent(self) -> list[StudentSheet]:
        wrote = {student.student_id for student, _ in self.answers}
        return [student for student in self.students if student.student_id not in wrote]


@dataclass(frozen=True)
class PromptsPage:
    """What the sheets of an assignment ask and are worth."""

    detail: AssignmentDetail
    asked: Asked
    prompt_form: Any
    points_form: Any
    button: SendForm


@dataclass(frozen=True)
class DownloadsPage:
    """Every file about reflection sheets and worksheets of a class.

    only_here: whether the codes on worksheets would name an address that works on this computer alone.
    undrawn: signs of names that no font of the server has.
    """

    school_class: ClassDetail
    given: Sequence[AssignmentRow]
    only_here: bool
    undrawn: str


def to_read(students: Sequence[StudentSheet]) -> list[StudentSheet]:
    """Those whose sheets are handed in and wait for the instructor."""
    return [student for student in students if student.sheet.state is ReflectionState.HANDED_IN]

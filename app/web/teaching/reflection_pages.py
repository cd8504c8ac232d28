"""What the templates of reflection sheets receive as `page`."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from app.services.assignments import AssignmentDetail
from app.services.reflections import StudentSheet
from app.web.lab_sheet import MarkedPart, marked_parts
from app.web.marked import score_text


@dataclass(frozen=True)
class SheetRow:
    """One student in the list, and the sheet to read."""

    student: StudentSheet

    @property
    def written(self) -> str:
        sheet = self.student.sheet
        return f"{sheet.written} of {len(sheet.prompts)}" if sheet.written else "not written"

    @property
    def saved_at(self) -> datetime | None:
        return max(
            (prompt.saved_at for prompt in self.student.sheet.prompts if prompt.saved_at), default=None
        )

    @property
    def score(self) -> str:
        result = self.student.sheet.result
        return score_text(result) if result else "not handed in"

    @property
    def results(self) -> tuple[MarkedPart, ...]:
        result = self.student.sheet.result
        return marked_parts(result) if result else ()


@dataclass(frozen=True)
class SheetsPage:
    """The sheets of a class, or of one student, whose name is then the title."""

    detail: AssignmentDetail
    students: Sequence[StudentSheet]
    title: str = "Reflection sheets"

    @property
    def rows(self) -> list[SheetRow]:
        return [SheetRow(student) for student in self.students]

    @property
    def wrote(self) -> int:
        """Students who wrote under at least one prompt."""
        return sum(student.sheet.written > 0 for student in self.students)

"""What the templates about people receive as `page`."""

from dataclasses import dataclass

from app.services.classes import ClassDetail, ClassRow, StudentRow
from app.services.co_instructors import InstructorRow
from app.services.deletion import Erasable, Receipt
from app.services.moving import OtherStudent
from app.services.oneroster_import import Offer, ZipPreview
from app.services.pass_phrase_codes import OneTimeCode
from app.services.people_records import StudentRecord
from app.services.roster_import import Preview
from app.services.roster_plan import PlannedRow
from app.web.formatting import counted
from app.web.forms import SendForm
from app.web.machine_words import MachinePage
from app.web.teaching.packets import on_paper
from app.web.teaching.people.forms import (
    ColumnsForm,
    DeleteForm,
    InstructorForm,
    JoinForm,
    MoveForm,
    UploadForm,
    ZipForm,
)

TABLE_WORDS = {
    "assignment_exception": "exceptions",
    "attempt": "attempts at labs",
    "audit": "list of changes",
    "contest_member": "teams",
    "enrolment": "classes",
    "event": "saved answers and actions",
    "hand_grade": "grades set by hand",
    "hands_on_check": "hands-on checks",
    "mark": "marks",
    "person": "name and account",
    "person_key": "student numbers",
    "reflection": "reflection answers",
    "reflection_aside": "answers kept beside a reflection sheet",
    "reflection_sheet": "reflection sheets",
    "reflection_step": "reflection sheets handed in and returned",
    "sign_in": "sign-ins",
}


def table_words(table: str) -> str:
    """A table's name for people: `attempts at labs`."""
    name, comma, rest = table.partition(",")
    return (TABLE_WORDS.get(name) or name.replace("_", " ")) + comma + rest


@dataclass(frozen=True)
class ListUploadPage:
    school_class: ClassDetail
    form: UploadForm
    join_form: JoinForm
    elsewhere: tuple[OtherStudent, ...]


@dataclass(frozen=True)
class RowsShown:
    """The rows of a preview, those with a fault first."""

    rows: tuple[PlannedRow, ...]

    @property
    def in_order(self) -> list[PlannedRow]:
        return sorted(self.rows, key=lambda row: (row.fault is None, not row.changes, row.row.line))

    @property
    def summary(self) -> str:
        """`3 new students, 1 change, 20 as they are, 2 with a fault`."""
        new = sum(row.is_new for row in self.rows)
        changing = sum(row.changes for row in self.rows) - new
        faulty = sum(row.fault is not None for row in self.rows)
        same = len(self.rows) - new - changing - faulty
        parts = [
            counted(new, "new student") if new else "",
            counted(changing, "change") if changing else "",
            f"{same} as they are" if same else "",
            f"{faulty} with a fault" if faulty else "",
        ]
        return ", ".join(filter(None, parts)) or "nothing"


@dataclass(frozen=True)
class ListPage:
    school_class: ClassDetail
    preview: Preview
    shown: RowsShown
    form: ColumnsForm
    only_here: bool


@dataclass(frozen=True)
class ZipUploadPage:
    form: UploadForm


@dataclass(frozen=True)
class ZipPage:
    """into: what is chosen for each class of the offer, in its order."""

    offer: Offer
    into: list[str]
    options: list[tuple[str, str]]
    form: ZipForm
    preview: ZipPreview | None
    shown: RowsShown | None


@dataclass(frozen=True)
class InstructorsPage:
    school_class: ClassDetail
    instructors: tuple[InstructorRow, ...]
    form: InstructorForm
    remove_form: SendForm
    own_id: str


@dataclass(frozen=True)
class CodePage:
    school_class: ClassDetail
    code: OneTimeCode
    address: str


@dataclass(frozen=True)
class StudentPage:
    school_class: ClassDetail
    student: StudentRow
    form: SendForm
    """To leave the class, to come back, or for a one-time code."""
    move_form: MoveForm
    other_classes: list[ClassRow]


@dataclass(frozen=True)
class RecordPage:
    school_class: ClassDetail
    record: StudentRecord

    @property
    def held(self) -> list[tuple[str, int]]:
        """How many rows are held, by what they are."""
        return [(table_words(name), len(rows)) for name, rows in self.record.tables.items()]

    @property
    def seen(self) -> MachinePage:
        return MachinePage(self.record.checks, self.record.heats, self.record.made_at, self.record.time_zone)


@dataclass(frozen=True)
class RecordFilePage:
    """The readable page in the file of a record."""

    record: StudentRecord

    @property
    def made_on(self) -> str:
        return on_paper(self.record.made_at, self.record.time_zone)

    @property
    def tables(self) -> list[tuple[str, list[str], list[list[str]]]]:
        """Title, heads and rows of each table, all as text."""
        shown = []
        for name, rows in self.record.tables.items():
            heads = list(rows[0])
            cells = [["" if row[head] is None else str(row[head]) for head in heads] for row in rows]
            shown.append((table_words(name), [head.replace("_", " ") for head in heads], cells))
        return shown


@dataclass(frozen=True)
class DeletePage:
    school_class: ClassDetail
    student: Erasable
    form: DeleteForm


@dataclass(frozen=True)
class ReceiptPage:
    school_class: ClassDetail
    receipt: Receipt
    form: SendForm

    @property
    def rows(self) -> list[tuple[str, int]]:
        return [(table_words(name), count) for name, count in sorted(self.receipt.rows.items())]

    @property
    def mentions(self) -> list[tuple[str, int]]:
        return [(table_words(name), count) for name, count in sorted(self.receipt.mentions.items())]

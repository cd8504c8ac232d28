"""Reflection sheets in every format, of a lab, a class and a student, named and nameless, cell by cell."""

import csv
from datetime import UTC, datetime
from io import BytesIO, StringIO
from typing import Any
from zoneinfo import ZoneInfo

from docx import Document
from openpyxl import load_workbook
from pypdf import PdfReader

from tests.browser.term.school import Room, School
from tests.browser.term.sheet_words import Paper, papers
from tests.browser.term.story import KINDS, LABS, QUESTIONS, SHEET_OUT_OF, TIME_ZONE, WITH_SHEETS, Pupil
from tests.browser.term.writing import comment_on, final, writers
from tests.exports.examples import claims_pdf_ua, letters

WHO = ("Student", "Sign-in name", "Class", "Assignment")
ANSWERS = (*WHO, "Sheet", "Question number", "Question", "Answer", "Saved (Phoenix time)")
SHEETS = (
    *(*WHO, "Sheet", "Handed in (Phoenix time)", "Points", "Out of", "Comment"),
    *("Lab points", "Lab out of", "Answers written", "Questions"),
)


def answer_rows(school: School, room: Room) -> list[tuple[Any, ...]]:
    """A row for each question of each student: the story's words, saved when the database says."""
    saved = {
        (row["public_id"], row["text"]): _local(row["saved_at"])
        for row in school.ask(
            """SELECT person.public_id, reflection.text, reflection.saved_at FROM reflection
               JOIN person ON person.id = reflection.person_id
               JOIN assignment ON assignment.id = reflection.assignment_id
               WHERE assignment.public_id = :lab""",
            lab=room.labs[WITH_SHEETS],
        )
    }
    assert len(saved) == len(writers(room)) * len(QUESTIONS)
    rows: list[tuple[Any, ...]] = []
    for pupil in by_name(room):
        for number, question in enumerate(QUESTIONS, 1):
            words = final(pupil, number) if KINDS[pupil.kind].sheet else None
            when = saved[room.student_id(pupil), words] if words else None
            rows.append((*who(room, pupil), standing(pupil), number, question, words, when))
    return rows


def sheet_rows(school: School, room: Room) -> list[tuple[Any, ...]]:
    """A row for each sheet; the lab's points before any late deduction, as they stand on the sheet."""
    handed_in = {
        row["public_id"]: _local(row["made_at"])
        for row in school.ask(
            """SELECT person.public_id, max(reflection_step.made_at) AS made_at FROM reflection_step
               JOIN reflection_sheet ON reflection_sheet.id = reflection_step.sheet_id
               JOIN person ON person.id = reflection_sheet.person_id
               JOIN assignment ON assignment.id = reflection_sheet.assignment_id
               WHERE assignment.public_id = :lab AND reflection_step.state = 'handed in'
               GROUP BY person.public_id""",
            lab=room.labs[WITH_SHEETS],
        )
    }
    rows: list[tuple[Any, ...]] = []
    for pupil in by_name(room):
        kind = KINDS[pupil.kind]
        points = kind.sheet.points if kind.sheet else None
        comment = comment_on(kind.sheet) if kind.sheet else None
        tries = kind.labs.get(WITH_SHEETS, ())
        lab = (tries[0].points + (tries[0].text or 0), 17) if tries else (None, None)
        written = len(QUESTIONS) if kind.sheet else 0
        rows.append(
            (
                *(*who(room, pupil), standing(pupil), handed_in.get(room.student_id(pupil))),
                *(points, SHEET_OUT_OF, comment, *lab, written, len(QUESTIONS)),
            )
        )
    return rows


def by_name(room: Room) -> list[Pupil]:
    return sorted(room.pupils, key=lambda each: each.sort_name)


def who(room: Room, pupil: Pupil) -> tuple[str, ...]:
    return (pupil.name, room.cards[pupil.name].sign_in_name, room.title, LABS[WITH_SHEETS].title)


def standing(pupil: Pupil) -> str:
    sheet = KINDS[pupil.kind].sheet
    if sheet is None:
        return "not written"
    return "to be written again" if sheet.again else "returned"


def _local(stored: str) -> datetime:
    """A moment of the database on the class's clock, to the minute, as tables show it."""
    moment = datetime.fromisoformat(stored).replace(tzinfo=UTC).astimezone(ZoneInfo(TIME_ZONE))
    return moment.replace(second=0, microsecond=0, tzinfo=None)


def tables(school: School, room: Room) -> None:
    """CSV and XLSX of the lab, and of one student at it."""
    answers, sheets = answer_rows(school, room), sheet_rows(school, room)
    of_lab = f"/teaching/assignments/{room.labs[WITH_SHEETS]}/reflections"
    _same(school, of_lab, answers, sheets)
    pupil = writers(room)[0][0]
    of_student = f"{of_lab}/{room.student_id(pupil)}"
    _same(school, of_student, *([row for row in rows if row[0] == pupil.name] for rows in (answers, sheets)))


def _same(
    school: School, address: str, answers: list[tuple[Any, ...]], sheets: list[tuple[Any, ...]]
) -> None:
    text = school.file(f"{address}.csv").decode("utf-8-sig")
    assert list(csv.reader(StringIO(text, newline=""))) == [
        list(ANSWERS),
        *([_as_text(cell) for cell in row] for row in answers),
    ]
    book = load_workbook(BytesIO(school.file(f"{address}.xlsx")))
    assert book.sheetnames == ["Sheets", "Answers"]
    assert list(book["Answers"].iter_rows(values_only=True)) == [ANSWERS, *answers]
    assert list(book["Sheets"].iter_rows(values_only=True)) == [SHEETS, *sheets]


def _as_text(cell: Any) -> str:
    """As CSV has it: what a spreadsheet would run as a formula stands behind an apostrophe."""
    match cell:
        case None:
            return ""
        case datetime():
            return f"{cell:%Y-%m-%d %H:%M}"
        case str():
            return f"'{cell}" if cell.startswith("=") else cell
    return str(cell)


def documents(school: School, room: Room) -> None:
    """PDF and DOCX of the lab: every word of every student's sheet and every cell of the marks beside it."""
    expected = papers(school, room)
    address = f"/teaching/assignments/{room.labs[WITH_SHEETS]}/reflections"
    assert _in_document(school.file(f"{address}.docx")) == {
        name: (paper.paragraphs, paper.marks) for name, paper in expected.items()
    }
    packet = PdfReader(BytesIO(school.file(f"{address}.pdf")))
    assert claims_pdf_ua(packet)
    printed = _in_packet(packet)
    assert list(printed) == list(expected)
    for name, paper in expected.items():
        for piece in _pieces(paper):
            assert letters(piece) in printed[name], (name, piece)


def _in_document(content: bytes) -> dict[str, tuple[list[str], list[list[str]]]]:
    """By student: the paragraphs under the name, and the cells of the table of marks under its head."""
    sheets: dict[str, tuple[list[str], list[list[str]]]] = {}
    document, name = Document(BytesIO(content)), ""
    for block in list(document.iter_inner_content())[1:]:
        if hasattr(block, "rows"):
            head, *rows = ([cell.text for cell in row.cells] for row in block.rows)
            assert head == ["Task", "Your answer", "Right answer", "Mark", "Points"]
            sheets[name][1].extend(rows)
        elif block.style is not None and block.style.name == "Heading 1":
            name = block.text
            sheets[name] = ([], [])
        elif block.text:
            sheets[name][0].append(block.text)
    return sheets


def _in_packet(packet: PdfReader) -> dict[str, str]:
    """By student: the letters of the own pages. Each page names its student in its title block."""
    printed: dict[str, str] = {}
    for page in packet.pages:
        label, name, *lines = page.extract_text().split("\n")
        assert label == "STUDENT"
        printed[name] = printed.get(name, "") + letters("".join(lines))
    return printed


def _pieces(paper: Paper) -> list[str]:
    """What stands together on paper: paragraphs, and of each mark its task with the verdict, and its points.
    An answer that is not there leaves room to write."""
    words = [each.replace("Nothing written.", "Write here:") for each in paper.paragraphs[2:]]
    marks = [
        piece
        for task, yours, right, mark, points in paper.marks
        for piece in (f"{task}{mark.partition('.')[0]}{yours}{right}{points}", mark.partition(". ")[2])
    ]
    return [paper.score, *words, *marks]


def of_the_class_and_of_one_student(school: School, room: Room) -> None:
    """Every lab's sheets in one file: only one lab's have words, and one student's are a file too."""
    base = f"/teaching/classes/{room.class_id}"
    (pupil, _), (other, _) = writers(room)[:2]
    answers = answer_rows(school, room)
    book = load_workbook(BytesIO(school.file(f"{base}/reflections.xlsx")))
    rows = list(book["Answers"].iter_rows(values_only=True))
    assert [row for row in rows if row[3] == LABS[WITH_SHEETS].title] == answers
    assert not [row[7] for row in rows[1:] if row[3] != LABS[WITH_SHEETS].title and row[7]]
    book = load_workbook(BytesIO(school.file(f"{base}/students/{room.student_id(pupil)}/reflections.xlsx")))
    own = [row for row in book["Answers"].iter_rows(values_only=True) if row[7] and row[0] != "Student"]
    assert own == [row for row in answers if row[0] == pupil.name]
    for kind in ("pdf", "docx", "csv"):
        words = words_in(school.file(f"{base}/students/{room.student_id(pupil)}/reflections.{kind}"), kind)
        assert all(letters(final(pupil, number)) in words for number in (1, 2, 3)), kind
        assert letters(other.name) not in words, kind


def without_names(school: School, room: Room) -> None:
    """Neither beside the answers nor in what students wrote of themselves."""
    address = f"/teaching/assignments/{room.labs[WITH_SHEETS]}/reflections"
    for kind in ("pdf", "docx", "csv", "xlsx"):
        text = words_in(school.file(f"{address}.{kind}?names=hidden"), kind)
        assert text.count(letters("felt it in the seat")) == len(writers(room)) * len(QUESTIONS)
        for pupil in room.pupils:
            assert letters(pupil.name) not in text, (kind, pupil)
            assert letters(pupil.sort_name) not in text, (kind, pupil)


def words_in(content: bytes, kind: str) -> str:
    """The letters of all that a file shows."""
    match kind:
        case "pdf":
            words = "".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)
        case "docx":
            words = "".join(paragraph.text for paragraph in Document(BytesIO(content)).paragraphs)
        case "xlsx":
            sheets = load_workbook(BytesIO(content)).worksheets
            words = "".join(
                str(cell.value or "") + " " for sheet in sheets for row in sheet.iter_rows() for cell in row
            )
        case _:
            words = content.decode("utf-8-sig")
    return letters(words)

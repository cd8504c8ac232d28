"""Paper worksheets of a lab, each with its student's own numbers, and the instructor's key to them."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from itertools import islice

from app.exports.author_text import blocks_of
from app.exports.errors import ExportError, require_visible
from app.exports.pictures import Pictures
from app.exports.qr_codes import qr_code
from app.exports.reflection_sheets import Drawing
from app.exports.typesetting import Paper, typeset

_ROWS_IN_ONE_TABLE = 14
_MOST_TABLES_ABREAST = 4
_MOST_COLUMNS_ABREAST = 8


@dataclass(frozen=True)
class PrintedTable:
    """Cells as they are shown; numeric: by column, whether it stands right-aligned."""

    caption: str
    heads: tuple[str, ...]
    numeric: tuple[bool, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class PrintedMeasurement:
    title: str
    caption: str
    drawings: tuple[Drawing, ...]
    tables: tuple[PrintedTable, ...]


@dataclass(frozen=True)
class PrintedQuestion:
    """kind: text, words (lines to write on), spots, choice, choices, order, placement or bench, which is not
    answered on paper. options: the words to choose among or to put in order."""

    number: str
    title: str
    prompt: str
    points_text: str
    kind: str
    hint: str
    unit: str
    options: tuple[str, ...]


@dataclass(frozen=True)
class PrintedPart:
    """text: the author's markdown."""

    number: str
    title: str
    text: str
    measurements: tuple[PrintedMeasurement, ...]
    questions: tuple[PrintedQuestion, ...]


@dataclass(frozen=True)
class Worksheet:
    """All that is printed for one student. facts: label and value; cautions: title and text."""

    student_name: str
    attempt_label: str
    concern: str
    facts: tuple[tuple[str, str], ...]
    assemblies: PrintedTable
    parts: tuple[PrintedPart, ...]


@dataclass(frozen=True)
class Lab:
    """What all worksheets of a packet share. address: of the page where the answers are typed, no secret."""

    title: str
    scenario_title: str
    class_name: str
    points_text: str
    due_text: str
    cautions: tuple[tuple[str, str], ...]
    always: str
    address: str


@dataclass(frozen=True)
class KeyAnswer:
    number: str
    title: str
    points_text: str
    answer: str


@dataclass(frozen=True)
class Key:
    """The right answers to one student's worksheet."""

    student_name: str
    attempt_label: str
    answers: tuple[KeyAnswer, ...]


def worksheet_packet(sheets: Sequence[Worksheet], *, lab: Lab, paper: Paper = "us-letter") -> bytes:
    """The worksheets as a tagged PDF with one bookmark a student. Holds no answer.

    Raises ExportError where there is no sheet, a name shows nothing, or the address fits no QR code.
    """
    _check([sheet.student_name for sheet in sheets])
    pictures = Pictures()
    code = pictures.add(qr_code(lab.address))
    data = {
        "title": f"Worksheets: {lab.title}",
        "paper": paper,
        "lab": asdict(lab),
        "code": code,
        "students": [_student(sheet, pictures) for sheet in sheets],
    }
    return typeset("worksheets.typ", data, pictures.files)


def key_packet(keys: Sequence[Key], *, lab: Lab, paper: Paper = "us-letter") -> bytes:
    """The instructor's key as a tagged PDF of its own. Raises ExportError as `worksheet_packet` does."""
    _check([key.student_name for key in keys])
    data = {
        "title": f"Answer key: {lab.title}",
        "paper": paper,
        "lab": asdict(lab),
        "students": [asdict(key) for key in keys],
    }
    return typeset("worksheet_key.typ", data)


def _check(student_names: Sequence[str]) -> None:
    if not student_names:
        raise ExportError("sheets", "there is no worksheet to print; add students to the class first")
    for number, name in enumerate(student_names):
        require_visible(f"sheets[{number}].student_name", name, "give the student a name")


def _student(sheet: Worksheet, pictures: Pictures) -> dict[str, object]:
    return {
        "student_name": sheet.student_name,
        "attempt_label": sheet.attempt_label,
        "concern": sheet.concern,
        "facts": sheet.facts,
        "assemblies": _table(sheet.assemblies),
        "parts": [_part(part, pictures) for part in sheet.parts],
    }


def _part(part: PrintedPart, pictures: Pictures) -> dict[str, object]:
    return {
        "number": part.number,
        "title": part.title,
        "text": blocks_of(part.text),
        "measurements": [
            {
                "title": measured.title,
                "caption": measured.caption,
                "drawings": [
                    {"title": each.title, "file": pictures.add(each.svg), "alternative": each.alternative}
                    for each in measured.drawings
                ],
                "tables": [_table(table) for table in measured.tables],
            }
            for measured in part.measurements
        ],
        "questions": [asdict(question) for question in part.questions],
    }


def _table(table: PrintedTable) -> dict[str, object]:
    """A long narrow table is cut into pieces that stand abreast."""
    abreast = min(
        -(-len(table.rows) // _ROWS_IN_ONE_TABLE),
        _MOST_TABLES_ABREAST,
        max(1, _MOST_COLUMNS_ABREAST // max(1, len(table.heads))),
    )
    rows = iter(table.rows)
    size = -(-len(table.rows) // max(1, abreast))
    pieces = [list(islice(rows, size)) for _ in range(max(1, abreast))]
    return {
        "caption": table.caption,
        "heads": table.heads,
        "numeric": table.numeric,
        "pieces": [piece for piece in pieces if piece],
    }

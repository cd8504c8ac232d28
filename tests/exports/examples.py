"""Invented sheets, and what the tests look at in a PDF."""

from collections.abc import Iterator
from io import BytesIO

from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from app.exports.reflection_packet import reflection_packet
from app.exports.reflection_sheets import PacketHeading, ReflectionSheet, Response, ResultRow

HEADING = PacketHeading(title="Reflection sheets: a shake at 90 km/h")


def sheet(student_name: str = "Avery Stone", **changed: object) -> ReflectionSheet:
    fields: dict[str, object] = {
        "student_name": student_name,
        "class_name": "Period 3",
        "assignment_title": "A shake at 90 km/h",
        "scenario_title": "Two-plane balance",
        "attempt_label": "Attempt 2 of 3",
        "handed_in_text": "Tue 3 Mar 2026, 10:42",
        "score_text": "15 of 22 points",
        "responses": (Response("What went otherwise than planned?", f"The clip of {student_name} slipped."),),
        "results": (result("Inboard mass", f"41.5 g by {student_name}"),),
    }
    return ReflectionSheet(**(fields | changed))  # type: ignore[arg-type]


def result(task: str, your_answer: str) -> ResultRow:
    return ResultRow(task, your_answer, "41.2 g", "✓", "right", "4 of 4", "Within 2.5 g: off by 0.3 g.")


def answered(text: str) -> ReflectionSheet:
    return sheet(responses=(Response("Prompt?", text),))


def read(pdf: bytes) -> PdfReader:
    return PdfReader(BytesIO(pdf))


def packet(*sheets: ReflectionSheet) -> PdfReader:
    return read(reflection_packet(sheets, heading=HEADING))


def pages(reader: PdfReader) -> list[str]:
    """The text of each page, in one line each: where lines break is no business of a test."""
    return [" ".join(page.extract_text().split()) for page in reader.pages]


def letters(text: str) -> str:
    """The text without white space and the unseen places where a long word may break."""
    return "".join(text.replace("\u200b", "").split())


def tags(reader: PdfReader) -> Iterator[DictionaryObject]:
    """Every element of the structure tree that a screen reader walks."""
    waiting = [reader.trailer["/Root"]["/StructTreeRoot"]]
    while waiting:
        element = waiting.pop().get_object()
        if isinstance(element, list):
            waiting.extend(element)
        elif isinstance(element, DictionaryObject):
            yield element
            if "/K" in element:
                waiting.append(element["/K"])


def claims_pdf_ua(reader: PdfReader) -> bool:
    """Whether the metadata carry the identification that ISO 14289-1, section 5, asks for."""
    metadata = reader.trailer["/Root"]["/Metadata"].get_object().get_data()
    return b"<pdfuaid:part>1</pdfuaid:part>" in metadata

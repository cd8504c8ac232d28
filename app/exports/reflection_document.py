"""Reflection sheets as one DOCX document, for an instructor who goes on writing in it."""

from collections.abc import Sequence
from io import BytesIO

from docx import Document
from docx.document import Document as DocumentType
from docx.enum.text import WD_BREAK
from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from docx.shared import Mm, Pt
from docx.table import Table
from docx.text.paragraph import Paragraph

from app.exports.plain_text import reads_from_the_right, writable
from app.exports.reflection_sheets import PacketHeading, ReflectionSheet, ResultRow, check_packet
from app.exports.typesetting import Paper

_PAPERS = {"us-letter": (Mm(215.9), Mm(279.4)), "a4": (Mm(210), Mm(297))}
_MARGIN = Mm(22)
_HEADS = ("Task", "Your answer", "Right answer", "Mark", "Points")


def reflection_document(
    sheets: Sequence[ReflectionSheet], *, heading: PacketHeading, paper: Paper = "us-letter"
) -> bytes:
    """The sheets with heading styles, in the heading's language, each on a page of its own; drawings are left
    out. The file names no author. Raises ExportError as `check_packet` does."""
    check_packet(sheets, heading)
    document = Document()
    _prepare(document, heading, paper)
    document.add_heading(writable(heading.title), level=0)
    for place, sheet in enumerate(sheets):
        if place:
            document.add_paragraph().add_run().add_break(WD_BREAK.PAGE)
        _add_sheet(document, sheet)
    content = BytesIO()
    document.save(content)
    return content.getvalue()


def _prepare(document: DocumentType, heading: PacketHeading, paper: Paper) -> None:
    properties = document.core_properties
    properties.title, properties.author, properties.comments = writable(heading.title), "", ""
    properties.language = heading.language
    language = document.styles.element.find(f".//{qn('w:lang')}")
    if language is not None:
        language.set(qn("w:val"), heading.language)
    document.styles["Normal"].font.size = Pt(11)
    section = document.sections[0]
    section.page_width, section.page_height = _PAPERS[paper]
    section.left_margin = section.right_margin = section.top_margin = section.bottom_margin = _MARGIN
    _add_page_number(section.footer.paragraphs[0])


def _add_page_number(paragraph: Paragraph) -> None:
    """ "Page 2 of 9" by fields, which the reader's program fills in."""
    for words, field in (("Page ", "PAGE"), (" of ", "NUMPAGES")):
        paragraph.add_run(words)
        element = OxmlElement("w:fldSimple")
        element.set(qn("w:instr"), field)
        paragraph._p.append(element)  # noqa: SLF001 (the package has no words for fields)


def titled(title: str, scenario: str) -> str:
    """A lab's title, and its scenario's where the title doesn't say it already."""
    return title if scenario in title else f"{title} — {scenario}"


def _add_sheet(document: DocumentType, sheet: ReflectionSheet) -> None:
    document.add_heading(writable(sheet.student_name), level=1)
    handed_in = sheet.handed_in_text or "no attempt handed in"
    for facts in (
        titled(sheet.assignment_title, sheet.scenario_title),
        f"{sheet.class_name} · {sheet.attempt_label} · {handed_in} · {sheet.score_text}",
        sheet.standing_text,
    ):
        if facts:
            document.add_paragraph(writable(facts))
    if sheet.responses:
        document.add_heading("Reflection", level=2)
    for response in sheet.responses:
        document.add_heading(writable(response.prompt), level=3)
        _add_typed(document, response.text or "Nothing written.", italic=not response.text.strip())
    if sheet.comment.strip():
        document.add_heading("The instructor’s comment", level=3)
        _add_typed(document, sheet.comment)
    if sheet.results:
        document.add_heading("Lab results", level=2)
        _add_results(document, sheet.results)


def _add_typed(document: DocumentType, text: str, *, italic: bool = False) -> None:
    """What somebody typed: every line a paragraph, from the right where its letters ask for it."""
    for line in writable(text).split("\n"):
        paragraph = document.add_paragraph()
        run = paragraph.add_run(line)
        run.italic = italic or None
        if reads_from_the_right(line):
            paragraph._p.get_or_add_pPr().append(OxmlElement("w:bidi"))  # noqa: SLF001
            run.font.rtl = True


def _add_results(document: DocumentType, results: Sequence[ResultRow]) -> None:
    table = document.add_table(rows=1, cols=len(_HEADS), style="Table Grid")
    for cell, head in zip(table.rows[0].cells, _HEADS, strict=True):
        cell.paragraphs[0].add_run(head).bold = True
    _repeat_head(table)
    for row in results:
        mark = f"{row.verdict_sign} {row.verdict_word}. {row.reason}"
        texts = (row.task, row.your_answer, row.right_answer, mark, row.points_text)
        for cell, text in zip(table.add_row().cells, texts, strict=True):
            cell.text = writable(text)


def _repeat_head(table: Table) -> None:
    """Mark the first row as the table's head: read out with each cell, and printed on every page."""
    element = OxmlElement("w:tblHeader")
    element.set(qn("w:val"), "true")
    table.rows[0]._tr.get_or_add_trPr().append(element)  # noqa: SLF001

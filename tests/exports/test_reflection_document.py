"""The document, read back by python-docx and, where that has no words for it, as XML."""

from io import BytesIO
from zipfile import ZipFile

import pytest
from docx import Document
from docx.oxml.ns import qn

from app.exports.errors import ExportError
from app.exports.reflection_document import reflection_document
from app.exports.reflection_sheets import PacketHeading, Response
from tests.exports.examples import HEADING, answered, sheet
from tests.exports.test_reflection_packet import HOSTILE


def opened(*sheets, heading=HEADING, paper="us-letter"):
    return Document(BytesIO(reflection_document(sheets, heading=heading, paper=paper)))


def headings(document) -> list[tuple[str, str]]:
    return [
        (paragraph.style.name, paragraph.text)
        for paragraph in document.paragraphs
        if paragraph.style.name.startswith(("Heading", "Title"))
    ]


def test_titles_are_headings_in_their_order():
    assert headings(opened(sheet(), sheet("Jordan Vale"))) == [
        ("Title", HEADING.title),
        *(
            place
            for name in ("Avery Stone", "Jordan Vale")
            for place in (
                ("Heading 1", name),
                ("Heading 2", "Reflection"),
                ("Heading 3", "What went otherwise than planned?"),
                ("Heading 2", "Lab results"),
            )
        ),
    ]


def test_the_scenario_is_named_once_where_the_lab_has_its_title():
    texts = [
        paragraph.text
        for paragraph in opened(sheet(), sheet(assignment_title="Two-plane balance")).paragraphs
    ]
    assert "A shake at 90 km/h — Two-plane balance" in texts
    assert "Two-plane balance" in texts


def test_a_sheet_shows_everything_that_it_was_given():
    document = opened(sheet(standing_text="returned, 3 of 4 points", comment="Well seen.\nGo on."))
    texts = [paragraph.text for paragraph in document.paragraphs]
    assert "The clip of Avery Stone slipped." in texts
    assert "returned, 3 of 4 points" in texts
    assert texts[texts.index("The instructor’s comment") + 1 :][:2] == ["Well seen.", "Go on."]
    assert "Period 3 · Attempt 2 of 3 · Tue 3 Mar 2026, 10:42 · 15 of 22 points" in texts
    [table] = document.tables
    assert [[cell.text for cell in row.cells] for row in table.rows] == [
        ["Task", "Your answer", "Right answer", "Mark", "Points"],
        [
            "Inboard mass",
            "41.5 g by Avery Stone",
            "41.2 g",
            "✓ right. Within 2.5 g: off by 0.3 g.",
            "4 of 4",
        ],
    ]


def test_the_first_row_of_results_is_the_table_s_head():
    [table] = opened(sheet()).tables
    marks = [row._tr.find(f".//{qn('w:tblHeader')}") is not None for row in table.rows]  # noqa: SLF001
    assert marks == [True, False]


def test_the_document_says_its_language_title_and_page_numbers_and_no_author():
    content = reflection_document([sheet()], heading=PacketHeading("Blätter", language="de"))
    document = Document(BytesIO(content))
    assert document.core_properties.language == "de"
    assert (document.core_properties.title, document.core_properties.author) == ("Blätter", "")
    with ZipFile(BytesIO(content)) as parts:
        assert b'<w:lang w:val="de"' in parts.read("word/styles.xml")
        footer = b"".join(parts.read(name) for name in parts.namelist() if "footer" in name)
    assert b'w:instr="PAGE"' in footer
    assert b'w:instr="NUMPAGES"' in footer


@pytest.mark.parametrize(("paper", "millimetres"), [("us-letter", (215.9, 279.4)), ("a4", (210, 297))])
def test_the_paper_is_the_one_asked_for(paper, millimetres):
    section = opened(sheet(), paper=paper).sections[0]
    assert (section.page_width.mm, section.page_height.mm) == pytest.approx(millimetres, abs=0.1)


@pytest.mark.parametrize("hostile", [*HOSTILE, "nul\x00 \ud800", "🙂", "=1+1"])
def test_what_looks_like_markup_is_written_as_typed(hostile):
    document = opened(sheet(responses=(Response("Prompt?", hostile),)))
    lines = [paragraph.text for paragraph in document.paragraphs]
    start = lines.index("Prompt?") + 1
    typed = hostile.replace("\x00", "\ufffd").replace("\ud800", "\ufffd").split("\n")
    assert lines[start : start + len(typed)] == typed


def test_a_line_in_hebrew_is_a_paragraph_from_the_right():
    document = opened(answered("שלום\nshalom"))
    marked = {
        paragraph.text: paragraph._p.find(f".//{qn('w:bidi')}") is not None  # noqa: SLF001
        for paragraph in document.paragraphs
    }
    assert (marked["שלום"], marked["shalom"]) == (True, False)


def test_four_thousand_characters_are_all_written():
    words = " ".join(f"word{number}" for number in range(500))
    assert words in [paragraph.text for paragraph in opened(answered(words)).paragraphs]


def test_an_empty_packet_is_refused():
    with pytest.raises(ExportError):
        reflection_document([], heading=HEADING)

"""Worksheets and their key as their writers make them, read back by an independent reader (pypdf)."""

from dataclasses import replace

import pytest
from pypdf import PdfReader

from app.exports.errors import ExportError
from app.exports.pictures import Pictures
from app.exports.reflection_sheets import Drawing
from app.exports.worksheets import (
    Key,
    KeyAnswer,
    Lab,
    PrintedMeasurement,
    PrintedPart,
    PrintedQuestion,
    PrintedTable,
    Worksheet,
    key_packet,
    worksheet_packet,
)
from tests.exports.examples import claims_pdf_ua, letters, pages, read, tags
from tests.exports.test_reflection_packet import CIRCLE, HOSTILE

LAB = Lab(
    title="Lab 1",
    scenario_title="One assembly",
    class_name="Auto 2",
    points_text="5 points",
    due_text="Fri, Mar 8 2030",
    cautions=(("Lifting", "Set the stands."),),
    always="Stop and ask.",
    address="http://192.168.1.20:8000/labs/assignments/aaaa",
)
TABLE = PrintedTable("Assemblies", ("Assembly", "Mass, g"), (False, True), (("A", "35"),))


def question(kind: str = "text", **changed: object) -> PrintedQuestion:
    fields: dict[str, object] = {
        "number": "1.1",
        "title": "Mass",
        "prompt": "How heavy is it?",
        "points_text": "2 points",
        "kind": kind,
        "hint": "Like 35 g",
        "unit": "g",
        "options": (),
    }
    return PrintedQuestion(**(fields | changed))  # type: ignore[arg-type]


def sheet(name: str = "Avery Stone", *questions: PrintedQuestion, **changed: object) -> Worksheet:
    part = PrintedPart("1", "Weigh it", "Look **closely**.", (), questions or (question(),))
    made = Worksheet(name, "Attempt 1", "It shakes.", (("Vehicle", "Sedan"),), TABLE, (part,))
    return replace(made, **changed)


def printed(*sheets: Worksheet, lab: Lab = LAB) -> PdfReader:
    return read(worksheet_packet(sheets, lab=lab))


def test_a_sheet_shows_job_card_cautions_text_and_question_with_its_unit() -> None:
    [text] = pages(printed(sheet()))
    for words in (
        *("Avery Stone", "Attempt 1", "It shakes.", "Sedan", "Assemblies", "35", "Lifting. Set the stands."),
        *("Stop and ask.", "1 Weigh it", "Look closely.", "1.1 Mass", "How heavy is it?", "2 points", "g"),
        *("Like 35 g", "Fri, Mar 8 2030", "SHEET 1 of 1", "PACKET PAGE 1 of 1"),
    ):
        assert words in text


def test_the_scenario_is_named_once_where_the_lab_has_its_title() -> None:
    [other] = pages(printed(sheet()))
    assert "Lab 1 — One assembly" in other
    [same] = pages(printed(sheet(), lab=replace(LAB, title="Lab 1: One assembly")))
    assert "Lab 1: One assembly" in same
    assert "— One assembly" not in same


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("bench", "Done at the bench, on the screen."),
        ("order", "Number the steps in their order."),
        ("choices", "Tick each that fits."),
        ("placement", "front of the vehicle"),
    ],
)
def test_each_kind_of_answer_says_how_it_is_given_on_paper(kind: str, words: str) -> None:
    [text] = pages(printed(sheet("Avery Stone", question(kind, options=("One way", "Another way")))))
    assert words in text
    if kind in ("order", "choices"):
        assert "One way" in text


@pytest.mark.parametrize(("kind", "drawn"), [("choice", 2), ("order", 2), ("placement", 4), ("text", 1)])
def test_each_answer_has_its_boxes(kind: str, drawn: int) -> None:
    def boxes(kind: str) -> int:
        [page] = printed(sheet("Avery Stone", question(kind, options=("One", "Two")))).pages
        content = page.get_contents().get_data()
        return content.count(b" re\n") + content.count(b"\nh\n")

    assert boxes(kind) == boxes("bench") + drawn


def test_a_long_narrow_table_stands_in_pieces_side_by_side() -> None:
    rows = tuple((f"{angle}°", f"{angle}.5") for angle in range(0, 360, 10))
    table = PrintedTable("Readings", ("Angle", "Force, N"), (True, True), rows)
    measured = PrintedMeasurement("Trace", "", (), (table,))
    [text] = pages(printed(sheet(parts=(PrintedPart("1", "Trace", "", (measured,), ()),))))
    assert text.count("Force, N") == 3  # 36 rows, at most 14 in one piece
    assert all(f"{angle}.5" in text for angle in range(0, 360, 10))


@pytest.mark.parametrize("hostile", HOSTILE)
def test_what_looks_like_markup_is_printed_as_typed(hostile: str) -> None:
    hostile = hostile.replace("\n", " ")
    measured = PrintedMeasurement(
        hostile, hostile, (Drawing(hostile, CIRCLE, hostile),), (replace(TABLE, caption=hostile),)
    )
    asked = question("choice", title=hostile, prompt=hostile, options=(hostile,))
    reader = printed(
        sheet(hostile, parts=(PrintedPart("1", hostile, "", (measured,), (asked,)),), concern=hostile)
    )
    text = letters("".join(pages(reader)))
    assert text.count(letters(hostile)) >= 10
    assert claims_pdf_ua(reader)


def test_the_packet_is_tagged_titled_and_gives_each_picture_its_words() -> None:
    measured = PrintedMeasurement("Seen", "", (Drawing("Wheel", CIRCLE, "A wheel"),), ())
    reader = printed(sheet(parts=(PrintedPart("1", "See", "", (measured,), ()),)), sheet("Jordan Vale"))
    assert claims_pdf_ua(reader)
    assert reader.trailer["/Root"]["/Lang"] == "en"
    assert reader.metadata is not None
    assert reader.metadata.title == "Worksheets: Lab 1"
    alternatives = [str(tag["/Alt"]) for tag in tags(reader) if "/Alt" in tag]
    assert alternatives == [f"QR code of the address {LAB.address}", "A wheel", *alternatives[:1]]
    assert [mark.title for mark in reader.outline] == ["Avery Stone", "Jordan Vale"]


def test_equal_pictures_are_one_file() -> None:
    pictures = Pictures()
    names = [pictures.add(svg) for svg in (CIRCLE, CIRCLE, CIRCLE.replace("3", "2"))]
    assert names[0] == names[1] != names[2]
    assert len(pictures.files) == 2


def test_the_key_names_students_answers_and_points() -> None:
    keys = [
        Key(name, "Attempt 1", (KeyAnswer("1.1", "Mass", "2", f"35 g for {name}"),))
        for name in ("Avery Stone", "Jordan Vale")
    ]
    reader = read(key_packet(keys, lab=LAB))
    text = " ".join(pages(reader))
    for name in ("Avery Stone", "Jordan Vale"):
        assert f"35 g for {name}" in text
    assert "page 1 of 1" in text
    assert claims_pdf_ua(reader)
    assert [tag.get("/S") for tag in tags(reader)].count("/Table") == 2


@pytest.mark.parametrize(("answers", "pages_of_three"), [(11, 1), (20, 2), (90, 5)])
def test_a_key_is_broken_only_where_it_is_longer_than_a_page(answers: int, pages_of_three: int) -> None:
    told = tuple(KeyAnswer(f"1.{number}", "Mass", "2", "35 g") for number in range(answers))
    names = ("Avery Stone", "Jordan Vale", "Noel Reyes")
    printed = pages(read(key_packet([Key(name, "Attempt 1", told) for name in names], lab=LAB)))
    assert len(printed) == pages_of_three
    assert sum(page.count("35 g") for page in printed) == 3 * answers
    for name in names:
        whole = [page for page in printed if name in page and page.count("35 g") % answers == 0]
        assert len(whole) == (answers < 90)


@pytest.mark.parametrize(
    ("sheets", "lab", "field"),
    [
        ([], LAB, "sheets"),
        ([sheet(), sheet(" ")], LAB, "sheets[1].student_name"),
        ([sheet()], replace(LAB, address=" "), "address"),
        ([sheet()], replace(LAB, address="http://x/" + "a" * 5000), "address"),
    ],
)
def test_what_cannot_be_printed_is_refused_by_its_field(
    sheets: list[Worksheet], lab: Lab, field: str
) -> None:
    with pytest.raises(ExportError) as refused:
        worksheet_packet(sheets, lab=lab)
    assert refused.value.field == field

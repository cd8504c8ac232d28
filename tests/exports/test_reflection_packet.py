"""The packet, read back from the PDF by an independent reader (pypdf)."""

from time import process_time

import pytest

from app.exports.errors import ExportError
from app.exports.reflection_packet import reflection_packet
from app.exports.reflection_sheets import Drawing, PacketHeading, Response
from tests.exports.examples import (
    HEADING,
    answered,
    claims_pdf_ua,
    letters,
    packet,
    pages,
    read,
    result,
    sheet,
    tags,
)

NAMES = ["Avery Stone", "Jordan Vale", "Robin Marsh"]
CIRCLE = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><circle cx="4" cy="4" r="3"/></svg>'
# In points, on Letter, 612 wide: margins of 24 and 14 mm, two columns 8 mm apart; a W as measured at 10 pt.
LEFT_COLUMN = (68.0, 308.8)
WIDTH_OF_W = 9.5

HOSTILE = [
    '#import "x"',
    '#panic() #sys.inputs #read("data.json")',
    "$ $ and $x^2$",
    "\\ \\u{41} \\* \\n",
    "*not strong* _not slanted_ `not code` = not a heading",
    "- no list\n+ none either\n/ nor: this",
    "<label> @reference https://example.org/ // comment /* more */ ~ -- ---",
    "[bracket] {brace} ] } ) \" ' ''",
    '{"json": "too"}\\" }',
    "&amp; <b>bold</b> &#65; ]]>",
]


def test_each_student_has_pages_with_the_own_words_and_results_and_no_others() -> None:
    texts = pages(packet(*map(sheet, NAMES)))
    assert len(texts) == 3
    for name, text in zip(NAMES, texts, strict=True):
        assert f"The clip of {name} slipped." in text
        assert f"41.5 g by {name}" in text
        assert not [other for other in NAMES if other != name and other in text]


def test_a_sheet_shows_everything_that_it_was_given() -> None:
    (text,) = pages(packet(sheet()))
    for words in (
        *("Period 3", "A shake at 90 km/h", "Two-plane balance", "Attempt 2 of 3", "15 of 22 points"),
        *("Tue 3 Mar 2026, 10:42", "What went otherwise than planned?", "Inboard mass"),
        *("41.5 g", "41.2 g", "✓ right", "4 of 4", "Within 2.5 g: off by 0.3 g."),
    ):
        assert words in text


def test_sheets_are_numbered_by_student_and_pages_by_packet() -> None:
    long = sheet("Jordan Vale", responses=(Response("Prompt?", "Much to say about it. " * 250),))
    texts = pages(packet(sheet(), long, sheet("Robin Marsh")))
    assert len(texts) == 4
    for text, number in zip(texts, ("1 of 1", "1 of 2", "2 of 2", "1 of 1"), strict=True):
        assert f"SHEET {number}" in text
    for place, text in enumerate(texts, 1):
        assert f"PACKET PAGE {place} of 4" in text
    assert "Jordan Vale" in texts[2]


def test_no_attempt_is_said_so() -> None:
    (text,) = pages(packet(sheet(handed_in_text=None, results=())))
    assert "no attempt handed in" in text


@pytest.mark.parametrize("empty", ["", "  \n\t "])
def test_an_empty_answer_leaves_lines_to_write_on(empty: str) -> None:
    def lines_drawn(text: str) -> int:
        (page,) = packet(answered(text)).pages
        return page.get_contents().get_data().count(b"\nl\n") + page.get_contents().get_data().count(b" l\n")

    (text,) = pages(packet(answered(empty)))
    assert "Write here:" in text
    assert lines_drawn(empty) == lines_drawn("Written.") + 5


@pytest.mark.parametrize(
    ("paper", "points"), [("us-letter", (612, 792)), ("a4", (595.28, 841.89))]
)  # ANSI/ASME Y14.1 size A is 8.5 in by 11 in; ISO 216 A4 is 210 mm by 297 mm; 72 points an inch
def test_the_paper_is_the_one_asked_for(paper: str, points: tuple[float, float]) -> None:
    box = read(reflection_packet([sheet()], heading=HEADING, paper=paper)).pages[0].mediabox  # type: ignore[arg-type]
    assert (float(box.width), float(box.height)) == pytest.approx(points, abs=0.01)


def test_the_packet_has_one_bookmark_a_student_that_leads_to_the_first_page() -> None:
    reader = packet(*map(sheet, NAMES))
    marks = {mark.title: reader.get_destination_page_number(mark) for mark in reader.outline}
    assert marks == {"Avery Stone": 0, "Jordan Vale": 1, "Robin Marsh": 2}


def test_the_packet_is_tagged_titled_in_a_language_and_claims_pdf_ua() -> None:
    reader = read(reflection_packet([sheet()], heading=PacketHeading("Blätter", language="de")))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or root["/MarkInfo"]["/Marked"].value is True
    assert root["/Lang"] == "de"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.metadata is not None
    assert reader.metadata.title == "Blätter"
    assert claims_pdf_ua(reader)


def test_results_are_a_table_with_heads_and_prompts_are_headings() -> None:
    kinds = [tag.get("/S") for tag in tags(packet(sheet()))]
    assert kinds.count("/Table") == 1
    assert kinds.count("/TH") == 3
    assert (kinds.count("/H1"), kinds.count("/H2"), kinds.count("/H3")) == (1, 2, 1)


def test_a_drawing_is_shown_with_its_title_and_alternative_text() -> None:
    reader = packet(sheet(drawings=(Drawing("Wheel face", CIRCLE, 'A wheel, "seen" from outboard'),)))
    assert "Wheel face" in pages(reader)[0]
    assert [tag["/Alt"] for tag in tags(reader) if "/Alt" in tag] == ['A wheel, "seen" from outboard']


@pytest.mark.parametrize("hostile", HOSTILE)
def test_what_looks_like_markup_is_printed_as_typed(hostile: str) -> None:
    reader = packet(
        sheet(
            hostile.replace("\n", " "),
            class_name=hostile,
            assignment_title=hostile,
            responses=(Response(hostile, f"before {hostile} after"),),
            results=(result(hostile, hostile),),
            drawings=(Drawing(hostile, CIRCLE, hostile),),
        )
    )
    text = letters("".join(pages(reader)))
    assert letters(f"before {hostile} after") in text
    assert text.count(letters(hostile)) >= 7  # name, titles, prompt, answer, task, your answer, drawing


def test_text_in_other_scripts_and_unseen_characters_is_printed() -> None:
    words = "Ünïcödé Ђорђе Αθήνα שלום مرحبا zero\u200bwidth joined\u200djoiner \u202eturned\u202c ≤ 5 µm ⌀"
    reader = packet(answered(words))
    text = "".join(pages(reader))
    for word in ("Ünïcödé", "Ђорђе", "Αθήνα", "zero", "width", "turned ≤ 5 µm ⌀"):
        assert word in text
    assert sorted(letter for letter in text if "א" <= letter <= "ת") == sorted("שלום")
    assert claims_pdf_ua(reader)


def test_a_line_in_hebrew_starts_at_the_right() -> None:
    def starts(text: str) -> list[float]:
        found: list[float] = []

        def visit(operator: bytes, _operands: object, cm: list[float], tm: list[float]) -> None:
            if operator in (b"Tj", b"TJ"):
                found.append(cm[4] + tm[4])

        packet(answered(text)).pages[0].extract_text(visitor_operand_before=visit)
        return sorted(found)

    (right,) = set(starts("\n\nש")) - set(starts(""))
    assert 290 < right < LEFT_COLUMN[1]


def test_control_characters_are_shown_as_replaced_and_line_ends_are_kept() -> None:
    reader = packet(answered("nul\x00bell\x07end\r\nsecond\rthird\u2028fourth\x0cfifth \ud800 lone"))
    text = reader.pages[0].extract_text()
    assert "nul\ufffdbell\ufffdend\nsecond\nthird\nfourth\nfifth \ufffd lone" in text
    assert claims_pdf_ua(reader)


def test_signs_that_no_font_has_are_named_and_the_packet_still_claims_pdf_ua() -> None:
    never_drawn = (
        "\U0001f6db"  # unassigned in Unicode 15; a symbol that some font of the machine may have is not
    )
    reader = packet(answered(f"a {never_drawn} b \ud7ff c"), sheet("Jordan Vale"))
    assert "a [U+1F6DB] b [U+D7FF] c" in pages(reader)[0]
    assert claims_pdf_ua(reader)


def test_twenty_thousand_characters_are_all_printed() -> None:
    words = " ".join(f"word{number}" for number in range(2400)) + " " + "x" * 400
    assert len(words) > 20_000
    texts = [page.extract_text() for page in packet(answered(words)).pages]
    text = letters("".join(texts))
    missing = [number for number in range(2400) if f"word{number}" not in text]
    assert missing == []
    assert text.count("x" * 20) >= 10


def test_one_word_of_twenty_thousand_letters_stays_inside_its_column() -> None:
    pages_of_it = [page.extract_text().splitlines() for page in packet(answered("W" * 20_000)).pages]
    drawn = [line.count("W") for lines in pages_of_it for line in lines if line.startswith("WW")]
    assert sum(drawn) == 20_000
    assert max(drawn) * WIDTH_OF_W < LEFT_COLUMN[1] - LEFT_COLUMN[0]


@pytest.mark.parametrize(
    ("sheets", "heading", "field"),
    [
        ([], HEADING, "sheets"),
        ([sheet(" ")], HEADING, "sheets[0].student_name"),
        ([sheet(), sheet("\u200b")], HEADING, "sheets[1].student_name"),
        ([sheet(responses=(Response("", "text"),))], HEADING, "sheets[0].responses[0].prompt"),
        ([sheet(drawings=(Drawing("Wheel", CIRCLE, ""),))], HEADING, "sheets[0].drawings[0].alternative"),
        ([sheet()], PacketHeading(""), "heading.title"),
        ([sheet()], PacketHeading("Title", language="english"), "heading.language"),
    ],
)
def test_what_cannot_be_printed_is_refused_by_the_name_of_the_field(
    sheets: list, heading: PacketHeading, field: str
) -> None:
    with pytest.raises(ExportError) as refused:
        reflection_packet(sheets, heading=heading)
    assert refused.value.field == field
    assert refused.value.message


def test_the_same_sheets_give_the_same_bytes() -> None:
    first, second = (reflection_packet([sheet()], heading=HEADING) for _ in range(2))
    assert first == second


def test_a_hundred_and_fifty_sheets_of_two_pages_take_less_than_five_seconds() -> None:
    sheets = [
        sheet(
            f"Student {number}",
            responses=tuple(
                Response(
                    f"Prompt {prompt}?",
                    f"Student {number} on {prompt}: " + f"{number * prompt} mm and so on. " * 60,
                )
                for prompt in range(1, 5)
            ),
            results=tuple(result(f"Task {task}", f"{number + task / 7:.2f} g") for task in range(6)),
        )
        for number in range(150)
    ]
    start = (
        process_time()
    )  # the work of all threads, not below the time it takes, and the same on a busy machine
    pdf = reflection_packet(sheets, heading=HEADING)
    seconds = process_time() - start
    assert len(read(pdf).pages) == 300
    assert seconds < 5

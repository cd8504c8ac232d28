"""Paper: worksheets with their key, blank reflection sheets, and one student's whole record as a file."""

import json
import re
import zipfile
from io import BytesIO
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Any

import pytest
from pypdf import PdfReader

from tests.browser.term.school import Room, School
from tests.browser.term.story import LABS, QUESTIONS, WITH_SHEETS
from tests.exports.examples import claims_pdf_ua, letters

TO_COME = 8
"""A lab that nobody but one student has begun: three dial readings and what they come to."""
UNSEEN = "\u200b"
"""A place where a long word may break."""


def worksheets_and_key(school: School, room: Room) -> None:
    """A sheet for each student with the own numbers, from which the key's answers are reckoned by hand: for
    every third one, because reading paper takes its time."""
    address = f"/teaching/assignments/{room.labs[TO_COME]}/worksheets"
    content = school.file(f"{address}.pdf")
    keys = in_key(school.file(f"{address}/key.pdf"))
    names = [each.name for each in sorted(room.pupils, key=lambda each: each.sort_name)]
    assert [mark.title for mark in PdfReader(BytesIO(content)).outline] == list(keys) == names
    sheets = by_title_block(content, every=3)
    assert list(sheets) == names[::3]
    for name, sheet in sheets.items():
        assert LABS[TO_COME].title in sheet
        assert room.title in sheet
        by_hand(readings_on(sheet), keys[name])
    assert len({str(answers) for answers in keys.values()}) == len(names), "everybody has own numbers"


def by_hand(readings: dict[str, dict[int, float]], key: dict[str, tuple[str, str]]) -> None:
    """What a student with a pencil gets: key by the question's number, with its points.

    The total is the largest less the smallest reading. C adds up reading times cosine, S reading times sine;
    the first harmonic from peak to peak is the long side of C and S times 4, over the 12 readings, and the
    high spot is its direction.
    """
    totals, harmonics, high_spots = {}, {}, {}
    for letter, read in readings.items():
        c = sum(reading * cos(radians(angle)) for angle, reading in read.items())
        s = sum(reading * sin(radians(angle)) for angle, reading in read.items())
        totals[letter] = max(read.values()) - min(read.values())
        harmonics[letter] = hypot(c, s) * 4 / 12
        high_spots[letter] = degrees(atan2(s, c)) % 360
    for place, letter in enumerate("ABC", 1):
        words, points = key[f"1.{place}"]
        assert (words, points) == (f"Total of {letter} {totals[letter]:.3f} in", "1")
        words, points = key[f"2.{place}"]
        assert (words.partition(" 0.")[0], points) == (f"First harmonic of {letter}", "2")
        # Half of the last digit that is shown.
        assert float(words.split()[-2]) == pytest.approx(harmonics[letter], abs=0.000501)
    assert key["1.4"] == (f"The largest total {max(totals, key=totals.__getitem__)}", "1")
    assert key["2.4"] == (f"The largest first harmonic {max(harmonics, key=harmonics.__getitem__)}", "2")
    words, points = key["2.5"]
    shown = float(words.removeprefix("High spot of A ").removesuffix("°"))
    assert abs((shown - high_spots["A"] + 180) % 360 - 180) <= 0.501
    assert points == "1"
    assert key["3.1"] == ("Two high spots As two shakes per turn", "1")
    assert key["3.2"] == ("What turning cures For the first harmonic", "1")
    assert len(key) == 11


def readings_on(sheet: str) -> dict[str, dict[int, float]]:
    """Dial readings in inches by assembly and angle, as printed."""
    tables = re.split(r"Assembly ([ABC]): dial readings", sheet)[1:]
    readings = {
        letter: {
            int(angle): float(reading.replace("−", "-"))
            for angle, reading in re.findall(r"^(\d+)° \d+:\d\d (−?\d\.\d{3}) ", text, re.MULTILINE)
        }
        for letter, text in zip(tables[::2], tables[1::2], strict=True)
    }
    assert {letter: sorted(read) for letter, read in readings.items()} == {
        letter: list(range(0, 360, 30)) for letter in "ABC"
    }
    return readings


def by_title_block(content: bytes, *, every: int = 1) -> dict[str, str]:
    """The text of the pages of every so many of the students; each page names its student first."""
    reader = PdfReader(BytesIO(content))
    assert claims_pdf_ua(reader)
    starts = [reader.get_destination_page_number(mark) for mark in reader.outline]
    ends = [*starts[1:], len(reader.pages)]
    spans = list(zip(starts, ends, strict=True))[::every]
    texts: dict[str, str] = {}
    for page in (reader.pages[number] for span in spans for number in range(*span)):
        label, name, text = page.extract_text().replace(UNSEEN, "").split("\n", 2)
        assert label == "STUDENT"
        texts[name] = texts.get(name, "") + text + "\n"
    return texts


def in_key(content: bytes) -> dict[str, dict[str, tuple[str, str]]]:
    """By student and number of the question: its title with the answer, and its points."""
    reader = PdfReader(BytesIO(content))
    assert claims_pdf_ua(reader)
    keys: dict[str, dict[str, tuple[str, str]]] = {}
    for line in "\n".join(page.extract_text() for page in reader.pages).replace(UNSEEN, "").split("\n"):
        if line.endswith("  Attempt 1"):
            answers = keys[line.removesuffix("  Attempt 1")] = {}
        elif found := re.fullmatch(r"(\d\.\d) (.+) (\d)", line):
            answers[found[1]] = (found[2], found[3])
    return keys


def blank_sheets(school: School, room: Room) -> None:
    """A sheet to write on for each student, with the three questions."""
    content = school.file(f"/teaching/assignments/{room.labs[WITH_SHEETS]}/reflections/blank.pdf")
    sheets = by_title_block(content)
    assert list(sheets) == [each.name for each in sorted(room.pupils, key=lambda each: each.sort_name)]
    for name, text in sheets.items():
        assert all(letters(question) in letters(text) for question in QUESTIONS), name


def records(school: School, room: Room) -> None:
    """Row by row and cell by cell what the database holds about two students, and all of it."""
    for kind in ("extended", "by hand"):
        [pupil] = room.of_kind(kind)
        address = f"/teaching/classes/{room.class_id}/students/{room.student_id(pupil)}/record.zip"
        with zipfile.ZipFile(BytesIO(school.file(address))) as archive:
            [name] = [each for each in archive.namelist() if each.endswith(".json")]
            record = json.loads(archive.read(name))
            page = archive.read(name.replace(".json", ".html")).decode()
        assert (record["display_name"], record["class_names"]) == (pupil.name, [room.title])
        assert page.count(f"<td>{room.title}</td>") == len(record["tables"]["attempt"])
        assert re.search(rf"in {room.title}, as of \w{{3}}, \w{{3}} \d+ 20\d\d, \d+:\d\d [AP]M\. Times", page)
        assert ("<h2>Grades set by hand</h2>" in page) == (kind == "by hand")
        _as_stored(school, record["tables"], room.persons[pupil.name].id)


OF_A_STUDENT = {
    "person": "SELECT * FROM person WHERE id = :key",
    "enrolment": "SELECT * FROM enrolment WHERE person_id = :key",
    "attempt": "SELECT * FROM attempt WHERE person_id = :key",
    "event": "SELECT event.* FROM event JOIN attempt ON attempt.id = attempt_id WHERE person_id = :key",
    "mark": "SELECT mark.* FROM mark JOIN attempt ON attempt.id = attempt_id WHERE person_id = :key",
    "assignment_exception": "SELECT * FROM assignment_exception WHERE person_id = :key",
    "hand_grade": "SELECT * FROM hand_grade WHERE person_id = :key",
    "reflection": "SELECT * FROM reflection WHERE person_id = :key",
    "reflection_sheet": "SELECT * FROM reflection_sheet WHERE person_id = :key",
    "reflection_step": """SELECT reflection_step.* FROM reflection_step
        JOIN reflection_sheet ON reflection_sheet.id = sheet_id WHERE person_id = :key""",
}
"""By table: a student's rows of a term."""


def _as_stored(school: School, tables: dict[str, list[dict[str, Any]]], key: int) -> None:
    for table, question in OF_A_STUDENT.items():
        kept = sorted(school.ask(question, key=key), key=lambda row: row["id"])
        told = sorted(tables.get(table, []), key=lambda row: row["id"])
        assert [row["id"] for row in told] == [row["id"] for row in kept], table
        for row, cells in zip(kept, told, strict=True):
            for column, cell in cells.items():
                assert _plain(cell) == _plain(row[column]), (table, column)


def _plain(cell: Any) -> Any:
    """JSON and the database write objects, yes and no, and moments each in their way."""
    if isinstance(cell, dict | list):
        return json.dumps(cell, sort_keys=True)
    if isinstance(cell, str) and cell.startswith(("{", "[")):
        return json.dumps(json.loads(cell), sort_keys=True)
    if isinstance(cell, str):
        return cell.replace("T", " ").removesuffix("+00:00").removesuffix(".000000").lower()
    return cell

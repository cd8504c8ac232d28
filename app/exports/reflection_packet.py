"""Reflection sheets as one packet to print: what each student wrote beside the own lab results."""

from collections.abc import Sequence
from dataclasses import asdict

from app.exports.pictures import Pictures
from app.exports.reflection_sheets import PacketHeading, ReflectionSheet, check_packet
from app.exports.typesetting import Paper, typeset

LINES_BESIDE_RESULTS = 5
LINES_ON_A_BLANK_SHEET = 8


def reflection_packet(
    sheets: Sequence[ReflectionSheet],
    *,
    heading: PacketHeading,
    paper: Paper = "us-letter",
    lines: int = LINES_BESIDE_RESULTS,
) -> bytes:
    """The packet as a tagged PDF with one bookmark a sheet, each sheet starting on a new page.

    lines: ruled under a prompt where nothing is written. Raises ExportError as `check_packet` does.
    """
    check_packet(sheets, heading)
    pictures = Pictures()
    students = [_student(sheet, pictures) for sheet in sheets]
    return typeset(
        "reflection_packet.typ",
        {
            "title": heading.title,
            "language": heading.language,
            "paper": paper,
            "lines": lines,
            "students": students,
        },
        pictures.files,
    )


def _student(sheet: ReflectionSheet, pictures: Pictures) -> dict[str, object]:
    """What the template is told of one sheet; its drawings are added to `pictures`."""
    drawings = [
        {"title": drawing.title, "file": pictures.add(drawing.svg), "alternative": drawing.alternative}
        for drawing in sheet.drawings
    ]
    return asdict(sheet) | {"drawings": drawings}

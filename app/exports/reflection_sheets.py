"""Reflection sheets as every writer takes them: plain words, all formatted already."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from app.exports.errors import ExportError, require_visible

_LANGUAGE = re.compile("[a-z]{2,3}")


@dataclass(frozen=True)
class PacketHeading:
    """What names the whole packet: its title, and the language that students write in (such as "en")."""

    title: str
    language: str = "en"


@dataclass(frozen=True)
class Response:
    """A prompt and what the student wrote; an empty text leaves ruled lines to write on."""

    prompt: str
    text: str


@dataclass(frozen=True)
class ResultRow:
    """One answer of the lab as marked; every value already formatted with its unit."""

    task: str
    your_answer: str
    right_answer: str
    verdict_sign: str
    verdict_word: str
    points_text: str
    reason: str


@dataclass(frozen=True)
class Drawing:
    """A self-contained SVG under its title, and the text that stands for it where it cannot be seen."""

    title: str
    svg: str
    alternative: str


@dataclass(frozen=True)
class ReflectionSheet:
    """All that is printed for one student.

    handed_in_text: of the lab, local time; None: no attempt handed in. standing_text: how the sheet itself
    stands, with its points; comment: the instructor's; both may be empty.
    """

    student_name: str
    class_name: str
    assignment_title: str
    scenario_title: str
    attempt_label: str
    handed_in_text: str | None
    score_text: str
    responses: tuple[Response, ...]
    results: tuple[ResultRow, ...]
    drawings: tuple[Drawing, ...] = ()
    standing_text: str = ""
    comment: str = ""


def check_packet(sheets: Sequence[ReflectionSheet], heading: PacketHeading) -> None:
    """Raise ExportError when there is no sheet, when the title, a name, a prompt or the alternative text of a
    drawing is empty, and when the language is not a code."""
    if not sheets:
        raise ExportError("sheets", "there is no sheet to print; choose at least one student")
    require_visible("heading.title", heading.title, "give the packet a title")
    if not _LANGUAGE.fullmatch(heading.language):
        raise ExportError("heading.language", "give a language code of two or three letters, such as en")
    for number, sheet in enumerate(sheets):
        field = f"sheets[{number}]"
        require_visible(f"{field}.student_name", sheet.student_name, "give the student a name")
        for place, response in enumerate(sheet.responses):
            require_visible(f"{field}.responses[{place}].prompt", response.prompt, "write the prompt")
        for place, drawing in enumerate(sheet.drawings):
            require_visible(
                f"{field}.drawings[{place}].alternative",
                drawing.alternative,
                "say in words what the drawing shows",
            )
